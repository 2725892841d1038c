#include "engine/wall/scan_plate.h"

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>
#include <unordered_map>

namespace pontata {
namespace {

using Matrix = Eigen::SparseMatrix<double>;
using Entry = Eigen::Triplet<double>;

constexpr double kMostCotangent = 20;

Vec3 mean_direction(const std::vector<Vec3>& points, const std::vector<Triangle>& filling) {
  Vec3 sum{0, 0, 0};
  for (const Triangle& t : filling) sum += glm::cross(points[t[1]] - points[t[0]], points[t[2]] - points[t[0]]);
  return sum / std::max(glm::length(sum), 1e-300);
}

// Heights of the points round the filling and the bending at those whose ring is whole.
class Plate {
 public:
  Plate(std::vector<Vec3>& points, const Vec3& up, std::size_t first_new)
      : points_(points), up_(up), first_(first_new) {}

  // Points where bending counts: all of the filling.
  void mark(const std::vector<Triangle>& filling) {
    for (const Triangle& t : filling)
      for (const auto p : t) row_.try_emplace(p, static_cast<int>(row_.size()));
    area_.resize(row_.size(), 0);
  }

  void add(const std::vector<Triangle>& triangles) {
    for (const Triangle& t : triangles) {
      if (!row_.contains(t[0]) && !row_.contains(t[1]) && !row_.contains(t[2])) continue;
      for (std::size_t k = 0; k < 3; ++k) add_corner(t[k], t[(k + 1) % 3], t[(k + 2) % 3]);
    }
  }

  void settle() {
    const auto unknowns = static_cast<int>(points_.size() - first_);
    if (unknowns == 0) return;
    const auto rows = static_cast<int>(row_.size());
    Eigen::VectorXd weight(rows), known = Eigen::VectorXd::Zero(rows);
    for (int r = 0; r < rows; ++r) weight[r] = 1 / std::max(area_[static_cast<std::size_t>(r)], 1e-18);
    std::vector<Entry> moving;
    for (const auto& [r, p, value] : entries_)
      if (p >= first_)
        moving.emplace_back(r, static_cast<int>(p - first_), value);
      else
        known[r] += value * height(p);
    Matrix a(rows, unknowns);
    a.setFromTriplets(moving.begin(), moving.end());
    const Matrix normal = a.transpose() * weight.asDiagonal() * a;
    const Eigen::SimplicialLDLT<Matrix> solver(normal);
    if (solver.info() != Eigen::Success) return;
    const Eigen::VectorXd h = solver.solve(-(a.transpose() * weight.cwiseProduct(known)));
    for (int i = 0; i < unknowns; ++i) {
      Vec3& p = points_[first_ + static_cast<std::size_t>(i)];
      if (std::isfinite(h[i])) p += up_ * (h[i] - glm::dot(up_, p));
    }
  }

 private:
  struct Term {
    int row;
    std::uint32_t point;
    double value;
  };
  double height(std::uint32_t p) const { return glm::dot(up_, points_[p]); }
  Vec3 flat(std::uint32_t p) const { return points_[p] - up_ * height(p); }

  // The angle at c weighs edge a-b; a third of the triangle belongs to c.
  void add_corner(std::uint32_t c, std::uint32_t a, std::uint32_t b) {
    const Vec3 u = flat(a) - flat(c), v = flat(b) - flat(c);
    const double twice = glm::length(glm::cross(u, v));
    const double cotangent = std::clamp(glm::dot(u, v) / std::max(twice, 1e-300), -kMostCotangent, kMostCotangent) / 2;
    for (const auto& [from, to] : {std::pair(a, b), std::pair(b, a)})
      if (const auto row = row_.find(from); row != row_.end()) {
        entries_.push_back({row->second, to, cotangent});
        entries_.push_back({row->second, from, -cotangent});
      }
    if (const auto row = row_.find(c); row != row_.end()) area_[static_cast<std::size_t>(row->second)] += twice / 6;
  }

  std::vector<Vec3>& points_;
  Vec3 up_;
  std::size_t first_;
  std::unordered_map<std::uint32_t, int> row_;
  std::vector<double> area_;
  std::vector<Term> entries_;
};

}  // namespace

void settle_plate(std::vector<Vec3>& points, const std::vector<Triangle>& surroundings,
                  const std::vector<Triangle>& filling, std::size_t first_new) {
  Plate plate(points, mean_direction(points, filling), first_new);
  plate.mark(filling);
  plate.add(filling);
  plate.add(surroundings);
  plate.settle();
}

}  // namespace pontata
