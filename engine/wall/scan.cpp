#include "engine/wall/scan.h"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "engine/base/units.h"
#include "engine/wall/border_normals.h"
#include "engine/wall/scan_gltf.h"
#include "engine/wall/scan_handles.h"
#include "engine/wall/scan_needles.h"
#include "engine/wall/scan_soup.h"
#include "engine/wall/scan_topology.h"

namespace pontata {
namespace {

constexpr double kLeastExtent = 0.01, kMostExtent = 500;  // m
constexpr double kNoiseHandle = 0.2;                      // of the widest extent: longer bridges are no noise
constexpr std::string_view kReexport = "Export the scan again, cut to the painted wall";

struct UnitName {
  std::string_view name;
  double metres;
};
constexpr std::array<UnitName, 5> kUnits{{{"mm", 0.001}, {"cm", 0.01}, {"m", 1}, {"ft", 0.3048}, {"in", 0.0254}}};

std::string length_words(double m) {
  if (m >= 1000) return format_fixed(m / 1000, 1) + " km";
  if (m >= 1) return format_fixed(m, 2) + " m";
  if (m >= 0.001) return format_fixed(m * 1000, 1) + " mm";
  return format_fixed(m * 1000, 4) + " mm";
}

std::string area_words(double m2) {
  return m2 >= 0.01 ? format_fixed(m2, 2) + " m²" : format_fixed(m2 * 1e4, 2) + " cm²";
}

std::string place_words(const Vec3& p) {
  return fmt::format("{}, {}, {}", format_fixed(p.x, 3), format_fixed(p.y, 3), format_fixed(p.z, 3));
}

std::string counted(std::size_t n, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

Vec3 in_building(const Vec3& p, const ScanOptions& options) {
  const Vec3 own = (options.y_up ? Vec3{p.x, -p.z, p.y} : p) * options.unit_m;
  return apply(options.placement, own);
}

// Extent over the points that triangles use.
Vec3 extent_of(const Soup& soup) {
  Vec3 low(1e300), high(-1e300);
  for (const Triangle& t : soup.triangles)
    for (const auto corner : t) low = glm::min(low, soup.points[corner]), high = glm::max(high, soup.points[corner]);
  return high - low;
}

// The unit in which the scan would have the size of a wall.
std::string likely_unit(double extent, double unit_m) {
  const double in_file = extent / unit_m;
  for (const double metres : {1.0, 0.001, 0.01})
    if (in_file * metres >= 0.3 && in_file * metres <= 100 && metres != unit_m)
      for (const UnitName& u : kUnits)
        if (u.metres == metres) return fmt::format("Pass --unit {} if that is what was measured", u.name);
  return "Pass the unit it was measured in: --unit mm, cm, m, ft or in";
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
  if (raw.triangles.empty())
    return Problem{"the file holds no triangles, so there is no surface to paint", name,
                   "Export the scan as a surface, not as loose points"};
  Soup soup{std::move(raw.points), std::move(raw.triangles), {}};
  for (std::size_t i = 0; i < soup.points.size(); ++i) {
    soup.points[i] = in_building(soup.points[i], options);
    if (!std::isfinite(glm::dot(soup.points[i], soup.points[i])))
      return Problem{fmt::format("point {} has a coordinate that is not a number", i), name,
                     "Repair the scan in the program it came from, and export it again"};
  }
  soup.facing.reserve(soup.triangles.size());
  for (const Triangle& t : soup.triangles) {
    for (const auto corner : t)
      if (corner >= soup.points.size())
        return Problem{"a triangle names a point that does not exist", name, std::string(kReexport)};
    const double area = triangle_area(soup.points, t);
    double with = 1;
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

struct Mended {
  SheetReport sheet;
  HandleReport handles;
  std::size_t needles = 0;
};

Mended mend(Soup& soup) {
  Mended out;
  out.sheet = make_sheet(soup);
  if (soup.triangles.empty()) return out;
  const Vec3 extent = extent_of(soup);
  out.handles = cut_small_handles(soup, kNoiseHandle * std::max({extent.x, extent.y, extent.z}));
  out.needles = mend_needles(soup);
  return out;
}

void say(ScanReport& report, const Mended& mended, const ScanOptions& options) {
  const SheetReport& sheet = mended.sheet;
  auto& says = report.says;
  if (report.welded_points > 0)
    says.push_back(fmt::format("{} closer than {} joined",
                               counted(report.welded_points, "doubled point", "doubled points"),
                               length_words(options.weld_m)));
  if (report.dropped_degenerate > 0)
    says.push_back(
        fmt::format("{} without area left out", counted(report.dropped_degenerate, "triangle", "triangles")));
  if (report.dropped_duplicate > 0)
    says.push_back(fmt::format("{} given twice left out", counted(report.dropped_duplicate, "triangle", "triangles")));
  if (sheet.crowded_edges > 0)
    says.push_back(fmt::format("at {} more than two triangles met; the smoothest sheet was kept",
                               counted(sheet.crowded_edges, "edge", "edges")));
  if (sheet.one_sided) says.push_back("part of the surface twists so that back and front meet; it was cut there");
  if (report.flipped > 0)
    says.push_back(
        fmt::format("{} turned to face the painter with the rest", counted(report.flipped, "triangle", "triangles")));
  if (report.dropped_small_parts > 0)
    says.push_back(fmt::format("{} ({} in all) left out; only the largest connected part is the wall",
                               counted(report.dropped_small_parts, "loose part", "loose parts"),
                               area_words(sheet.area_left_out_m2)));
  if (mended.handles.cut > 0)
    says.push_back(fmt::format("{} of scanner's noise cut open; the longest cut is {}",
                               counted(mended.handles.cut, "small bridge or tunnel", "small bridges and tunnels"),
                               length_words(mended.handles.longest_m)));
  if (mended.needles > 0)
    says.push_back(fmt::format("{} mended", counted(mended.needles, "needle-thin triangle", "needle-thin triangles")));
}

void say_holes(ScanReport& report, const std::vector<Vec3>& points,
               const std::vector<std::vector<std::uint32_t>>& loops) {
  report.holes = loops.size() - 1;
  if (report.holes == 0) return;
  report.longest_hole_rim_m = loop_length(points, loops[1]);
  report.says.push_back(fmt::format("{} in the surface; the longest rim is {}, near {}",
                                    counted(report.holes, "hole", "holes"), length_words(report.longest_hole_rim_m),
                                    place_words(points[loops[1][0]])));
}

ScanSurface finish(Soup soup, ScanReport report, const ScanOptions& options) {
  ScanSurface out;
  if (options.flip)
    for (Triangle& t : soup.triangles) std::swap(t[1], t[2]);
  out.raw_area_m2 = total_area(soup.points, soup.triangles);
  out.mesh.normals = smoothed_normals(soup.points, soup.triangles, options.smoothing_m);
  straighten_border_normals(soup.points, soup.triangles, options.smoothing_m, out.mesh.normals);
  out.mesh.points = std::move(soup.points);
  out.mesh.triangles = std::move(soup.triangles);
  out.mesh.corner_normals = out.mesh.triangles;
  out.report = std::move(report);
  return out;
}

Problem cancelled(const std::string& name) { return {"reading was cancelled", name, ""}; }

Result<ScanSurface> clean(RawScan raw, const std::string& name, const ScanOptions& options, Progress* progress) {
  ScanReport said;
  said.points_read = raw.points.size();
  said.triangles_read = raw.triangles.size();
  auto soup = make_soup(std::move(raw), name, options);
  if (!soup) return soup.problem();
  if (const auto sized = check_extent(*soup, name, options); !sized) return sized.problem();
  report(progress, 0.2, "Joining doubled points");
  said.welded_points = weld(*soup, options.weld_m);
  said.dropped_degenerate = drop_degenerate(*soup);
  said.dropped_duplicate = drop_duplicates(*soup);
  if (is_cancelled(progress)) return cancelled(name);
  report(progress, 0.4, "Finding the painted side");
  const Mended mended = mend(*soup);
  said.flipped = mended.sheet.flipped;
  said.dropped_small_parts = mended.sheet.parts_left_out;
  if (soup->triangles.empty())
    return Problem{"nothing of the scan's surface is left after cleaning: its triangles have no area", name,
                   std::string(kReexport)};
  if (const auto sized = check_extent(*soup, name, options); !sized) return sized.problem();
  const auto loops = border_loops(soup->points, soup->triangles, link_triangles(soup->points, soup->triangles));
  if (loops.empty())
    return Problem{"the scan's surface closes on itself like a ball, so it has no edge where the painting could end",
                   name, "Cut the scan open, down to the part that will be painted"};
  say(said, mended, options);
  say_holes(said, soup->points, loops);
  if (is_cancelled(progress)) return cancelled(name);
  report(progress, 0.7, "Smoothing the surface's direction");
  return finish(std::move(*soup), std::move(said), options);
}

}  // namespace

Result<double> scan_unit(std::string_view name) {
  for (const UnitName& unit : kUnits)
    if (unit.name == name) return unit.metres;
  return Problem{fmt::format("\"{}\" is not a unit of length known here", name), "", "Use mm, cm, m, ft or in"};
}

Result<ScanSurface> read_scan(const std::string& path, const ScanOptions& options, Progress* progress) {
  report(progress, 0, "Reading the scan");
  auto raw = read_gltf(path);
  if (!raw) return raw.problem();
  return clean(std::move(*raw), path, options, progress);
}

Result<ScanSurface> clean_scan(std::vector<Vec3> points, std::vector<Triangle> triangles, const std::string& name,
                               const ScanOptions& options, Progress* progress) {
  return clean({std::move(points), {}, std::move(triangles)}, name, options, progress);
}

}  // namespace pontata
