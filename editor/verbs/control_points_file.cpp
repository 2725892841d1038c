#include "editor/verbs/control_points_file.h"

#include <fmt/format.h>

#include <cmath>

#include "engine/base/units.h"
#include "engine/document/picture_parts.h"

namespace pontata {

namespace {

constexpr double kBesideWall = 0.005;  // m

NumberLines wanted_points() {
  NumberLines wanted;
  wanted.least = 4;
  wanted.most = 5;
  wanted.table = true;
  wanted.longest = kMostControlPoints;
  wanted.what = "four or five finite numbers";
  wanted.remedy = "Write \"x_px,y_px,u,v\" or \"x_px,y_px,X,Y,Z\": pixels, then metres, with decimal points.";
  return wanted;
}

Result<Vec2> pixel_of(const GivenPoint& given, const std::string& path) {
  const Vec2 pixel{given.numbers[0], given.numbers[1]};
  if (std::abs(pixel.x) <= kFarthestPixel && std::abs(pixel.y) <= kFarthestPixel) return pixel;
  return Problem{"this is no place on a picture", line_name(path, given.line),
                 "Give pixels from its upper left corner, x to the right and y down."};
}

Result<ChartPoint> place_on_wall(const GivenPoint& given, const ChartedWall& wall, const std::string& path) {
  const auto place = chart_place({{given.numbers.begin() + 2, given.numbers.end()}, given.line}, wall, path);
  if (!place) return place.problem();
  const Problem beside{"this place lies beside the wall", line_name(path, given.line),
                       "Give u and v in metres of the wall's chart, or X, Y and Z in the building."};
  if (!fits_lattice(*place)) return beside;
  if (wall.chart->locate(*place)) return *place;
  const ChartPoint border = wall.chart->clamp(*place);
  return std::hypot(border.u - place->u, border.v - place->v) <= kBesideWall ? Result<ChartPoint>(border) : beside;
}

}  // namespace

Result<ControlPointFile> read_control_points(const std::string& path, const ChartedWall& wall) {
  const auto given = read_numbers(path, wanted_points());
  if (!given) return given.problem();
  ControlPointFile file;
  for (const auto& line : *given) {
    const auto pixel = pixel_of(line, path);
    if (!pixel) return pixel.problem();
    const auto place = place_on_wall(line, wall, path);
    if (!place) return place.problem();
    file.points.push_back({*pixel, *place});
    file.lines.push_back(line.line);
  }
  return file;
}

Result<std::vector<Vec2>> read_mask(const std::string& path) {
  NumberLines wanted;
  wanted.least = wanted.most = 2;
  wanted.table = true;
  wanted.longest = kMostMaskPoints;
  wanted.what = "two finite numbers";
  wanted.remedy = "Write \"x_px,y_px\": one corner of the outline in pixels, with decimal points.";
  const auto given = read_numbers(path, wanted);
  if (!given) return given.problem();
  std::vector<Vec2> mask;
  for (const auto& line : *given) mask.emplace_back(line.numbers[0], line.numbers[1]);
  // An outline may be closed by its first corner again.
  if (mask.size() > 1 && mask.front() == mask.back()) mask.pop_back();
  return mask;
}

}  // namespace pontata
