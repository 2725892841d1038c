#include "engine/base/text.h"

#include <fmt/format.h>

namespace pontata {

std::vector<std::string> split(std::string_view text, char mark) {
  std::vector<std::string> parts(1);
  for (const char c : text) {
    if (c == mark)
      parts.emplace_back();
    else
      parts.back() += c;
  }
  return parts;
}

std::string xml_escaped(std::string_view words) {
  std::string out;
  for (const char c : words) {
    if (c == '&')
      out += "&amp;";
    else if (c == '<')
      out += "&lt;";
    else if (c == '>')
      out += "&gt;";
    else if (c == '"')
      out += "&quot;";
    else
      out += c;
  }
  return out;
}

std::string short_decimal(double value, int digits) {
  std::string text = fmt::format("{:.{}f}", value, digits);
  if (digits > 0) text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

}  // namespace pontata
