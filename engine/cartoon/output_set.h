// Files that appear together or not at all.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "engine/base/result.h"

namespace pontata {

// Files are made under other names in their folder and take their own when all of them are there; what was begun and
// not committed is removed, and so is a folder that was made for it.
class OutputSet {
 public:
  // Tells whether this path may be written; asked for every file before the first takes its name.
  using MayWrite = std::function<Outcome(const std::string& path)>;

  // Makes the folder where it is missing. Refuses one that cannot be made or written to.
  static Result<OutputSet> open(const std::string& folder, MayWrite may_write = {});
  OutputSet(OutputSet&&) noexcept;
  OutputSet& operator=(OutputSet&&) = delete;
  OutputSet(const OutputSet&) = delete;
  ~OutputSet();

  // Path to write the file `name` (such as "cartoon.pdf") to; it keeps its extension.
  std::string add(const std::string& name);
  // The same for "stem-number" + extension, one of a row counted from 1. Files that an earlier, longer row left behind
  // it are removed on commit, so that no old sheet lies among the new ones.
  std::string add_numbered(const std::string& stem, int number, const std::string& extension);
  // Renames all into place; their paths, in the order they were added. When one cannot take its name, all that was
  // there before is back.
  Result<std::vector<std::string>> commit();

 private:
  OutputSet(std::string folder, std::vector<std::string> made, MayWrite may_write)
      : folder_(std::move(folder)), made_(std::move(made)), may_write_(std::move(may_write)) {}
  std::string path_of(const std::string& name) const;
  std::string draft_of(const std::string& name) const;
  std::string old_of(const std::string& name) const;
  Outcome check() const;
  std::vector<std::string> left_over() const;

  std::string folder_;
  std::vector<std::string> made_;  // folders made for this, the innermost first
  MayWrite may_write_;
  std::vector<std::string> names_;
  std::map<std::pair<std::string, std::string>, int> rows_;  // stem and extension: the last number
};

}  // namespace pontata
