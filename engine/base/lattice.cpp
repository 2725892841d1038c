#include "engine/base/lattice.h"

#include <cmath>

namespace pontata {

LatticePoint to_lattice(ChartPoint p) {
  return {static_cast<std::int64_t>(std::llround(std::ldexp(p.u, -kPitchLog2))),
          static_cast<std::int64_t>(std::llround(std::ldexp(p.v, -kPitchLog2)))};
}

bool fits_lattice(ChartPoint p) {
  const double limit = static_cast<double>(kLatticeLimit) * kPitch - 1.0;
  return std::isfinite(p.u) && std::isfinite(p.v) && std::abs(p.u) < limit && std::abs(p.v) < limit;
}

}  // namespace pontata
