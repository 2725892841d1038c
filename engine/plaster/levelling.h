// The levelling coat: the arriccio that brings a scanned wall true.
//
// Arriccio is laid to a straightedge. The fair surface it is laid to follows the wall's own shape (plane, vault, out of
// plumb) and bridges hollows and bumps shorter than the straightedge; engine/plaster/surface_patches.h says how it is
// fitted: at every place the evenly curved patch, as wide as the straightedge is long, that most of the wall agrees
// with. It is then brought toward the painter by one constant distance, so that the coat has its least thickness
// everywhere but on the highest half per cent of the area: those places are listed as high spots. One distance, and not
// one that changes from place to place, keeps the surface as true as it was fitted.
//
// The scan's own noise is neither hollow nor bump: the wall is taken as the patches of 100 mm radius (a trowel) that
// fit it best. With a straightedge of 2 m, waves of 0.6 m are levelled to their troughs and waves of 6 m are kept as
// the wall's shape (tests/plaster/levelling_test.cpp); lengths between are levelled in part.
//
// Limits: a hollow's faint rim counts as wall, so that a dent 20 mm deep holds about 7 % more than is told for it
// alone, and a bump much narrower than the straightedge is told lower than it is; the whole is right to 2 %. An arris
// inside one wall is eased over the straightedge's reach, and so, by some millimetres, is the change from straight to
// curved at a springing inside one scan. Crop the scan into one wall per web or take a shorter straightedge there.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/base/progress.h"
#include "engine/base/result.h"
#include "engine/chart/charted_wall.h"
#include "engine/giornate/giornata.h"
#include "engine/plaster/mortar.h"
#include "engine/seams/network.h"

namespace pontata {

// Share of the area that may get less than the least thickness.
inline constexpr double kHighShare = 0.005;
// A place counts as a high spot from here on: closer is within what a scan can tell.
inline constexpr double kHighSpotFrom = 0.001;  // m
// Fresh lime mortar, kg/L: 50 m2 to the tonne at 10 mm (a maker's technical page, "External Lime Putty Renders").
inline constexpr double kMortarDensity = 2.0;

// A place where the coat would be thinner than the least thickness.
struct HighSpot {
  Vec3 at{0, 0, 0};      // its highest place, building frame, m
  ChartPoint place;      // the same in the chart
  double height_m = 0;   // what is missing there to the least thickness
  double area_m2 = 0;    // where more than kHighSpotFrom is missing
  bool through = false;  // it stands out of the fair surface: no coat at all
};

struct LevelCoat {
  std::vector<double> depth_m;    // by mesh point, along the normal, at least 0
  std::vector<double> volume_m3;  // by triangle: parallel-surface terms with the depth's own powers (see levelling.cpp)
  double area_m2 = 0;             // fair
  double total_m3 = 0;
  double flat_m3 = 0;  // area times depth: what the wall's curvature and the coat's thickness would leave out
  double mean_m = 0, greatest_m = 0, thinnest_m = 0;
  double shift_m = 0;                // from the fair surface as fitted to the face of the coat
  double thin_share = 0;             // of the area, under the least thickness
  double roughness_m = 0;            // root mean square distance of the wall from the fair surface as fitted
  std::vector<HighSpot> high_spots;  // the highest first, of 1 cm2 or more
};

// Refuses a wall that was not scanned, settings out of range, and a wall smaller than a trowel. A Problem whose `what`
// is "stopped" when cancelled. O(n log n); a million triangles take some seconds (tests/bench).
Result<LevelCoat> level_wall(const ChartedWall& wall, const LevelSettings& settings, const std::string& name,
                             Progress* progress = nullptr);

struct LevelShare {
  GiornataId id;  // none: the rest
  double area_m2 = 0, volume_m3 = 0;
  double mean_m = 0, greatest_m = 0;
};
struct LevelShares {
  std::vector<LevelShare> giornate;  // by id
  LevelShare rest;
  std::vector<GiornataId> spot_of;  // by high spot of the coat: the giornata it lies in; none: the rest
  double residual_m3 = 0;           // giornate + rest - wall; rounding only
};
// Every triangle's volume shared out by how much of it lies in each face.
LevelShares level_shares(const ChartedWall& wall, const LevelCoat& coat, const Network& network,
                         std::span<const Giornata> giornate);

// What a plasterer should hear of this coat: layers, deep places, high spots, old plaster. Plain sentences.
std::vector<std::string> level_notes(const LevelCoat& coat, const LevelSettings& settings,
                                     std::optional<bool> old_plaster);

}  // namespace pontata
