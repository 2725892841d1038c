// "Check one known distance": how far off a scan's size is, from one length measured by hand on the real wall.
#pragma once

#include <string>

#include "engine/wall/scan.h"

namespace pontata {

struct KnownScale {
  double factor = 1;      // known by measured; for ScanOptions::scale
  double measured_m = 0;  // on the scan, straight
  double known_m = 0;
  bool warns = false;  // more than 2 % off: hardly the scanner's doing
  std::string says;    // one sentence for the painter, two when it warns
};

// The straight distance between the places of the scan nearest to `from` and `to`, against `known_m` measured on the
// wall. The places are given in the building frame as the scan stands there with options.scale as it is (what `address`
// or the window show before the scaling); crop, part and filling are left out of account, so a place on any part will
// do. The factor includes options.scale: it takes its place. Refuses a known length that is not above 0, places farther
// than 5 cm (or 5 % of the distance) from any surface, places less than 10 cm apart, and factors outside 0.2 to 5,
// where the unit is the likelier error.
Result<KnownScale> known_scale(const std::string& path, const ScanOptions& options, double known_m, const Vec3& from,
                               const Vec3& to, Progress* progress = nullptr);

// The same on a surface that stands in the building already, taken in with `scale`. `name` is used in messages.
Result<KnownScale> known_scale(const SurfaceMesh& mesh, const std::string& name, double scale, double known_m,
                               const Vec3& from, const Vec3& to);

}  // namespace pontata
