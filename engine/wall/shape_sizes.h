// Sizes that the shapes share.
#pragma once

#include "engine/wall/shapes.h"

namespace pontata {

// Circular segment over a span with a rise (both m): its radius and half of its opening angle (radians).
struct SegmentSizes {
  double radius = 0;
  double half_angle = 0;
};
SegmentSizes segment_sizes(double span, double rise);

// Frustum of a cone: radii at foot and top, length along the slope (m), how far it turns (radians), and the share of a
// turn that is left when it is laid flat: (foot - top) / slope, negative where it widens upward.
struct ConeSizes {
  double foot = 0, top = 0, slope = 0, angle = 0, share = 0;
};
ConeSizes cone_sizes(const ShapeSpec& spec);

double turn_of(const ShapeSpec& spec);  // radians

// Walls far beyond any building are cut more coarsely, so that a wrong unit does not fill the memory.
inline constexpr double kMostTriangles = 2e6;
inline constexpr double kAspect = 4;  // steps along straight lines may be this much longer than across

// Number of equal steps, each at most `step`, in `length`.
int steps(double length, double step, int least);
// The same along straight lines, where longer steps cost no accuracy: at most as many as keep the wall to its most
// triangles with `across` steps the other way.
int straight_steps(double length, double step, int across);

}  // namespace pontata
