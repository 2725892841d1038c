#include "engine/wall/shape_sizes.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace pontata {

SegmentSizes segment_sizes(double span, double rise) {
  const double half = 0.5 * span;
  if (rise >= half) return {half, std::numbers::pi / 2};  // half a circle
  return {(half * half + rise * rise) / (2 * rise), 2 * std::atan2(rise, half)};
}

ConeSizes cone_sizes(const ShapeSpec& spec) {
  ConeSizes out{0.5 * spec.span, 0.5 * spec.top_span, 0, turn_of(spec), 0};
  out.slope = std::hypot(spec.height, out.foot - out.top);
  out.share = (out.foot - out.top) / out.slope;
  return out;
}

double turn_of(const ShapeSpec& spec) {
  return spec.angle_deg >= 360 ? 2 * std::numbers::pi : spec.angle_deg * (std::numbers::pi / 180);
}

int steps(double length, double step, int least) {
  return std::max(least, static_cast<int>(std::ceil(length / step * (1 - 1e-12))));
}

int straight_steps(double length, double step, int across) {
  const double most = kMostTriangles / 2 / across;
  return length / step > most ? std::max(1, static_cast<int>(most)) : steps(length, step, 1);
}

}  // namespace pontata
