#include "engine/wall/scan_fill.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <unordered_map>
#include <unordered_set>

#include "engine/wall/scan_plate.h"
#include "engine/wall/scan_rim.h"

namespace pontata {
namespace {

using Edges = std::unordered_set<std::uint64_t>;

std::uint64_t key(std::uint32_t a, std::uint32_t b) { return std::uint64_t{std::min(a, b)} << 32 | std::max(a, b); }

// What the sheet is like at the rims; of its edges only those between two rim points.
struct Surroundings {
  Edges edges;
  std::vector<Triangle> triangles;                    // that touch a rim
  std::unordered_map<std::uint32_t, double> length;   // m, mean at each rim point
  std::unordered_map<std::uint64_t, Vec3> direction;  // of the triangle at each directed rim edge, unit
};

std::uint64_t directed(std::uint32_t a, std::uint32_t b) { return std::uint64_t{a} << 32 | b; }

Surroundings look_round(const Soup& sheet, const std::vector<Rim>& rims) {
  Surroundings out;
  std::unordered_set<std::uint32_t> on_rim;
  for (const Rim& rim : rims) on_rim.insert(rim.begin(), rim.end());
  std::unordered_map<std::uint32_t, std::pair<double, int>> sums;
  for (const Triangle& t : sheet.triangles) {
    bool touches = false;
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t a = t[k], b = t[(k + 1) % 3];
      const bool at_a = on_rim.contains(a), at_b = on_rim.contains(b);
      if (!at_a && !at_b) continue;
      const double length = glm::length(sheet.points[b] - sheet.points[a]);
      if (at_a) sums[a].first += length, ++sums[a].second;
      if (at_b) sums[b].first += length, ++sums[b].second;
      touches = true;
      if (!at_a || !at_b) continue;
      out.edges.insert(key(a, b));
      const Vec3 up = glm::cross(sheet.points[b] - sheet.points[a], sheet.points[t[(k + 2) % 3]] - sheet.points[a]);
      out.direction[directed(a, b)] = up / std::max(glm::length(up), 1e-300);
    }
    if (touches) out.triangles.push_back(t);
  }
  for (const auto& [p, sum] : sums) out.length[p] = sum.first / sum.second;
  return out;
}

// A filling on its way: triangles over the sheet's points and new ones behind them.
class Filling {
 public:
  Filling(std::vector<Vec3>& points, std::vector<Triangle> triangles, Surroundings& round)
      : points_(points), first_new_(points.size()), round_(round), triangles_(std::move(triangles)) {
    for (std::size_t t = 0; t < triangles_.size(); ++t) link(t);
  }

  // Liepa's rule: a triangle is split at its middle where that lies farther from its corners than edges are long there.
  void refine() {
    for (int round = 0; round < 40; ++round) {
      const std::size_t before = triangles_.size();
      for (std::size_t t = 0; t < before; ++t) split(t);
      if (triangles_.size() == before) return;
      for (int sweep = 0; sweep < 20 && relax(); ++sweep) {
      }
    }
  }

  const std::vector<Triangle>& triangles() const { return triangles_; }
  std::size_t first_new() const { return first_new_; }

 private:
  void link(std::size_t t) {
    for (std::size_t k = 0; k < 3; ++k) side_[directed(triangles_[t][k], triangles_[t][(k + 1) % 3])] = t;
  }
  void unlink(std::size_t t) {
    for (std::size_t k = 0; k < 3; ++k) side_.erase(directed(triangles_[t][k], triangles_[t][(k + 1) % 3]));
  }

  void split(std::size_t t) {
    const Triangle c = triangles_[t];
    const Vec3 middle = (points_[c[0]] + points_[c[1]] + points_[c[2]]) / 3.0;
    double length = 0;
    for (const auto corner : c) length += round_.length[corner] / 3;
    for (const auto corner : c) {
      const double far = std::sqrt(2.0) * glm::length(points_[corner] - middle);
      if (far <= length || far <= round_.length[corner]) return;
    }
    const auto p = static_cast<std::uint32_t>(points_.size());
    points_.push_back(middle);
    round_.length[p] = length;
    unlink(t);
    triangles_[t] = {c[0], c[1], p};
    link(t);
    for (const Triangle& piece : {Triangle{c[1], c[2], p}, Triangle{c[2], c[0], p}}) {
      triangles_.push_back(piece);
      link(triangles_.size() - 1);
    }
  }

  double angle(std::uint32_t at, std::uint32_t a, std::uint32_t b) const {
    const Vec3 u = points_[a] - points_[at], v = points_[b] - points_[at];
    return std::atan2(glm::length(glm::cross(u, v)), glm::dot(u, v));
  }

  // Turns edges whose opposite angles sum to more than half a turn; true where any was turned.
  bool relax() {
    bool turned = false;
    for (std::size_t t = 0; t < triangles_.size(); ++t)
      for (std::size_t k = 0; k < 3; ++k) turned = turn_edge(t, k) || turned;
    return turned;
  }
  bool turn_edge(std::size_t t, std::size_t k) {
    const std::uint32_t a = triangles_[t][k], b = triangles_[t][(k + 1) % 3], c = triangles_[t][(k + 2) % 3];
    const auto across = side_.find(directed(b, a));
    if (across == side_.end()) return false;
    const std::size_t other = across->second;
    const Triangle o = triangles_[other];
    std::uint32_t d = o[0];
    for (const auto corner : o)
      if (corner != a && corner != b) d = corner;
    if (angle(c, a, b) + angle(d, a, b) <= 3.14159265 || side_.contains(directed(c, d)) ||
        side_.contains(directed(d, c)) || round_.edges.contains(key(c, d)))
      return false;
    unlink(t), unlink(other);
    triangles_[t] = {c, a, d};
    triangles_[other] = {d, b, c};
    link(t), link(other);
    return true;
  }

  std::vector<Vec3>& points_;
  std::size_t first_new_;
  Surroundings& round_;
  std::vector<Triangle> triangles_;
  std::unordered_map<std::uint64_t, std::size_t> side_;  // directed edge -> triangle
};

bool fill(Soup& sheet, const Rim& rim, Surroundings& round) {
  const Rim inward(rim.rbegin(), rim.rend());  // the filling runs against the surroundings' edges
  std::vector<Vec3> behind;
  for (std::size_t i = 0; i < inward.size(); ++i)
    behind.push_back(round.direction[directed(inward[(i + 1) % inward.size()], inward[i])]);
  const auto spanned = span_rim(sheet.points, inward, behind,
                                [&](std::uint32_t a, std::uint32_t b) { return !round.edges.contains(key(a, b)); });
  if (spanned.empty()) return false;
  Filling filling(sheet.points, spanned, round);
  filling.refine();
  settle_plate(sheet.points, round.triangles, filling.triangles(), filling.first_new());
  for (const Triangle& t : filling.triangles()) {
    sheet.triangles.push_back(t);
    sheet.facing.push_back(triangle_area(sheet.points, t));
  }
  return true;
}

}  // namespace

std::vector<bool> fill_holes(Soup& sheet, const std::vector<std::vector<std::uint32_t>>& rims) {
  Surroundings round = look_round(sheet, rims);
  std::vector<bool> filled;
  for (const Rim& rim : rims) filled.push_back(fill(sheet, rim, round));
  return filled;
}

}  // namespace pontata
