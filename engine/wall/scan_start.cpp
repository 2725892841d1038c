#include "engine/wall/scan_start.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "engine/base/units.h"
#include "engine/wall/scan_bytes.h"
#include "engine/wall/scan_report.h"

namespace pontata {
namespace {

constexpr double kLeastExtent = 0.01, kMostExtent = 500;      // m
constexpr double kTellFineness = 1e-4, kMostFineness = 1e-3;  // m

struct UnitName {
  std::string_view name;
  double metres;
};
constexpr std::array<UnitName, 5> kUnits{{{"mm", 0.001}, {"cm", 0.01}, {"m", 1}, {"ft", 0.3048}, {"in", 0.0254}}};

// The unit in which the scan would have the size of a wall.
std::string likely_unit(double extent, double unit_m) {
  const double in_file = extent / unit_m;
  for (const double metres : {1.0, 0.001, 0.01})
    if (in_file * metres >= 0.3 && in_file * metres <= 100 && metres != unit_m)
      for (const UnitName& u : kUnits)
        if (u.metres == metres) return fmt::format("Pass --unit {} if that is what was measured", u.name);
  return "Pass the unit it was measured in: --unit mm, cm, m, ft or in";
}

Vec3 in_building(const Vec3& p, const ScanOptions& options) {
  const Vec3 own = (options.y_up ? Vec3{p.x, -p.z, p.y} : p) * (options.unit_m * options.scale);
  return apply(options.placement, own);
}

}  // namespace

Result<double> scan_unit(std::string_view name) {
  for (const UnitName& unit : kUnits)
    if (unit.name == name) return unit.metres;
  return Problem{fmt::format("\"{}\" is not a unit of length known here", name), "", "Use mm, cm, m, ft or in"};
}

Vec3 extent_of(const Soup& soup) {
  Vec3 low(1e300), high(-1e300);
  for (const Triangle& t : soup.triangles)
    for (const auto corner : t) low = glm::min(low, soup.points[corner]), high = glm::max(high, soup.points[corner]);
  return high - low;
}

Outcome check_extent(const Soup& soup, const std::string& name, const ScanOptions& options) {
  const Vec3 extent = extent_of(soup);
  const double widest = std::max({extent.x, extent.y, extent.z});
  if (widest >= kLeastExtent && widest <= kMostExtent) return Done{};
  return Problem{fmt::format("a wall {} {}: is the unit right?", length_words(widest),
                             widest < kLeastExtent ? "across, no larger" : "wide"),
                 name, likely_unit(widest, options.unit_m)};
}

Result<Soup> make_soup(RawScan raw, const std::string& name, const ScanOptions& options) {
  if (!(options.unit_m > 0) || !std::isfinite(options.unit_m))
    return Problem{"the unit of the scan is not a length", name, "Pass --unit mm, cm, m, ft or in"};
  if (!(options.scale > 0) || !std::isfinite(options.scale))
    return Problem{"the scale of the scan is not a number above 0", name, "Measure the known distance again"};
  if (raw.triangles.empty()) return no_triangles(name);
  Soup soup{std::move(raw.points), std::move(raw.triangles), {}};
  for (std::size_t i = 0; i < soup.points.size(); ++i) {
    soup.points[i] = in_building(soup.points[i], options);
    if (!std::isfinite(glm::dot(soup.points[i], soup.points[i]))) return not_a_number(name, i);
  }
  soup.facing.reserve(soup.triangles.size());
  for (std::size_t i = 0; i < soup.triangles.size(); ++i) {
    const Triangle& t = soup.triangles[i];
    for (const auto corner : t)
      if (corner >= soup.points.size())
        return Problem{"a triangle names a point that does not exist", name,
                       "Export the scan again, cut to the painted wall"};
    const double area = triangle_area(soup.points, t);
    double with = !raw.back.empty() && raw.back[i] ? -1 : 1;
    if (!raw.normals.empty()) {
      const Vec3 mean = raw.normals[t[0]] + raw.normals[t[1]] + raw.normals[t[2]];
      const Vec3 turned = options.y_up ? Vec3{mean.x, -mean.z, mean.y} : mean;
      const Vec3 face = glm::cross(soup.points[t[1]] - soup.points[t[0]], soup.points[t[2]] - soup.points[t[0]]);
      with = glm::dot(apply_direction(options.placement, turned), face) < 0 ? -1 : 1;
    }
    soup.facing.push_back(with * area);
  }
  return soup;
}

Result<std::string> check_fineness(const RawScan& raw, const std::string& name, const ScanOptions& options) {
  const double step = raw.step * options.unit_m * options.scale;
  if (!(step > kTellFineness)) return std::string();
  double far = 0;
  for (const Vec3& p : raw.points) far = std::max(far, glm::length(p));
  const std::string where =
      fmt::format("the scan lies {} from its file's origin, where the file's numbers are {} apart",
                  length_words(far * options.unit_m * options.scale), length_words(step));
  if (step <= kMostFineness) return where;
  return Problem{where + ": too coarse for a wall", name,
                 "Move the scan near the origin in the program it came from, and export it again"};
}

}  // namespace pontata
