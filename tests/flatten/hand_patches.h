// Patches built point by point from closed forms, without a wall or a chart.
#pragma once

#include <cmath>
#include <functional>

#include "engine/flatten/flattening.h"

namespace pontata::fixtures {

inline constexpr double kPi = 3.14159265358979323846;

// A grid of (n + 1) x (m + 1) points over [0, w] x [0, h], lifted by `place`; its one rim has a corner at every rim
// point.
inline Patch grid_patch(double w, double h, int n, int m, const std::function<Vec3(double, double)>& place) {
  Patch patch;
  const auto id = [&](int i, int j) { return static_cast<std::uint32_t>(j * (n + 1) + i); };
  for (int j = 0; j <= m; ++j)
    for (int i = 0; i <= n; ++i) {
      const double u = w * i / n, v = h * j / m;
      patch.points.push_back(place(u, v));
      patch.places.push_back({u, v});
    }
  for (int j = 0; j < m; ++j)
    for (int i = 0; i < n; ++i) {
      patch.triangles.push_back({id(i, j), id(i + 1, j), id(i + 1, j + 1)});
      patch.triangles.push_back({id(i, j), id(i + 1, j + 1), id(i, j + 1)});
    }
  std::vector<std::uint32_t> rim;
  for (int i = 0; i < n; ++i) rim.push_back(id(i, 0));
  for (int j = 0; j < m; ++j) rim.push_back(id(n, j));
  for (int i = n; i > 0; --i) rim.push_back(id(i, m));
  for (int j = m; j > 0; --j) rim.push_back(id(0, j));
  patch.rims = {rim};
  patch.corners.emplace_back();
  for (std::uint32_t i = 0; i < rim.size(); ++i) patch.corners[0].push_back(i);
  return patch;
}

// The same slit from the middle of its lower side up to row `tip`, the lips still closed. n is even.
inline Patch slit_grid_patch(double w, double h, int n, int m, int tip,
                             const std::function<Vec3(double, double)>& place) {
  Patch p = grid_patch(w, h, n, m, place);
  const auto left = [&](int j) { return static_cast<std::uint32_t>(j * (n + 1) + n / 2); };
  const auto first = static_cast<std::uint32_t>(p.points.size());
  for (int j = 0; j < tip; ++j) p.points.push_back(p.points[left(j)]), p.places.push_back(p.places[left(j)]);
  for (Triangle& t : p.triangles) {
    if (p.places[t[0]].u + p.places[t[1]].u + p.places[t[2]].u < 1.5 * w) continue;
    for (std::uint32_t& c : t)
      for (int j = 0; j < tip; ++j)
        if (c == left(j)) c = first + static_cast<std::uint32_t>(j);
  }
  std::vector<std::uint32_t> lips;
  for (int j = 1; j <= tip; ++j) lips.push_back(left(j));
  for (int j = tip; j-- > 0;) lips.push_back(first + static_cast<std::uint32_t>(j));
  p.rims[0].insert(p.rims[0].begin() + n / 2 + 1, lips.begin(), lips.end());
  p.corners[0].clear();
  return p;
}

// A geodesic disc of angular radius alpha about the lowest point of a sphere, of `rings` rings, six
// times k points on ring k.
inline Patch disc_patch(double radius, double alpha, int rings) {
  Patch patch;
  std::vector<std::uint32_t> first{0};
  for (int k = 0; k <= rings; ++k) {
    if (k > 0) first.push_back(static_cast<std::uint32_t>(patch.points.size()));
    for (int i = 0; i < std::max(1, 6 * k); ++i) {
      const double theta = alpha * k / rings, phi = k == 0 ? 0 : 2 * kPi * i / (6 * k);
      // centre at height 0; the disc faces the painter at the centre, its middle on the far wall (y > 0), up is z
      patch.points.emplace_back(radius * std::sin(theta) * std::cos(phi), radius * std::cos(theta),
                                radius * std::sin(theta) * std::sin(phi));
      patch.places.push_back({radius * theta * std::cos(phi), radius * theta * std::sin(phi)});
    }
  }
  const auto at = [&](int k, int i) {
    return k == 0 ? 0 : first[static_cast<std::size_t>(k)] + static_cast<std::uint32_t>(i % (6 * k));
  };
  for (int k = 1; k <= rings; ++k)
    for (int s = 0; s < 6; ++s)
      for (int i = 0; i < k; ++i) {
        const int out = s * k + i, in = s * (k - 1) + i;
        patch.triangles.push_back({at(k, out), at(k, out + 1), at(k - 1, in)});
        if (i + 1 < k) patch.triangles.push_back({at(k, out + 1), at(k - 1, in + 1), at(k - 1, in)});
      }
  patch.rims.emplace_back();
  patch.corners.emplace_back();
  for (int i = 0; i < 6 * rings; ++i) {
    patch.rims[0].push_back(at(rings, i));
    patch.corners[0].push_back(static_cast<std::uint32_t>(i));
  }
  patch.sphere = Sphere{{0, 0, 0}, radius};
  return patch;
}

}  // namespace pontata::fixtures
