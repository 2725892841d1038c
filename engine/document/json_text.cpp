#include "engine/document/json_text.h"

namespace pontata {

namespace {

using Json = nlohmann::ordered_json;

std::string scalar(const Json& value) { return value.dump(-1, ' ', false, Json::error_handler_t::replace); }

bool is_row(const Json& value) {
  if (!value.is_array()) return false;
  for (const auto& item : value)
    if (item.is_structured()) return false;
  return true;
}

constexpr std::size_t kLongestRow = 24;  // values; longer rows are broken
constexpr std::size_t kBrokenRow = 12;   // values a line: whole triples and fours

void add_row(std::string& text, const Json& row, std::size_t indent) {
  const bool broken = row.size() > kLongestRow;
  text += '[';
  for (std::size_t i = 0; i < row.size(); ++i) {
    const bool new_line = broken && i % kBrokenRow == 0;
    if (i > 0) text += new_line ? "," : ", ";
    if (new_line) (text += '\n').append(indent + 1, ' ');
    text += scalar(row[i]);
  }
  if (broken) (text += '\n').append(indent, ' ');
  text += ']';
}

void add(std::string& text, const Json& value, std::size_t indent) {
  if (!value.is_structured()) {
    text += scalar(value);
  } else if (value.is_object() && value.empty()) {
    text += "{}";
  } else if (is_row(value)) {
    add_row(text, value, indent);
  } else {
    const bool object = value.is_object();
    text += object ? '{' : '[';
    bool first = true;
    for (const auto& item : value.items()) {
      text += first ? "\n" : ",\n";
      first = false;
      text.append(indent + 1, ' ');
      if (object) text += scalar(Json(item.key())) + ": ";
      add(text, item.value(), indent + 1);
    }
    text += '\n';
    text.append(indent, ' ');
    text += object ? '}' : ']';
  }
}

}  // namespace

std::string json_text(const nlohmann::ordered_json& value) {
  std::string text;
  add(text, value, 0);
  text += '\n';
  return text;
}

}  // namespace pontata
