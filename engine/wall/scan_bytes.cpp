#include "engine/wall/scan_bytes.h"

#include <fmt/format.h>

#include <filesystem>
#include <fstream>

namespace pontata {
namespace {

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n' || c == '\v' || c == '\f'; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }

}  // namespace

Result<std::vector<unsigned char>> read_scan_bytes(const std::string& path) {
  std::error_code error;
  if (!std::filesystem::is_regular_file(path, error))
    return Problem{"there is no such file", path, "Check the name and the folder"};
  std::ifstream file(path, std::ios::binary | std::ios::ate);
  if (!file) return Problem{"the file cannot be opened", path, "Check that you may read it"};
  const std::streamoff size = file.tellg();
  if (size > std::streamoff{0xffffffff})
    return Problem{"the file is larger than 4 GB", path, "Thin the scan, or cut it to the painted wall"};
  std::vector<unsigned char> bytes(static_cast<std::size_t>(size));
  file.seekg(0);
  if (size > 0) file.read(reinterpret_cast<char*>(bytes.data()), size);
  if (!file) return Problem{"the file cannot be read to its end", path, "Check the disk, and copy the file again"};
  return bytes;
}

Problem damaged_scan(const std::string& path, std::string_view how) {
  return {fmt::format("the file is damaged: {}", how), path, "Copy the file again, or export the scan again"};
}

Problem not_a_number(const std::string& path, std::size_t point) {
  return {fmt::format("point {} has a coordinate that is not a number", point), path,
          "Repair the scan in the program it came from, and export it again"};
}

Problem too_many_triangles(const std::string& path) {
  return {"the scan holds more than 50 million triangles", path, "Thin the scan, or cut it to the painted wall"};
}

Problem no_triangles(const std::string& path) {
  return {"the file holds no triangles, only loose points at most, so there is no surface to paint", path,
          "Export the scan as a surface, not as loose points"};
}

std::string_view next_word(std::string_view& text) {
  std::size_t from = 0;
  while (from < text.size() && is_blank(text[from])) ++from;
  std::size_t to = from;
  while (to < text.size() && !is_blank(text[to])) ++to;
  const std::string_view word = text.substr(from, to - from);
  text.remove_prefix(to);
  return word;
}

std::string_view next_line(std::string_view& text) {
  const std::size_t end = text.find('\n');
  std::string_view line = text.substr(0, end);
  text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
  return line;
}

bool is_decimal(std::string_view word) {
  if (word.size() > 64) return false;
  std::size_t at = 0, digits = 0;
  const auto skip_sign = [&] { at += at < word.size() && (word[at] == '+' || word[at] == '-'); };
  const auto skip_digits = [&] {
    for (; at < word.size() && is_digit(word[at]); ++at) ++digits;
  };
  skip_sign();
  skip_digits();
  if (at < word.size() && word[at] == '.') ++at, skip_digits();
  if (digits == 0) return false;
  if (at == word.size()) return true;
  if (word[at] != 'e' && word[at] != 'E') return false;
  ++at;
  skip_sign();
  const std::size_t from = at;
  skip_digits();
  return at == word.size() && at > from && at - from <= 4;
}

}  // namespace pontata
