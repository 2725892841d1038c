#include <sstream>

#include "editor/tools/tool.h"
#include "engine/base/units.h"

namespace pontata {

namespace {

// Pairs, one a line; `read` makes a number of each word.
template <class Read>
Result<std::vector<Vec2>> read_pairs(const std::string& text, const char* needs, const char* example, Read&& read) {
  std::vector<Vec2> out;
  std::istringstream lines(text);
  std::string line;
  for (int number = 1; std::getline(lines, line); ++number) {
    std::istringstream words(line);
    std::string u, v, more;
    if (!(words >> u)) continue;
    const std::string where = "line " + std::to_string(number);
    if (!(words >> v) || words >> more) return Problem{needs, where, std::string("Write for example: ") + example};
    const auto a = read(u), b = read(v);
    if (!a) return Problem{a.problem().what, where, a.problem().remedy};
    if (!b) return Problem{b.problem().what, where, b.problem().remedy};
    out.push_back({*a, *b});
  }
  return out;
}

}  // namespace

Result<std::vector<ChartPoint>> read_places(const std::string& text) {
  const auto pairs = read_pairs(text, "two lengths are needed, right and up", "1.25 0.80", parse_length);
  if (!pairs) return pairs.problem();
  std::vector<ChartPoint> out;
  for (const Vec2 p : *pairs) out.push_back(to_chart(p));
  return out;
}

Result<std::vector<Vec2>> read_pixels(const std::string& text) {
  return read_pairs(text, "two numbers of pixels are needed, right and down", "640 412.5", parse_number);
}

}  // namespace pontata
