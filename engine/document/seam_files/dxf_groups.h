// ASCII DXF as records of groups.
//
// Based on: "DXF Reference", Autodesk, 2012 (AC1027), chapters "DXF Format" and "ASCII DXF Files": a file is pairs of
// lines, a group code and its value; a group of code 0 begins a record; 999 is a comment.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "engine/base/result.h"

namespace pontata {

struct DxfGroup {
  int code = 0;
  std::string_view value;  // without blanks about it
};

struct DxfRecord {
  std::string kind;              // value of its group 0
  std::size_t line = 0;          // of that, from 1
  std::vector<DxfGroup> groups;  // the others, in order

  // The first group of a code; 0 or `otherwise` where it is not there. `sound` turns false on what is no finite number.
  std::string_view text(int code) const;
  double number(int code, double otherwise, bool& sound) const;
  int whole(int code, int otherwise, bool& sound) const;
  bool has(int code) const;
};

std::optional<double> dxf_number(std::string_view text);  // finite

// Text with \U+XXXX escapes and, where it is no UTF-8, Latin letters, as UTF-8.
std::string dxf_text(std::string_view value);

class DxfReader {
 public:
  explicit DxfReader(std::string_view bytes) : bytes_(bytes) {}
  // The next record; nullopt after the last line. A problem names the line.
  Result<std::optional<DxfRecord>> next();
  double share() const { return bytes_.empty() ? 1 : static_cast<double>(at_) / static_cast<double>(bytes_.size()); }
  std::size_t line() const { return line_; }

 private:
  bool take_line(std::string_view& text);
  Result<std::optional<DxfGroup>> group();
  std::string_view bytes_;
  std::size_t at_ = 0, line_ = 0;
  std::optional<std::pair<std::string, std::size_t>> begun_;  // group 0 read ahead, and its line
};

}  // namespace pontata
