// How thin a patch is: local width from the medial axis of the flattened patch, never of the chart.
#pragma once

#include <optional>
#include <span>

#include "engine/flatten/flattening.h"

namespace pontata {

struct ThinPlace {
  double width_m = 0;      // twice the medial radius there
  double angle_deg = 180;  // for a tip: its opening angle
  Vec2 flat{0, 0};
  ChartPoint at;
};

// The thinnest place where the patch is narrower than `width_m` over a length of at least `width_m`, or a tip whose
// inside angle is below `angle_deg`, judged over `width_m` of its length so that the grain of a drawn line is no tip;
// nullopt when there is none. See engine/flatten/medial_axis.h.
std::optional<ThinPlace> thin_place(const Patch& patch, const Flattening& flat, double width_m, double angle_deg);

}  // namespace pontata
