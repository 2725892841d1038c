// A network of 20,000 seams: 400 giornate of 50 seams on 10 by 10 m, either tight beside each other with one place free
// in the middle, or as islands in one rest face whose rim has all 20,000.
#pragma once

#include <cmath>
#include <numbers>

#include "engine/seams/outline_edit.h"

namespace pontata::busy {

inline constexpr int kSide = 20;
inline constexpr double kCell = 0.5;

// One wavy cell side; neighbours compute the same points.
inline LatticePoint place(double u, double v) {
  const double wave = 0.03 * std::sin(9 * u + 7 * v), border = 2 * std::numbers::pi / (kSide * kCell);
  return to_lattice({u + wave * std::abs(std::sin(border * u / 2)), v + wave * std::abs(std::sin(border * v / 2))});
}

inline Ring cell(int i, int j, int steps, double inset) {
  const double u = i * kCell + inset, v = j * kCell + inset, side = kCell - 2 * inset;
  Ring ring;
  for (int k = 0; k < steps; ++k) ring.push_back(place(u + side * k / steps, v));
  for (int k = 0; k < steps; ++k) ring.push_back(place(u + side, v + side * k / steps));
  for (int k = 0; k < steps; ++k) ring.push_back(place(u + side - side * k / steps, v + side));
  for (int k = 0; k < steps; ++k) ring.push_back(place(u, v + side - side * k / steps));
  return ring;
}

inline Network build(bool islands, const EdgeMeter& meter) {
  const double size = kSide * kCell;
  const std::vector<Ring> border{
      {to_lattice({0, 0}), to_lattice({size, 0}), to_lattice({size, size}), to_lattice({0, size})}};
  Network n = Network::from_border(border, meter).value();
  for (int j = 0; j < kSide; ++j)
    for (int i = 0; i < kSide; ++i) {
      if (!islands && i == 10 && j == 10) continue;  // free wall to draw on
      const auto id = static_cast<std::uint32_t>(1 + j * kSide + i);
      n = insert_outline(n, cell(i, j, islands ? 13 : 24, islands ? 0.06 : 0), {id}, meter)->network;
    }
  return n;
}

inline Ring drawn(double u, double v, double radius, int corners) {
  Ring ring;
  for (int i = 0; i < corners; ++i) {
    const double angle = 2 * std::numbers::pi * i / corners;
    ring.push_back(to_lattice({u + radius * std::cos(angle), v + radius * std::sin(angle)}));
  }
  return ring;
}

}  // namespace pontata::busy
