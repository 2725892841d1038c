// The coats below the intonaco, and where each coat lies from the surface that was measured.
//
// Coats are parallel surfaces (Encyclopedia of Mathematics, "Parallel surfaces"): between the distances s0 and s1 from
// a surface of area a0 with the offset terms a1 and a2 (engine/chart/metric.h) lie a0 (s1 - s0) + a1 (s1^2 - s0^2)/2 +
// a2 (s1^3 - s0^3)/3. So every coat changes area and bend for the next: in a half cylinder of 0.5 m the same intonaco
// is 3.4 % less on 17 mm of ground than on the bare wall.
//
//   surface.is arriccio:  rinzaffo and arriccio behind the surface, intonaco from it toward the painter
//   surface.is bare wall: rinzaffo from it, arriccio on that, intonaco on that
//
// Behind the surface a coat ends on the bisecting plane of an arris as it does before it (engine/chart/arris.h).
#pragma once

#include "engine/chart/metric.h"
#include "engine/plaster/mortar.h"

namespace pontata {

// Area and its offset terms over a part of a wall; they add up over parts.
struct PatchTerms {
  double area_m2 = 0, bend_m = 0, gauss = 0;
  PatchTerms& operator+=(const PatchTerms& o);
  PatchTerms& operator-=(const PatchTerms& o);
};
PatchTerms terms_of(const GiornataMeasure& giornata);
PatchTerms terms_of(const ChartedWall& wall);  // the whole wall; O(triangles)

// m3 between two parallel surfaces, from_m <= to_m, m toward the painter from the one measured; negative: behind it.
double layer_volume(const PatchTerms& patch, double from_m, double to_m);
// Area of the parallel surface at this distance, m2; never below 0.
double area_at(const PatchTerms& patch, double at_m);

// What lies between the measured surface and the intonaco: 0 where the surface is the arriccio's own face, m.
double ground_before_m(const PlasterSettings& settings);

// The arriccio of a scanned bare wall (levelling.h) over a patch: it stands for one of even thickness.
struct LevelledGround {
  double volume_m3 = 0, mean_m = 0;
};

struct GroundNeed : Materials {
  std::vector<CoatNeed> coats;  // those that are laid, the first first
  double mortar_L = 0;
  double keys_L = 0;  // of it, in joints and keys of the bare wall
};
// Rinzaffo and arriccio of a patch, with keys (in the coat laid first, by the bare wall's area) and waste; no margin:
// the ground is laid in one. A levelled arriccio on a rinzaffo of thickness r takes its volume and a1 r times its mean
// depth: right to the first order in r, which is 1e-5 of it at a radius of 3 m. Refuses what validate() refuses.
Result<GroundNeed> ground_need(const PatchTerms& patch, const PlasterSettings& settings,
                               std::optional<LevelledGround> levelled = std::nullopt);

}  // namespace pontata
