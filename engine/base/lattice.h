// The integer lattice in the chart on which all topology lives.
//
// Pitch 2^-28 m (3.7 nm): a chart may be 4096 m wide before a coordinate reaches 2^40, and rounding a
// crossing to the lattice moves it by so little that its sliver stays under 1e-9 m^2 per metre of seam.
// Every lattice coordinate converts to a double of metres exactly, and back.
#pragma once

#include <compare>
#include <cstdint>
#include <functional>
#include <vector>

#include "engine/base/vec.h"

namespace pontata {

inline constexpr int kPitchLog2 = -28;
inline constexpr double kPitch = 1.0 / (1 << 28);                     // m
inline constexpr std::int64_t kLatticeLimit = std::int64_t{1} << 40;  // |x|, |y| stay below

struct LatticePoint {
  std::int64_t x = 0;
  std::int64_t y = 0;
  auto operator<=>(const LatticePoint&) const = default;
};

// A place in the chart in metres; an address, not a ruler.
struct ChartPoint {
  double u = 0;
  double v = 0;
  bool operator==(const ChartPoint&) const = default;
};

// Nearest lattice point. Precondition: finite and inside the limit (see fits_lattice).
LatticePoint to_lattice(ChartPoint p);
bool fits_lattice(ChartPoint p);
inline ChartPoint to_chart(LatticePoint p) {
  return {static_cast<double>(p.x) * kPitch, static_cast<double>(p.y) * kPitch};
}
inline Vec2 to_vec(ChartPoint p) { return {p.u, p.v}; }
inline ChartPoint to_chart(Vec2 p) { return {p.x, p.y}; }

using Ring = std::vector<LatticePoint>;  // closed, last point joined to the first, none repeated

}  // namespace pontata

template <>
struct std::hash<pontata::LatticePoint> {
  std::size_t operator()(const pontata::LatticePoint& p) const noexcept {
    auto h = static_cast<std::uint64_t>(p.x) * 0x9e3779b97f4a7c15u;
    h ^= (h >> 29);
    h += static_cast<std::uint64_t>(p.y) * 0xbf58476d1ce4e5b9u;
    return static_cast<std::size_t>(h ^ (h >> 32));
  }
};
