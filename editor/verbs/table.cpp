#include "editor/verbs/table.h"

#include <algorithm>

#include "engine/base/units.h"

namespace pontata {

namespace {

// Characters, not bytes: continuation bytes of UTF-8 take no place.
std::size_t width(const std::string& text) {
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xc0) != 0x80; }));
}

std::string padded(const std::string& text, std::size_t wanted, bool right) {
  const std::string gap(wanted - std::min(wanted, width(text)), ' ');
  return right ? gap + text : text + gap;
}

std::string quoted(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string out = "\"";
  for (const char c : text) out += c == '"' ? "\"\"" : std::string(1, c);
  return out + "\"";
}

}  // namespace

Cell cell(const std::string& text) { return {text, text}; }
Cell cell(int value) { return cell(std::to_string(value)); }
Cell cell(double value, int decimals) { return {format_number(value), format_fixed(value, decimals)}; }
Cell cell(std::optional<double> value, int decimals) { return value ? cell(*value, decimals) : Cell{"", "-"}; }

std::string Table::text() const {
  std::vector<std::size_t> widths;
  for (std::size_t c = 0; c < columns.size(); ++c) {
    widths.push_back(width(columns[c].title));
    for (const auto& row : rows) widths[c] = std::max(widths[c], width(row[c].shown));
  }
  std::string out;
  const auto add_line = [&](auto&& shown) {
    std::string line;
    for (std::size_t c = 0; c < columns.size(); ++c)
      line += (c > 0 ? "  " : "") + padded(shown(c), widths[c], columns[c].right);
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + "\n";
  };
  add_line([&](std::size_t c) { return columns[c].title; });
  for (const auto& row : rows) add_line([&](std::size_t c) { return row[c].shown; });
  return out;
}

std::string Table::csv() const {
  std::string out;
  for (std::size_t c = 0; c < columns.size(); ++c) out += (c > 0 ? "," : "") + quoted(columns[c].key);
  out += "\r\n";
  for (const auto& row : rows) {
    for (std::size_t c = 0; c < row.size(); ++c) out += (c > 0 ? "," : "") + quoted(row[c].exact);
    out += "\r\n";
  }
  return out;
}

}  // namespace pontata
