#include "editor/verbs/points_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <utility>

#include "engine/base/units.h"
#include "engine/chart/cut_runs.h"
#include "engine/document/atomic_file.h"

namespace pontata {

namespace {

constexpr double kFarthest = 0.020;  // m from the wall for an X Y Z
constexpr std::size_t kLargestFile = std::size_t{1} << 26;

constexpr const char* kBlanks = " \t\r";

void skip_blanks(std::string_view& line) { line.remove_prefix(std::min(line.find_first_not_of(kBlanks), line.size())); }

// False when the line holds anything but finite numbers, with blanks between them or, in a table, one mark.
bool numbers_of(std::string_view line, bool table, std::vector<double>& numbers) {
  for (skip_blanks(line); !line.empty();) {
    if (line.front() == '+') line.remove_prefix(1);
    double value = 0;
    const auto read = std::from_chars(line.data(), line.data() + line.size(), value);
    if (read.ec != std::errc{} || !std::isfinite(value)) return false;
    line.remove_prefix(static_cast<std::size_t>(read.ptr - line.data()));
    numbers.push_back(value);
    const std::size_t before = line.size();
    skip_blanks(line);
    if (line.empty()) return true;
    if (table && (line.front() == ',' || line.front() == ';')) {
      line.remove_prefix(1);
      skip_blanks(line);
      if (line.empty()) return false;
    } else if (line.size() == before) {
      return false;
    }
  }
  return true;
}

// A line of words over the columns of a table.
bool is_heading(std::string_view line) {
  skip_blanks(line);
  if (line.empty()) return false;
  const char c = line.front();
  const bool begins_word = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '"';
  return begins_word && !line.starts_with("nan") && !line.starts_with("inf") && line.find('\0') == line.npos;
}

double apart(ChartPoint a, ChartPoint b) { return std::hypot(a.u - b.u, a.v - b.v); }

// The same place of the wall as the other side of a cut has it; nullopt for places off the cuts.
std::optional<ChartPoint> twin_on_cut(const Chart& chart, ChartPoint p) {
  constexpr double kOnBorder = 1e-6;  // m
  const auto here = chart.nearest_border(p);
  if (apart(border_place(chart, here), p) > kOnBorder) return std::nullopt;
  const auto there = chart.other_side(here);
  return there ? std::optional(border_place(chart, *there)) : std::nullopt;
}

// A place on a cut is on both its sides, and X Y Z does not say on which: the one nearer to the place before it in the
// line, or, where the line begins on the cut, to the first place off it.
void settle_sides(const Chart& chart, const std::vector<GivenPoint>& given, std::vector<ChartPoint>& places) {
  if (!chart.has_cuts() || places.empty()) return;
  std::vector<std::optional<ChartPoint>> twins(places.size());
  for (std::size_t i = 0; i < places.size(); ++i)
    if (given[i].numbers.size() == 3) twins[i] = twin_on_cut(chart, places[i]);
  const auto off = std::find(twins.begin(), twins.end(), std::nullopt);
  ChartPoint before = places[off == twins.end() ? 0 : static_cast<std::size_t>(off - twins.begin())];
  for (std::size_t i = 0; i < places.size(); ++i) {
    if (twins[i] && apart(*twins[i], before) < apart(places[i], before)) places[i] = *twins[i];
    before = places[i];
  }
}

}  // namespace

std::string line_name(const std::string& path, int line) {
  return fmt::format("{} line {}", path == "-" ? "standard input" : path, line);
}

Result<std::vector<GivenPoint>> read_numbers(const std::string& path, const NumberLines& wanted) {
  const auto text = read_file(path == "-" ? "/dev/stdin" : path, kLargestFile);
  if (!text) return text.problem();
  std::string_view rest = *text;
  if (rest.starts_with("\xef\xbb\xbf")) rest.remove_prefix(3);
  std::vector<GivenPoint> points;
  bool may_head = wanted.table;
  for (int number = 1; !rest.empty(); ++number) {
    std::string_view line = rest.substr(0, rest.find('\n'));
    rest.remove_prefix(std::min(line.size() + 1, rest.size()));
    line = line.substr(0, line.find('#'));
    if (std::exchange(may_head, may_head && line.find_first_not_of(kBlanks) == line.npos) && is_heading(line)) continue;
    GivenPoint point;
    point.line = number;
    const bool good = numbers_of(line, wanted.table, point.numbers);
    if (good && point.numbers.empty()) continue;
    if (!good || point.numbers.size() < wanted.least || point.numbers.size() > wanted.most)
      return Problem{"this line is not " + wanted.what, line_name(path, number), wanted.remedy};
    if (points.size() == wanted.longest)
      return Problem{fmt::format("there are more than {} lines of numbers", wanted.longest), line_name(path, number),
                     "Give fewer."};
    points.push_back(std::move(point));
  }
  return points;
}

Result<std::vector<GivenPoint>> read_points(const std::string& path) {
  NumberLines wanted;
  wanted.what = "two or three finite numbers";
  wanted.remedy = "Write \"u v\" or \"X Y Z\" in metres, with decimal points.";
  return read_numbers(path, wanted);
}

Result<ChartPoint> chart_place(const GivenPoint& given, const ChartedWall& wall, const std::string& path) {
  if (given.numbers.size() == 2) return ChartPoint{given.numbers[0], given.numbers[1]};
  const auto address = wall.address({given.numbers[0], given.numbers[1], given.numbers[2]});
  if (address.distance > kFarthest)
    return Problem{fmt::format("this place is {} m from the wall", format_fixed(address.distance, 3)),
                   line_name(path, given.line), "Give places at most 20 mm from it, in the building's metres."};
  return address.place;
}

Result<std::vector<ChartPoint>> read_chart_points(const std::string& path, const ChartedWall& wall) {
  const auto given = read_points(path);
  if (!given) return given.problem();
  std::vector<ChartPoint> places;
  for (const auto& point : *given) {
    const auto place = chart_place(point, wall, path);
    if (!place) return place.problem();
    places.push_back(*place);
  }
  settle_sides(*wall.chart, *given, places);
  return places;
}

}  // namespace pontata
