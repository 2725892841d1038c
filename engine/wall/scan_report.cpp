#include "engine/wall/scan_report.h"

#include <fmt/format.h>

#include <algorithm>

#include "engine/base/units.h"

namespace pontata {
namespace {

constexpr std::size_t kLinesListed = 12;  // parts or holes told one by one in text; the report holds all

}  // namespace

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

void say_mended(ScanReport& report, const Mended& mended, const ScanOptions& options) {
  auto& says = report.says;
  if (options.scale != 1)
    says.push_back(
        fmt::format("everything scaled by {}, from a distance known on the wall", format_fixed(options.scale, 4)));
  if (report.welded_points > 0)
    says.push_back(fmt::format("{} closer than {} joined",
                               counted(report.welded_points, "doubled point", "doubled points"),
                               length_words(options.weld_m)));
  if (report.dropped_degenerate > 0)
    says.push_back(
        fmt::format("{} without area left out", counted(report.dropped_degenerate, "triangle", "triangles")));
  if (report.dropped_duplicate > 0)
    says.push_back(fmt::format("{} given twice left out", counted(report.dropped_duplicate, "triangle", "triangles")));
  if (options.crop)
    says.push_back(fmt::format("cut to the box from {} to {}; {} outside left out", place_words(options.crop->low),
                               place_words(options.crop->high), area_words(mended.cropped_m2)));
  if (mended.crowded_edges > 0)
    says.push_back(fmt::format("at {} more than two triangles met; the smoothest sheet was kept",
                               counted(mended.crowded_edges, "edge", "edges")));
  if (mended.one_sided) says.push_back("part of the surface twists so that back and front meet; it was cut there");
  if (report.flipped > 0)
    says.push_back(
        fmt::format("{} turned to face the painter with the rest", counted(report.flipped, "triangle", "triangles")));
  if (report.dropped_small_parts > 0)
    says.push_back(fmt::format("{} ({} in all) left out; only {} is the wall",
                               counted(report.dropped_small_parts, "loose part", "loose parts"),
                               area_words(mended.left_out_m2),
                               options.part_at ? "the connected part nearest to " + place_words(*options.part_at)
                                               : "the largest connected part"));
  if (mended.handles > 0)
    says.push_back(fmt::format("{} of scanner's noise cut open; the longest cut is {}",
                               counted(mended.handles, "small bridge or tunnel", "small bridges and tunnels"),
                               length_words(mended.longest_handle_m)));
  if (mended.needles > 0)
    says.push_back(fmt::format("{} mended", counted(mended.needles, "needle-thin triangle", "needle-thin triangles")));
}

void say_parts(ScanReport& report, const ScanOptions& options) {
  if (report.parts.size() < 2) return;
  const std::size_t shown = std::min(report.parts.size(), kLinesListed);
  std::string line = "parts, largest first:";
  for (std::size_t i = 0; i < shown; ++i)
    line +=
        fmt::format("{} {} at {}", i ? ";" : "", area_words(report.parts[i].area_m2), place_words(report.parts[i].at));
  if (shown < report.dropped_small_parts + 1)
    line += fmt::format("; and {} smaller", report.dropped_small_parts + 1 - shown);
  report.says.push_back(line);
  if (!options.part_at && report.parts[1].area_m2 > 0.2 * report.parts[0].area_m2)
    report.says.push_back("another part is nearly as large: if that is the wall, say so with --part and its place");
}

void say_holes(ScanReport& report) {
  report.holes = report.hole_list.size();
  if (report.holes == 0) return;
  report.longest_hole_rim_m = report.hole_list[0].rim_m;
  const auto filled = static_cast<std::size_t>(
      std::count_if(report.hole_list.begin(), report.hole_list.end(), [](const auto& h) { return h.filled; }));
  std::string line = counted(report.holes, "hole", "holes") + " in the surface; the longest rim is " +
                     length_words(report.longest_hole_rim_m) + ", near " + place_words(report.hole_list[0].at);
  if (filled > 0) line += fmt::format("; {} filled, {} left open", filled, report.holes - filled);
  report.says.push_back(line);
  const std::size_t shown = std::min(report.holes, kLinesListed);
  for (std::size_t i = 0; i < shown; ++i) {
    const auto& hole = report.hole_list[i];
    report.says.push_back(fmt::format("hole {}: rim {}, near {}, {}", i + 1, length_words(hole.rim_m),
                                      place_words(hole.at), hole.filled ? "filled" : "left open"));
  }
  if (shown < report.holes)
    report.says.push_back(fmt::format("and {} smaller", counted(report.holes - shown, "hole", "holes")));
}

}  // namespace pontata
