#include "engine/document/seam_files/dxf_groups.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <tuple>

#include "engine/document/plain_text.h"

namespace pontata {

namespace {

std::string_view trimmed(std::string_view text) {
  const auto from = text.find_first_not_of(" \t\r");
  if (from == std::string_view::npos) return {};
  return text.substr(from, text.find_last_not_of(" \t\r") - from + 1);
}

std::optional<int> dxf_whole(std::string_view text) {
  if (text.starts_with('+')) text.remove_prefix(1);
  int value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return value;
}

void add_utf8(std::string& out, unsigned code) {
  if (code < 0x80) {
    out += static_cast<char>(code);
  } else if (code < 0x800) {
    out += static_cast<char>(0xc0 | (code >> 6));
    out += static_cast<char>(0x80 | (code & 0x3f));
  } else {
    out += static_cast<char>(0xe0 | (code >> 12));
    out += static_cast<char>(0x80 | ((code >> 6) & 0x3f));
    out += static_cast<char>(0x80 | (code & 0x3f));
  }
}

}  // namespace

std::optional<double> dxf_number(std::string_view text) {
  if (text.starts_with('+')) text.remove_prefix(1);
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

std::string dxf_text(std::string_view value) {
  const bool utf8 = is_plain_text(value);
  std::string out;
  for (std::size_t i = 0; i < value.size(); ++i) {
    unsigned code = 0;
    const std::string_view digits = value.substr(i).starts_with("\\U+") ? value.substr(i + 3, 4) : "";
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), code, 16);
    if (digits.size() == 4 && error == std::errc{} && end == digits.data() + 4 && (code < 0xd800 || code > 0xdfff)) {
      add_utf8(out, code);
      i += 6;
    } else if (const auto byte = static_cast<unsigned char>(value[i]); utf8 || byte < 0x80) {
      out += value[i];
    } else {
      add_utf8(out, byte);
    }
  }
  return out;
}

std::string_view DxfRecord::text(int code) const {
  for (const auto& group : groups)
    if (group.code == code) return group.value;
  return {};
}

bool DxfRecord::has(int code) const {
  for (const auto& group : groups)
    if (group.code == code) return true;
  return false;
}

double DxfRecord::number(int code, double otherwise, bool& sound) const {
  if (!has(code)) return otherwise;
  const auto value = dxf_number(text(code));
  sound &= value.has_value();
  return value.value_or(otherwise);
}

int DxfRecord::whole(int code, int otherwise, bool& sound) const {
  if (!has(code)) return otherwise;
  const auto value = dxf_whole(text(code));
  sound &= value.has_value();
  return value.value_or(otherwise);
}

bool DxfReader::take_line(std::string_view& text) {
  if (at_ >= bytes_.size()) return false;
  const std::size_t end = std::min(bytes_.find('\n', at_), bytes_.size());
  text = trimmed(bytes_.substr(at_, end - at_));
  at_ = end + 1;
  ++line_;
  return true;
}

Result<std::optional<DxfGroup>> DxfReader::group() {
  for (std::string_view code, value;;) {
    if (!take_line(code)) return std::optional<DxfGroup>();
    const std::size_t line = line_;
    const auto number = dxf_whole(code);
    if (!number || *number < -5 || *number > 1071)
      return Problem{fmt::format("line {} is no group code of a DXF", line), "", "Save the drawing anew as ASCII DXF."};
    if (!take_line(value))
      return Problem{fmt::format("breaks off at line {}", line), "", "Save the drawing anew as ASCII DXF."};
    if (*number != 999) return std::optional(DxfGroup{*number, value});
  }
}

Result<std::optional<DxfRecord>> DxfReader::next() {
  DxfRecord record;
  if (begun_) std::tie(record.kind, record.line) = *begun_;
  begun_.reset();
  for (;;) {
    const auto read = group();
    if (!read) return read.problem();
    if (!*read) break;
    if ((*read)->code != 0) {
      if (record.kind.empty())
        return Problem{fmt::format("line {} comes before any section", line_ - 1), "",
                       "Save the drawing anew as ASCII DXF."};
      record.groups.push_back(**read);
      continue;
    }
    if (record.kind.empty()) {
      record.kind = (*read)->value;
      record.line = line_;
      continue;
    }
    begun_.emplace(std::string((*read)->value), line_);
    break;
  }
  if (record.kind.empty()) return std::optional<DxfRecord>();
  return std::optional(std::move(record));
}

}  // namespace pontata
