// Sizes that the shapes share.
#pragma once

namespace pontata {

// Circular segment over a span with a rise (both m): its radius and half of its opening angle (radians).
struct SegmentSizes {
  double radius = 0;
  double half_angle = 0;
};
SegmentSizes segment_sizes(double span, double rise);

}  // namespace pontata
