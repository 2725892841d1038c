#include "engine/document/eye_points.h"

#include <algorithm>

#include "engine/base/text.h"
#include "engine/base/units.h"
#include "engine/document/setting_values.h"

namespace pontata {

namespace {

constexpr std::size_t kLongestName = 40, kMostEyes = 50;

bool good_name(const std::string& name) {
  return !name.empty() && name.size() <= kLongestName && std::ranges::none_of(name, [](char c) {
    return c == ';' || c == ',' || c == '"' || (c >= 0 && c <= ' ') || c == 127;
  });
}

}  // namespace

Result<std::vector<EyePoint>> with_eye(std::vector<EyePoint> eyes, const std::string& name, const std::string& value) {
  if (name == "limit")
    return Problem{"an eye point cannot be named limit: eye.limit is a limit of the review", "",
                   "Give it another name, such as eye.door."};
  if (!good_name(name))
    return Problem{"\"" + name + "\" is no name for an eye point", "",
                   "Give one word of at most 40 letters, such as eye.door."};
  std::erase_if(eyes, [&](const EyePoint& e) { return e.name == name; });
  if (value == "none") return eyes;
  const auto at = read_place(value);
  if (!at) return at.problem();
  if (eyes.size() >= kMostEyes) return Problem{"there are 50 eye points already", "", "Take one away first."};
  eyes.push_back({name, *at});
  std::ranges::sort(eyes, {}, &EyePoint::name);
  return eyes;
}

Result<std::vector<EyePoint>> read_eyes(const std::string& text) {
  std::vector<EyePoint> eyes;
  if (text == "none") return eyes;
  if (text.empty())
    return Problem{"no eye point is told", "", "Give a name and its place, such as door 0.5,0,1.6, or none."};
  std::size_t from = 0;
  while (from < text.size()) {
    const std::size_t end = std::min(text.find(';', from), text.size());
    std::string one = text.substr(from, end - from);
    one.erase(0, std::min(one.find_first_not_of(' '), one.size()));
    const std::size_t space = one.find(' ');
    const std::string name = one.substr(0, space);
    if (space == std::string::npos || std::ranges::find(eyes, name, &EyePoint::name) != eyes.end())
      return Problem{"\"" + one + "\" is no eye point", "",
                     "Give a name once and its place, such as door 0.5,0,1.6; the next after a semicolon."};
    auto more = with_eye(std::move(eyes), name, one.substr(space + 1));
    if (!more) return more.problem();
    eyes = std::move(*more);
    from = end + 1;
  }
  return eyes;
}

std::string write_eyes(const std::vector<EyePoint>& eyes) {
  std::string text;
  for (const EyePoint& e : eyes) text += (text.empty() ? "" : "; ") + e.name + " " + write_place(e.at);
  return text.empty() ? "none" : text;
}

std::string_view eye_name(std::string_view key) {
  return key.starts_with("eye.") && key != "eye.limit" ? key.substr(4) : std::string_view{};
}

}  // namespace pontata
