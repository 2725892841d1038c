#include "engine/document/seam_files/own_marks.h"

#include <fmt/format.h>

#include "engine/base/units.h"

namespace pontata {

namespace {

constexpr const char* kApplication = "PONTATA";
constexpr std::size_t kLongestPart = 200;  // DXF Reference, "Extended Data": a string holds at most 255 bytes

// A text of words: "key text." in as many parts as it takes; the point keeps blanks at its end.
void add_parts(std::vector<std::pair<int, std::string>>& groups, const std::string& key, const std::string& text) {
  for (std::size_t from = 0; from < text.size(); from += kLongestPart)
    groups.emplace_back(1000, key + " " + text.substr(from, kLongestPart) + ".");
}

}  // namespace

std::optional<double> marked_rate(std::string_view text) {
  const auto rate = parse_number(text);
  return rate ? std::optional(*rate) : std::nullopt;
}

OwnMarks dxf_marks(const DxfRecord& entity) {
  OwnMarks marks;
  bool ours = false;
  std::string name;
  for (const auto& [code, value] : entity.groups) {
    if (code == 1001) ours = value == kApplication;
    if (!ours || code != 1000 || !value.ends_with('.')) continue;
    const std::size_t blank = value.find(' ');
    if (blank == std::string_view::npos) continue;
    const std::string_view word = value.substr(0, blank), text = value.substr(blank + 1, value.size() - blank - 2);
    if (word == "key") marks.key = text;
    if (word == "kind") marks.kind = text;
    if (word == "traced") marks.traced = text;
    if (word == "label") marks.label = text;
    if (word == "rate") marks.rate = text;
    if (word == "subject") marks.subject = text;
    if (word == "name") name += text;
  }
  marks.name = dxf_text(name);
  return marks;
}

std::vector<std::pair<int, std::string>> dxf_mark_groups(const OwnMarks& marks) {
  std::vector<std::pair<int, std::string>> groups{{1001, kApplication}};
  add_parts(groups, "key", marks.key);
  add_parts(groups, "kind", marks.kind);
  add_parts(groups, "traced", marks.traced);
  add_parts(groups, "label", marks.label);
  add_parts(groups, "rate", marks.rate);
  add_parts(groups, "subject", marks.subject);
  add_parts(groups, "name", dxf_ascii(marks.name));
  return groups;
}

std::string dxf_ascii(std::string_view utf8) {
  std::string out;
  for (std::size_t i = 0; i < utf8.size();) {
    const auto byte = static_cast<unsigned char>(utf8[i]);
    const std::size_t size = byte < 0x80 ? 1 : byte < 0xe0 ? 2 : byte < 0xf0 ? 3 : 4;
    unsigned code = size == 1 ? byte : byte & (0xffu >> (size + 1));
    for (std::size_t k = 1; k < size && i + k < utf8.size(); ++k)
      code = (code << 6) | (static_cast<unsigned char>(utf8[i + k]) & 0x3fu);
    if (size == 1)
      out += utf8[i];
    else
      out += size == 4 ? "?" : fmt::format("\\U+{:04X}", code);
    i += size;
  }
  return out;
}

}  // namespace pontata
