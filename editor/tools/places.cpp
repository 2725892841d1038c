#include <sstream>

#include "editor/tools/tool.h"
#include "engine/base/units.h"

namespace pontata {

Result<std::vector<ChartPoint>> read_places(const std::string& text) {
  std::vector<ChartPoint> out;
  std::istringstream lines(text);
  std::string line;
  for (int number = 1; std::getline(lines, line); ++number) {
    std::istringstream words(line);
    std::string u, v, more;
    if (!(words >> u)) continue;
    const std::string where = "line " + std::to_string(number);
    if (!(words >> v) || words >> more)
      return Problem{"two lengths are needed, right and up", where, "Write for example: 1.25 0.80"};
    const auto a = parse_length(u), b = parse_length(v);
    if (!a) return Problem{a.problem().what, where, a.problem().remedy};
    if (!b) return Problem{b.problem().what, where, b.problem().remedy};
    out.push_back({*a, *b});
  }
  return out;
}

}  // namespace pontata
