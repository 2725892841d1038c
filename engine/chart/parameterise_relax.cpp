#include "engine/chart/parameterise_relax.h"

#include <Eigen/Dense>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/base/parallel.h"
#include "engine/wall/scan_topology.h"

namespace pontata {
namespace {

using Sparse = Eigen::SparseMatrix<double>;

constexpr double kLidWeight = 0.1;  // of a lid triangle against a mean surface triangle, at first
constexpr double kLeastLid = 3e-3;  // thickness of a lid triangle, against its longest edge, below which it is opened
constexpr double kPin = 1e8;        // stiffness of what holds a pinned point, against the mean
constexpr int kPinRounds = 16;      // of pinning in one call
constexpr double kLidFade = 0.8;    // from one step to the next
constexpr std::size_t kGrain = 2000;

double total_energy(const std::vector<Triangle>& triangles, const std::vector<FlatTriangle>& flat,
                    const std::vector<Vec2>& x) {
  double sum = 0;
  for (std::size_t t = 0; t < triangles.size(); ++t) {
    const Triangle& c = triangles[t];
    sum += energy(flat[t], jacobian(flat[t], x[c[0]], x[c[1]], x[c[2]]));
  }
  return sum;
}

// Least t > 0 at which area(x + t d) of the triangle vanishes: c2 t^2 + c1 t + c0 = 0 with c0 > 0.
double fold_time(double c2, double c1, double c0) {
  const double never = std::numeric_limits<double>::infinity();
  if (std::abs(c2) < 1e-14 * (std::abs(c1) + std::abs(c0))) return c1 < 0 ? -c0 / c1 : never;
  const double disc = c1 * c1 - 4 * c2 * c0;
  if (disc < 0) return never;
  const double q = -0.5 * (c1 + std::copysign(std::sqrt(disc), c1));
  double first = never;
  if (q != 0 && c0 / q > 0) first = std::min(first, c0 / q);
  if (q / c2 > 0) first = std::min(first, q / c2);
  return first;
}

double longest_safe_step(const std::vector<Triangle>& triangles, const std::vector<Vec2>& x,
                         const std::vector<Vec2>& d) {
  double t = std::numeric_limits<double>::infinity();
  for (const Triangle& c : triangles) {
    const Vec2 a = x[c[1]] - x[c[0]], b = x[c[2]] - x[c[0]], da = d[c[1]] - d[c[0]], db = d[c[2]] - d[c[0]];
    t = std::min(t, fold_time(cross2(da, db), cross2(a, db) + cross2(da, b), cross2(a, b)));
  }
  return t;
}

// The Newton system on a fixed pattern: lower triangle by columns, and for each surface triangle where its 21 numbers
// go.
class NewtonSystem {
 public:
  NewtonSystem(const std::vector<Triangle>& triangles, std::size_t point_count)
      : row_(point_count, -1), pinned_(point_count, false) {
    for (const Triangle& t : triangles)
      for (const auto corner : t) row_[corner] = 0;
    int used = 0;
    for (int& r : row_)
      if (r == 0) r = used++;
    std::vector<Eigen::Triplet<double>> entries;
    entries.reserve(21 * triangles.size());
    for (const Triangle& t : triangles) for_lower(t, [&](int r, int c, int, int) { entries.emplace_back(r, c, 0.0); });
    matrix_.resize(2 * used, 2 * used);
    matrix_.setFromTriplets(entries.begin(), entries.end());
    slots_.reserve(21 * triangles.size());
    for (const Triangle& t : triangles) for_lower(t, [&](int r, int c, int, int) { slots_.push_back(slot(r, c)); });
    factor_.analyzePattern(matrix_);
  }

  // These points do not move from now on.
  void pin(const std::vector<std::uint32_t>& points) {
    for (const auto p : points) pinned_[p] = true;
  }

  // d = - H^-1 grad; false where the factorisation fails.
  bool step(const std::vector<Triangle>& triangles, const std::vector<FlatTriangle>& flat, const std::vector<Vec2>& x,
            std::vector<Vec2>& d, double& slope) {
    assemble(triangles, flat, x);
    factor_.factorize(matrix_);
    if (factor_.info() != Eigen::Success) return false;
    const Eigen::VectorXd move = factor_.solve(-gradient_);
    if (!move.allFinite()) return false;
    for (std::size_t i = 0; i < x.size(); ++i)
      d[i] = row_[i] < 0 || pinned_[i] ? Vec2{0, 0} : Vec2{move[2 * row_[i]], move[2 * row_[i] + 1]};
    slope = move.dot(gradient_);
    return slope < 0;
  }

 private:
  // f(row, column, i, j): matrix place of entry (i, j) of the triangle's 6x6 block, lower triangle only.
  template <class F>
  void for_lower(const Triangle& t, F f) const {
    for (int i = 0; i < 6; ++i)
      for (int j = 0; j <= i; ++j) {
        const int r = 2 * row_[t[static_cast<std::size_t>(i / 2)]] + i % 2;
        const int c = 2 * row_[t[static_cast<std::size_t>(j / 2)]] + j % 2;
        f(std::max(r, c), std::min(r, c), i, j);
      }
  }

  int slot(int r, int c) const {
    const int* inner = matrix_.innerIndexPtr();
    const int* outer = matrix_.outerIndexPtr();
    return static_cast<int>(std::lower_bound(inner + outer[c], inner + outer[c + 1], r) - inner);
  }

  void assemble(const std::vector<Triangle>& triangles, const std::vector<FlatTriangle>& flat,
                const std::vector<Vec2>& x) {
    double* value = matrix_.valuePtr();
    std::fill(value, value + matrix_.nonZeros(), 0.0);
    gradient_ = Eigen::VectorXd::Zero(matrix_.rows());
    std::size_t next = 0;
    for (std::size_t t = 0; t < triangles.size(); ++t) {
      const Triangle& c = triangles[t];
      const EnergyTerms terms = energy_terms(flat[t], jacobian(flat[t], x[c[0]], x[c[1]], x[c[2]]));
      Eigen::Matrix<double, 6, 4> modes;
      for (int i = 0; i < 3; ++i) {
        const auto& g = flat[t].gradient[static_cast<std::size_t>(i)];
        gradient_.segment<2>(2 * row_[c[static_cast<std::size_t>(i)]]) += terms.slope * g;
        for (int m = 0; m < 4; ++m)
          modes.block<2, 1>(2 * i, m) =
              terms.mode[static_cast<std::size_t>(m)] * g * std::sqrt(terms.curvature[static_cast<std::size_t>(m)]);
      }
      const Eigen::Matrix<double, 6, 6> block = modes * modes.transpose();
      for (int i = 0; i < 6; ++i)
        for (int j = 0; j <= i; ++j) value[slots_[next++]] += block(i, j);
    }
    const double mean = matrix_.diagonal().mean();
    for (int i = 0; i < matrix_.rows(); ++i) value[matrix_.outerIndexPtr()[i]] += 1e-9 * mean;
    for (std::size_t p = 0; p < row_.size(); ++p) {
      if (row_[p] < 0 || !pinned_[p]) continue;
      gradient_.segment<2>(2 * row_[p]).setZero();
      for (const int i : {2 * row_[p], 2 * row_[p] + 1}) value[matrix_.outerIndexPtr()[i]] += kPin * mean;
    }
  }

  std::vector<int> row_;  // matrix block of a point, -1 where no triangle uses it
  std::vector<char> pinned_;
  Sparse matrix_;
  std::vector<int> slots_;
  Eigen::VectorXd gradient_;
  Eigen::SimplicialLDLT<Sparse> factor_;
};

// Length round the convex hull, which a rim's teeth do not change (Andrew, "Another efficient algorithm for convex
// hulls in two dimensions", 1979).
double hull_length(const std::vector<std::uint32_t>& rim, const std::vector<Vec2>& places) {
  std::vector<Vec2> points, hull;
  for (const auto p : rim) points.push_back(places[p]);
  std::sort(points.begin(), points.end(),
            [](const Vec2& a, const Vec2& b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
  for (int side = 0; side < 2; ++side, std::reverse(points.begin(), points.end())) {
    const std::size_t base = hull.size();
    for (const Vec2& p : points) {
      while (hull.size() >= base + 2 && cross2(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 0)
        hull.pop_back();
      hull.push_back(p);
    }
    hull.pop_back();
  }
  double sum = 0;
  for (std::size_t i = 0; i < hull.size(); ++i) sum += glm::length(hull[(i + 1) % hull.size()] - hull[i]);
  return sum;
}

// A real opening, not a slit or a speck: a thirtieth of the wall's length round or more, its width a sixteenth of its
// length or more.
bool roomy(const std::vector<std::uint32_t>& rim, const std::vector<Vec2>& places, double outer_length) {
  double twice = 0;
  for (std::size_t i = 0; i < rim.size(); ++i)
    twice += cross2(places[rim[i]] - places[rim[0]], places[rim[(i + 1) % rim.size()]] - places[rim[0]]);
  const double length = hull_length(rim, places);
  return length > outer_length / 30 && std::abs(twice) / 2 > 0.0138 * length * length;  // w l / (2 w + 2 l)^2
}

}  // namespace

RelaxSheet::RelaxSheet(const LiddedSheet& sheet, const std::vector<Triangle>& of_level) {
  for (const Triangle& t : of_level)
    if (!sheet.is_open(t)) triangles.push_back(t);
  drawn = own = lay_flat(sheet.points, triangles);
  double area = 0;
  for (std::size_t t = 0; t < triangles.size(); ++t) {
    lid.push_back(sheet.is_lid(triangles[t]));
    if (!lid.back()) area += own[t].area;
  }
  lid_weight = kLidWeight * area / static_cast<double>(triangles.size());
  const auto across = link_triangles(sheet.points, triangles);
  rims = border_loops(sheet.points, triangles, across);
}

void RelaxSheet::aim(const std::vector<Vec2>& places) {
  for_each_item(triangles.size(), kGrain, [&](std::size_t t) { aim(t, places); });
}

void RelaxSheet::aim(std::size_t t, const std::vector<Vec2>& places) {
  const Vec2 &a = places[triangles[t][0]], &b = places[triangles[t][1]], &c = places[triangles[t][2]];
  if (!lid[t]) {
    drawn[t] = part_way(own[t], jacobian(own[t], a, b, c));
    return;
  }
  drawn[t] = lay_flat({a.x, a.y, 0}, {b.x, b.y, 0}, {c.x, c.y, 0}, kLeastLid);
  drawn[t].area = lid_weight;
}

bool open_lids(const RelaxSheet& level, const std::vector<Vec2>& places, LiddedSheet& sheet) {
  if (sheet.open.empty()) return false;
  LiddedSheet lidless = sheet;
  lidless.open.assign(sheet.open.size(), true);
  const RelaxSheet bare(lidless, level.triangles);
  double outer_length = 0;
  for (const auto& rim : bare.rims)
    if (sheet.hole[rim[0]] == 0) outer_length = hull_length(rim, places);
  bool any = false;
  for (const auto& rim : bare.rims) {
    const std::uint32_t hole = sheet.hole[rim[0]];
    if (hole == 0 || !roomy(rim, places, outer_length)) continue;
    sheet.open[hole - 1] = true;
    any = true;
  }
  return any;
}

void relax_globally(RelaxSheet& sheet, int steps, double enough, std::vector<Vec2>& places, Progress* progress) {
  NewtonSystem system(sheet.triangles, places.size());
  const double first_weight = sheet.lid_weight;
  std::vector<Vec2> d(places.size()), trial(places.size());
  int pin_rounds = kPinRounds;
  for (int step = 0; step < steps && !is_cancelled(progress); ++step) {
    sheet.aim(places);
    const double now = total_energy(sheet.triangles, sheet.drawn, places);
    double slope = 0;
    if (!system.step(sheet.triangles, sheet.drawn, places, d, slope)) return;
    double t = std::min(1.0, 0.8 * longest_safe_step(sheet.triangles, places, d));
    bool moved = false;
    double after = now;
    std::vector<std::uint32_t> crossing;
    for (int halving = 0; halving < 14 && !moved; ++halving, t *= 0.5) {
      for (std::size_t i = 0; i < places.size(); ++i) trial[i] = places[i] + t * d[i];
      after = total_energy(sheet.triangles, sheet.drawn, trial);
      if (!(after <= now + 1e-4 * t * slope)) continue;
      crossing = crossing_points(sheet.rims, trial);
      moved = crossing.empty();
      if (!moved && pin_rounds > 0) break;
    }
    if (!moved && !crossing.empty() && pin_rounds-- > 0) {
      system.pin(crossing);
      continue;
    }
    if (!moved) return;
    std::swap(places, trial);
    sheet.lid_weight = std::max(kLidFade * sheet.lid_weight, 0.1 * first_weight);
    if (now - after < enough * after) return;
  }
}

}  // namespace pontata
