// Sizes that the shapes share.
#pragma once

namespace pontata {

// Circular segment over a span with a rise (both m): its radius and half of its opening angle (radians).
struct SegmentSizes {
  double radius = 0;
  double half_angle = 0;
};
SegmentSizes segment_sizes(double span, double rise);

// Walls far beyond any building are cut more coarsely, so that a wrong unit does not fill the memory.
inline constexpr double kMostTriangles = 2e6;

}  // namespace pontata
