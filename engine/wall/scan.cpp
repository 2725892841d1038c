#include "engine/wall/scan.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

#include "engine/wall/border_normals.h"
#include "engine/wall/scan_crop.h"
#include "engine/wall/scan_files.h"
#include "engine/wall/scan_fill.h"
#include "engine/wall/scan_handles.h"
#include "engine/wall/scan_needles.h"
#include "engine/wall/scan_report.h"
#include "engine/wall/scan_start.h"
#include "engine/wall/scan_topology.h"

namespace pontata {
namespace {

using Loops = std::vector<std::vector<std::uint32_t>>;

constexpr double kNoiseHandle = 0.2;  // of the widest extent: longer bridges are no noise
constexpr std::size_t kPartsListed = 20;
constexpr std::string_view kReexport = "Export the scan again, cut to the painted wall";

Problem cancelled(const std::string& name) { return {"reading was cancelled", name, ""}; }

Outcome crop_to_box(Soup& soup, const std::string& name, const ScanOptions& options, Mended& mended) {
  if (!options.crop) return Done{};
  const ScanOptions::Box reach = reach_of(soup, options.placement);
  mended.cropped_m2 = crop(soup, options);
  if (!soup.triangles.empty()) return Done{};
  return Problem{
      fmt::format("nothing of the scan lies inside the box from {} to {}", place_words(options.crop->low),
                  place_words(options.crop->high)),
      name,
      fmt::format("The scan itself reaches from {} to {} in its own frame; give a box that it passes through",
                  place_words(reach.low), place_words(reach.high))};
}

// In a sheet every point has one fan of triangles, so what hangs together by points hangs together.
bool in_one_piece(const Soup& soup) {
  std::vector<std::uint32_t> up(soup.points.size());
  std::iota(up.begin(), up.end(), 0u);
  const auto root = [&](std::uint32_t i) {
    while (up[i] != i) i = up[i] = up[up[i]];
    return i;
  };
  std::size_t pieces = up.size();
  for (const Triangle& t : soup.triangles)
    for (std::size_t k = 1; k < 3; ++k)
      if (const auto a = root(t[0]), b = root(t[k]); a != b) up[a] = b, --pieces;
  return pieces == 1;
}

// Bridges cut open and needles taken out may let a piece fall off: it is a loose part like the others.
void keep_one_piece(Soup& soup, const ScanOptions& options, ScanReport& said, Mended& mended) {
  if (in_one_piece(soup)) return;
  const SheetReport sheet = make_sheet(soup, options.part_at);
  said.dropped_small_parts += sheet.parts_left_out;
  mended.left_out_m2 += sheet.area_left_out_m2;
}

void make_one_sheet(Soup& soup, const ScanOptions& options, ScanReport& said, Mended& mended) {
  const SheetReport sheet = make_sheet(soup, options.part_at);
  said.flipped = sheet.flipped;
  said.dropped_small_parts = sheet.parts_left_out;
  for (std::size_t i = 0; i < std::min(sheet.parts.size(), kPartsListed); ++i)
    said.parts.push_back({sheet.parts[i].area_m2, sheet.parts[i].at});
  mended.crowded_edges = sheet.crowded_edges;
  mended.one_sided = sheet.one_sided;
  mended.left_out_m2 = sheet.area_left_out_m2;
  if (soup.triangles.empty()) return;
  const Vec3 extent = extent_of(soup);
  const HandleReport handles = cut_small_handles(soup, kNoiseHandle * std::max({extent.x, extent.y, extent.z}));
  mended.handles = handles.cut;
  mended.longest_handle_m = handles.longest_m;
  mended.needles = mend_needles(soup);
  keep_one_piece(soup, options, said, mended);
}

Loops rims_of(const Soup& soup) {
  return border_loops(soup.points, soup.triangles, link_triangles(soup.points, soup.triangles));
}

double extent_of_rim(const Soup& soup, const std::vector<std::uint32_t>& rim) {
  Vec3 low(1e300), high(-1e300);
  for (const auto p : rim) low = glm::min(low, soup.points[p]), high = glm::max(high, soup.points[p]);
  return glm::length(high - low);
}

// The wall's own border reaches farthest (the rim of a ragged hole may well be longer); the other rims are holes,
// longest first. The list keeps them as they were found.
void list_and_fill(Soup& soup, Loops rims, const ScanOptions& options, ScanReport& said, Mended& mended) {
  rims.erase(std::max_element(rims.begin(), rims.end(), [&](const auto& a, const auto& b) {
    return extent_of_rim(soup, a) < extent_of_rim(soup, b);
  }));
  Loops wanted;
  for (const auto& rim : rims) {
    ScanReport::Hole hole{loop_length(soup.points, rim), {0, 0, 0}, false};
    for (const auto p : rim) hole.at += soup.points[p] / static_cast<double>(rim.size());
    said.hole_list.push_back(hole);
    if (hole.rim_m <= options.fill_rim_m) wanted.push_back(rim);
  }
  if (wanted.empty()) return;
  const auto filled = fill_holes(soup, wanted);
  const std::size_t first = said.hole_list.size() - wanted.size();  // longest first, so the short ones stand last
  for (std::size_t i = 0; i < wanted.size(); ++i) said.hole_list[first + i].filled = filled[i];
  mended.needles += mend_needles(soup);
  keep_one_piece(soup, options, said, mended);
}

ScanSurface finish(Soup soup, ScanReport report, const ScanOptions& options) {
  ScanSurface out;
  if (options.flip)
    for (Triangle& t : soup.triangles) std::swap(t[1], t[2]);
  out.raw_area_m2 = report.raw_area_m2 = total_area(soup.points, soup.triangles);
  out.mesh.normals = smoothed_normals(soup.points, soup.triangles, options.smoothing_m);
  straighten_border_normals(soup.points, soup.triangles, options.smoothing_m, out.mesh.normals);
  out.mesh.points = std::move(soup.points);
  out.mesh.triangles = std::move(soup.triangles);
  out.mesh.corner_normals = out.mesh.triangles;
  out.report = std::move(report);
  return out;
}

Result<ScanSurface> clean(RawScan raw, const std::string& name, const ScanOptions& options, Progress* progress) {
  ScanReport said;
  Mended mended;
  said.points_read = raw.points.size();
  said.triangles_read = raw.triangles.size();
  const auto fineness = check_fineness(raw, name, options);
  if (!fineness) return fineness.problem();
  if (!fineness->empty()) said.says.push_back(*fineness);
  auto soup = make_soup(std::move(raw), name, options);
  if (!soup) return soup.problem();
  if (!options.crop)
    if (const auto sized = check_extent(*soup, name, options); !sized) return sized.problem();
  report(progress, 0.2, "Joining doubled points");
  said.welded_points = weld(*soup, options.weld_m);
  said.dropped_degenerate = drop_degenerate(*soup);
  said.dropped_duplicate = drop_duplicates(*soup);
  if (const auto cropped = crop_to_box(*soup, name, options, mended); !cropped) return cropped.problem();
  if (is_cancelled(progress)) return cancelled(name);
  report(progress, 0.4, "Finding the painted side");
  make_one_sheet(*soup, options, said, mended);
  if (soup->triangles.empty())
    return Problem{"nothing of the scan's surface is left after cleaning: its triangles have no area", name,
                   std::string(kReexport)};
  if (const auto sized = check_extent(*soup, name, options); !sized) return sized.problem();
  auto rims = rims_of(*soup);
  if (rims.empty())
    return Problem{fmt::format("the scan's surface closes on itself like a ball (near {}), so it has no edge where the "
                               "painting could end",
                               place_words(soup->points[0])),
                   name, "Cut the scan open, down to the part that will be painted: --crop keeps what lies in a box"};
  if (is_cancelled(progress)) return cancelled(name);
  report(progress, 0.55, "Looking at its holes");
  list_and_fill(*soup, std::move(rims), options, said, mended);
  say_mended(said, mended, options);
  say_parts(said, options);
  say_holes(said);
  if (is_cancelled(progress)) return cancelled(name);
  report(progress, 0.7, "Smoothing the surface's direction");
  return finish(std::move(*soup), std::move(said), options);
}

}  // namespace

Result<ScanSurface> read_scan(const std::string& path, const ScanOptions& options, Progress* progress) {
  report(progress, 0, "Reading the scan");
  auto raw = read_any(path);
  if (!raw) return raw.problem();
  return clean(std::move(*raw), path, options, progress);
}

Result<ScanSurface> clean_scan(std::vector<Vec3> points, std::vector<Triangle> triangles, const std::string& name,
                               const ScanOptions& options, Progress* progress) {
  return clean({std::move(points), {}, std::move(triangles), {}, 0}, name, options, progress);
}

}  // namespace pontata
