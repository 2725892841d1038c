#include "engine/base/crossing.h"

namespace pontata {

namespace {

// Floor of a / b for b > 0.
Int128 floor_div(Int128 a, Int128 b) { return a >= 0 ? a / b : -((-a + b - 1) / b); }

}  // namespace

LatticePoint rounded_crossing(LatticePoint a, LatticePoint b, LatticePoint c, LatticePoint d) {
  Int128 above = orient(c, d, a), whole = above - orient(c, d, b);
  if (whole < 0) {
    above = -above;
    whole = -whole;
  }
  const auto round = [&](std::int64_t from, std::int64_t run) {
    return from + static_cast<std::int64_t>(floor_div(2 * above * run + whole, 2 * whole));
  };
  return {round(a.x, b.x - a.x), round(a.y, b.y - a.y)};
}

}  // namespace pontata
