// Walls, meters and outlines for the network's tests.
#pragma once

#include <catch2/catch.hpp>
#include <cmath>
#include <random>
#include <vector>

#include "engine/seams/outline_edit.h"

namespace pontata::fixtures {

inline LatticePoint at(double u, double v) { return to_lattice({u, v}); }

// Green's form of plane area, in metres.
inline EdgeMeasure flat_measure(LatticePoint a, LatticePoint b) {
  const ChartPoint p = to_chart(a), q = to_chart(b);
  return {0.5 * (p.u * q.v - q.u * p.v), 0, 0, std::hypot(q.u - p.u, q.v - p.v)};
}
inline EdgeMeter flat_meter() { return flat_measure; }

// A smooth wall that is not flat: area density 1 + u^2 / 4, from the form (u + u^3 / 12) dv, integrated exactly along
// straight chart segments by Simpson's rule (the integrand is a cubic).
inline EdgeMeasure bulged_measure(LatticePoint a, LatticePoint b) {
  const ChartPoint p = to_chart(a), q = to_chart(b);
  const auto f = [](double u) { return u + u * u * u / 12; };
  const double mean = (f(p.u) + 4 * f((p.u + q.u) / 2) + f(q.u)) / 6;
  return {mean * (q.v - p.v), 0, 0, std::hypot(q.u - p.u, q.v - p.v)};
}
inline EdgeMeter bulged_meter() { return bulged_measure; }

inline Ring rectangle(double u0, double v0, double u1, double v1) {
  return {at(u0, v0), at(u1, v0), at(u1, v1), at(u0, v1)};
}
inline Ring reversed(Ring r) { return {r.rbegin(), r.rend()}; }

inline Ring regular(double u, double v, double radius, int corners, double turn = 0) {
  Ring ring;
  for (int i = 0; i < corners; ++i) {
    const double angle = turn + 2 * M_PI * i / corners;
    ring.push_back(at(u + radius * std::cos(angle), v + radius * std::sin(angle)));
  }
  return ring;
}

inline Network plain_wall(double width = 4, double height = 3, const EdgeMeter& meter = flat_meter()) {
  const std::vector<Ring> rings{rectangle(0, 0, width, height)};
  return Network::from_border(rings, meter).value();
}

inline std::int64_t area_of(const Network& n, GiornataId id) {
  std::int64_t sum = 0;
  for (const FaceId f : n.faces_of(id)) sum += n.sums(f).area;
  return sum;
}
inline std::int64_t area_of_all(const Network& n) {
  std::int64_t sum = 0;
  for (const FaceId f : n.faces()) sum += n.sums(f).area;
  return sum;
}
// Every invariant holds and the faces make up the wall.
inline void require_sound(const Network& n) {
  const auto faults = n.check();
  for (const auto& f : faults) UNSCOPED_INFO(f.message());
  REQUIRE(faults.empty());
  REQUIRE(area_of_all(n) == n.wall_area());
}
// Every seam parts two owners, or is border.
inline void require_seams_part(const Network& n) {
  for (std::uint32_t k = 0; k < n.half_edge_slots() / 2; ++k) {
    if (!n.alive(SeamId{k}) || n.on_border({k})) continue;
    const auto owner = [&](std::uint32_t h) { return n.face(n.half_edge({h}).face).owner; };
    REQUIRE(owner(2 * k) != owner(2 * k + 1));
  }
}
inline double m2(std::int64_t units) { return static_cast<double>(units) * kAreaUnit; }

}  // namespace pontata::fixtures
