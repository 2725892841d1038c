#include "engine/cartoon/snapped_lines.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/units.h"
#include "engine/cartoon/pattern_squares.h"

namespace pontata {
namespace {

using Kind = SnappedLine::Kind;
constexpr double kFlatter = 0.755;  // upright part of the normal where the wall is 41 degrees from level
constexpr double kLevelled = 0.65;  // lengthwise lines begin a little before level lines end
constexpr double kCrown = 0.95;     // the wall's middle counts as level
constexpr std::size_t kMost = 400;  // lines of one kind

std::string metres(double m) { return format_fixed(m, 3) + " m"; }

// Squares drawn for squaring up, as lines.
std::vector<SnappedLine> lines_of(const Squares& squares) {
  std::vector<SnappedLine> out;
  for (const SquareLine& s : squares.lines) {
    SnappedLine line{
        s.upright ? Kind::plumb : Kind::level, "line " + s.name + " of the squares", s.name, words_of(squares), {}};
    for (const auto& stretch : s.stretches) line.pieces.push_back({stretch.from, stretch.to});
    out.push_back(std::move(line));
  }
  return out;
}

// Unit and level; nothing where `way` runs upright.
std::optional<Vec3> level_part(const Vec3& way) {
  const Vec3 level{way.x, way.y, 0};
  const double size = glm::length(level);
  return size > 0.2 * glm::length(way) ? std::optional(level / size) : std::nullopt;
}

// A place of a squares' line on the wall: near its middle.
std::optional<ChartPoint> place_on(const SquareLine& line, double middle) {
  std::optional<ChartPoint> best;
  double least = 1e300;
  for (const auto& s : line.stretches) {
    const auto at = [&](ChartPoint p) { return line.upright ? p.v : p.u; };
    const double here = std::clamp(middle, at(s.from), at(s.to));
    if (std::abs(here - middle) >= least) continue;
    least = std::abs(here - middle);
    best = line.upright ? ChartPoint{line.at, here} : ChartPoint{here, line.at};
  }
  return best;
}

// Place of a letter in A, B, ..., Z, AA, ...
int place_of(const std::string& letters) {
  int n = 0;
  for (const char c : letters) n = 26 * n + (c - 'A' + 1);
  return n;
}

// The centre line's place among the letters; lines that lie beside the wall are not in the list.
int centre_of(const Squares& squares, double centre) {
  int before = 0;
  for (const SquareLine& s : squares.lines)
    if (s.upright && s.at < centre - 1e-9) before = place_of(s.name);
  return before + 1;
}

void add_plumb_lines(const CartoonWall& wall, const Squares& squares, std::vector<SnappedLine>& out) {
  const ChartBox box = wall.wall->chart->box();
  const int centre = centre_of(squares, 0.5 * box.width);
  for (const SquareLine& s : squares.lines) {
    if (!s.upright) continue;
    const int steps = place_of(s.name) - centre;
    const auto place = place_on(s, 0.5 * box.height);
    const auto frame = place ? surface_frame(*wall.wall, *place) : std::nullopt;
    const auto normal = frame ? level_part(frame->along_u) : std::nullopt;
    if (!normal) continue;
    SnappedLine line{Kind::plumb, "plumb line " + s.name, s.name, "", plane_section(*wall.wall, frame->at, *normal)};
    if (steps == 0)
      line.name = "the centre line (" + s.name + ")", line.where = "plumb, in the middle of the wall";
    else
      line.where = fmt::format("plumb, {} {} of the centre line along the wall at its middle height",
                               metres(std::abs(steps) * squares.step_m), steps > 0 ? "right" : "left");
    out.push_back(std::move(line));
  }
}

void add_level_lines(const CartoonWall& wall, std::vector<SnappedLine>& out) {
  double low = 1e300, high = -1e300;
  for (const Vec3& p : wall.wall->mesh().points) low = std::min(low, p.z), high = std::max(high, p.z);
  const double from = wall.springing_m.value_or(0), step = wall.lines_step_m;
  constexpr double kEdge = 0.01;   // m: the wall's own end is no line to snap
  constexpr double kInset = 1e-6;  // m: a line along the wall's own end is taken just inside
  int number = 0;
  if ((high - low) / step > kMost) return;
  for (double k = std::ceil((low - from) / step - 1e-9); from + k * step <= high + 1e-9; ++k) {
    const double height = from + k * step;
    const bool springing = wall.springing_m && k == 0;
    if (!springing && std::min(height - low, high - height) < kEdge) continue;
    const Vec3 at{0, 0, std::clamp(height, low + kInset, high - kInset)};
    auto pieces = plane_section(*wall.wall, at, {0, 0, 1}, 0, kFlatter);
    if (pieces.empty()) continue;
    if (!springing) ++number;
    SnappedLine line{Kind::level, fmt::format("level line {}", number), std::to_string(number), "", std::move(pieces)};
    line.where = "level, " + metres(height) + " above the building's zero";
    if (springing) line.name = "the springing", line.sign = "springing";
    if (wall.springing_m && k != 0)
      line.where += fmt::format(", {} {} the springing", metres(std::abs(k * step)), k > 0 ? "above" : "below");
    out.push_back(std::move(line));
  }
}

void add_lengthwise(const CartoonWall& wall, ChartPoint place, SnappedLine line, std::vector<SnappedLine>& out) {
  const auto frame = surface_frame(*wall.wall, place);
  if (!frame || std::abs(frame->normal.z) < kLevelled) return;
  const auto normal = level_part(frame->along_v);
  if (!normal) return;
  line.kind = Kind::lengthwise;
  line.pieces = plane_section(*wall.wall, frame->at, *normal, kLevelled, 1);
  if (!line.pieces.empty()) out.push_back(std::move(line));
}

void add_lengthwise_lines(const CartoonWall& wall, const Squares& squares, std::vector<SnappedLine>& out) {
  const ChartBox box = wall.wall->chart->box();
  const ChartPoint middle{0.5 * box.width, 0.5 * box.height};
  const auto frame = surface_frame(*wall.wall, middle);
  const bool crown = frame && std::abs(frame->normal.z) > kCrown;
  if (crown)
    add_lengthwise(wall, middle,
                   {Kind::lengthwise, "the crown line", "crown", "plumb above the wall's middle line", {}}, out);
  for (const SquareLine& s : squares.lines) {
    if (s.upright) continue;
    const auto place = place_on(s, middle.u);
    if (!place || (crown && std::abs(s.at - middle.v) < 1e-3)) continue;
    add_lengthwise(
        wall, *place,
        {Kind::lengthwise,
         "lengthwise line L" + s.name,
         "L" + s.name,
         "along the wall, " + metres(std::stoi(s.name) * squares.step_m) + " up the centre line from its foot",
         {}},
        out);
  }
}

}  // namespace

std::vector<SnappedLine> snapped_lines(const CartoonWall& wall) {
  std::vector<SnappedLine> out;
  if (const auto drawn = wall_squares(wall); drawn && *drawn) return lines_of(**drawn);
  const auto squares = squares_on(*wall.wall, wall.lines_step_m);
  if (squares) add_plumb_lines(wall, *squares, out);
  add_level_lines(wall, out);
  if (squares) add_lengthwise_lines(wall, *squares, out);
  return out;
}

}  // namespace pontata
