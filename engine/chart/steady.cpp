#include "engine/chart/steady.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

namespace pontata {

namespace {

constexpr double kCell = 0.1;            // m
constexpr double kLeastCosine = 0.7071;  // of 45 degrees

using Key = std::array<std::int32_t, 3>;
using Shares = std::array<double, 8>;

Key cell_of(const Vec3& p) {
  return {static_cast<std::int32_t>(std::floor(p.x / kCell)), static_cast<std::int32_t>(std::floor(p.y / kCell)),
          static_cast<std::int32_t>(std::floor(p.z / kCell))};
}

Key node_of(const Key& cell, std::size_t n) {
  return {cell[0] + static_cast<std::int32_t>(n & 1), cell[1] + static_cast<std::int32_t>((n >> 1) & 1),
          cell[2] + static_cast<std::int32_t>(n >> 2)};
}

// Shares of a cell's eight nodes in a place in it (trilinear).
Shares shares_of(const Vec3& p) {
  const Vec3 f = glm::fract(p / kCell);
  Shares shares;
  for (std::size_t n = 0; n < 8; ++n)
    shares[n] = ((n & 1) != 0 ? f.x : 1 - f.x) * ((n & 2) != 0 ? f.y : 1 - f.y) * ((n & 4) != 0 ? f.z : 1 - f.z);
  return shares;
}

// Sums at the nodes round a set of places.
class Grid {
 public:
  explicit Grid(const std::vector<Vec3>& places) {
    std::vector<Key> cells;
    for (const Vec3& p : places)
      if (const Key cell = cell_of(p); cells.empty() || cells.back() != cell) cells.push_back(cell);
    keep_each_once(cells);
    for (const Key& cell : cells)
      for (std::size_t n = 0; n < 8; ++n) nodes_.push_back(node_of(cell, n));
    keep_each_once(nodes_);
    sums_.assign(nodes_.size(), Vec3{0, 0, 0});
  }

  // The eight sums round a place; neighbouring triangles mostly ask for the same.
  const std::array<Vec3*, 8>& around(const Vec3& p) {
    if (const Key cell = cell_of(p); !found_[0] || cell != last_) {
      last_ = cell;
      for (std::size_t n = 0; n < 8; ++n)
        found_[n] = &sums_[static_cast<std::size_t>(std::lower_bound(nodes_.begin(), nodes_.end(), node_of(cell, n)) -
                                                    nodes_.begin())];
    }
    return found_;
  }

 private:
  static void keep_each_once(std::vector<Key>& keys) {
    std::sort(keys.begin(), keys.end());
    keys.erase(std::unique(keys.begin(), keys.end()), keys.end());
  }

  std::vector<Key> nodes_;
  std::vector<Vec3> sums_;
  Key last_{};
  std::array<Vec3*, 8> found_{};
};

}  // namespace

std::vector<Vec3> steady_directions(const SurfaceMesh& mesh) {
  std::vector<Vec3> middles;
  middles.reserve(mesh.triangles.size());
  for (const auto& [i, j, k] : mesh.triangles)
    middles.push_back((mesh.points[i] + mesh.points[j] + mesh.points[k]) / 3.0);
  Grid grid(middles);
  for (std::size_t t = 0; t < middles.size(); ++t) {
    const auto& [i, j, k] = mesh.triangles[t];
    const Vec3 area = glm::cross(mesh.points[j] - mesh.points[i], mesh.points[k] - mesh.points[i]);
    const auto shares = shares_of(middles[t]);
    const auto& sums = grid.around(middles[t]);
    for (std::size_t n = 0; n < 8; ++n) *sums[n] += shares[n] * area;
  }
  std::vector<Vec3> directions;
  directions.reserve(middles.size());
  for (std::size_t t = 0; t < middles.size(); ++t) {
    const auto shares = shares_of(middles[t]);
    const auto& sums = grid.around(middles[t]);
    Vec3 sum{0, 0, 0};
    for (std::size_t n = 0; n < 8; ++n) sum += shares[n] * *sums[n];
    const auto& [p, q, r] = mesh.corner_normals[t];
    const Vec3 own = glm::normalize(mesh.normals[p] + mesh.normals[q] + mesh.normals[r]);
    const double length = glm::length(sum);
    directions.push_back(glm::dot(sum, own) > kLeastCosine * length ? sum / length : own);
  }
  return directions;
}

}  // namespace pontata
