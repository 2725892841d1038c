#include "engine/wall/known_scale.h"

#include <fmt/format.h>

#include <cmath>

#include "engine/base/units.h"
#include "engine/wall/picking.h"
#include "engine/wall/scan_files.h"
#include "engine/wall/scan_report.h"
#include "engine/wall/scan_start.h"

namespace pontata {
namespace {

constexpr double kLeastFactor = 0.2, kMostFactor = 5, kWarnFrom = 0.02;
constexpr double kReach = 0.05, kReachShare = 0.05, kLeastDistance = 0.10;  // m, share, m

std::string metres(double m) { return format_fixed(m, 3) + " m"; }

KnownScale judged(double scale, double measured_m, double known_m) {
  KnownScale out{scale * known_m / measured_m, measured_m, known_m, false, ""};
  const double off = known_m / measured_m;
  out.warns = std::abs(off - 1) > kWarnFrom;
  out.says = fmt::format("the scan measured {} where {} was measured by hand: everything is scaled by {}",
                         metres(measured_m), metres(known_m), format_fixed(off, 4));
  if (out.warns)
    out.says += fmt::format(". That is {} % off: check the unit, the two places and the tape",
                            format_fixed(std::abs(off - 1) * 100, 1));
  return out;
}

}  // namespace

Result<KnownScale> known_scale(const SurfaceMesh& mesh, const std::string& name, double scale, double known_m,
                               const Vec3& from, const Vec3& to) {
  if (!(known_m > 0) || !std::isfinite(known_m))
    return Problem{"the known distance is not a length above 0", name, "Give what the tape showed, like 4.00m"};
  auto shared = std::make_shared<SurfaceMesh>();
  shared->points = mesh.points;
  shared->triangles = mesh.triangles;
  const PickTree tree(shared);
  const double apart = glm::length(to - from), reach = std::max(kReach, kReachShare * apart);
  Vec3 places[2];
  for (int k = 0; k < 2; ++k) {
    const Vec3& asked = k == 0 ? from : to;
    const NearestHit hit = tree.nearest(asked);
    if (hit.distance > reach)
      return Problem{fmt::format("there is no surface near {}; the nearest lies {} away", place_words(asked),
                                 length_words(hit.distance)),
                     name, "Give the two places as address or the window show them on this scan"};
    places[k] = position(mesh, hit.point);
  }
  const double measured = glm::length(places[1] - places[0]);
  if (measured < kLeastDistance)
    return Problem{fmt::format("the two places lie only {} apart, too near for a scale", length_words(measured)), name,
                   "Measure between two places as far apart as the tape reaches"};
  const double off = known_m / measured;
  if (off < kLeastFactor || off > kMostFactor)
    return Problem{fmt::format("the scan measures {} where {} was measured by hand", metres(measured), metres(known_m)),
                   name, "Check the unit of the scan first: --unit mm, cm, m, ft or in"};
  return judged(scale, measured, known_m);
}

Result<KnownScale> known_scale(const std::string& path, const ScanOptions& options, double known_m, const Vec3& from,
                               const Vec3& to, Progress* progress) {
  report(progress, 0, "Reading the scan");
  auto raw = read_any(path);
  if (!raw) return raw.problem();
  const auto soup = make_soup(std::move(*raw), path, options);
  if (!soup) return soup.problem();
  SurfaceMesh mesh;
  mesh.points = soup->points;
  mesh.triangles = soup->triangles;
  return known_scale(mesh, path, options.scale, known_m, from, to);
}

}  // namespace pontata
