#include "engine/flatten/isometry.h"

#include <Eigen/Sparse>
#include <algorithm>
#include <cmath>
#include <deque>
#include <limits>

namespace pontata {
namespace {

using Matrix = Eigen::SparseMatrix<double>;
using Points = Eigen::Matrix<double, Eigen::Dynamic, 2>;  // one row per point

Vec2 row(const Points& p, std::uint32_t v) { return {p(v, 0), p(v, 1)}; }

struct Energy {
  double value = 0;
  Points slope;
};

// Infinite where a triangle has turned over.
double energy_of(const IsometryProblem& problem, const Points& p) {
  double sum = 0;
  for (std::size_t t = 0; t < problem.triangles.size(); ++t) {
    const Triangle& v = problem.triangles[t];
    const Gradient g = gradient(problem.rest[t], row(p, v[0]), row(p, v[1]), row(p, v[2]));
    const Stretches s = stretches(g);
    if (!(s.lesser > 0)) return std::numeric_limits<double>::infinity();
    const double e1 = (s.greater - 1) * (s.greater + 1) / s.greater, e2 = (s.lesser - 1) * (s.lesser + 1) / s.lesser;
    sum += problem.weights[t] * problem.rest[t].area * (e1 * e1 + e2 * e2);
  }
  return sum;
}

Energy energy_and_slope(const IsometryProblem& problem, const Points& p) {
  Energy out{energy_of(problem, p), Points::Zero(p.rows(), 2)};
  for (std::size_t t = 0; t < problem.triangles.size(); ++t) {
    const Triangle& v = problem.triangles[t];
    const RestTriangle& r = problem.rest[t];
    const Gradient g = gradient(r, row(p, v[0]), row(p, v[1]), row(p, v[2]));
    const double w = problem.weights[t] * r.area, det = g.det();
    const double size = g.xx * g.xx + g.xy * g.xy + g.yx * g.yx + g.yy * g.yy;
    const double along = 2 * w * (1 + 1 / (det * det)), across = 2 * w * size / (det * det * det);
    const double xx = along * g.xx - across * g.yy, xy = along * g.xy + across * g.yx;
    const double yx = along * g.yx + across * g.xy, yy = along * g.yy - across * g.xx;
    const double x1 = xx * r.a + xy * r.b, y1 = yx * r.a + yy * r.b, x2 = xy * r.d, y2 = yy * r.d;
    out.slope(v[1], 0) += x1, out.slope(v[1], 1) += y1;
    out.slope(v[2], 0) += x2, out.slope(v[2], 1) += y2;
    out.slope(v[0], 0) -= x1 + x2, out.slope(v[0], 1) -= y1 + y2;
  }
  return out;
}

// Weighted Laplacian of the triangles at rest, 8 times (the energy's curvature at rest), first point held.
Matrix laplacian(const IsometryProblem& problem, Eigen::Index points) {
  std::vector<Eigen::Triplet<double>> entries;
  entries.reserve(problem.triangles.size() * 9 + 1);
  double mass = 0;
  for (std::size_t t = 0; t < problem.triangles.size(); ++t) {
    const RestTriangle& r = problem.rest[t];
    const std::array<Vec2, 3> hat{Vec2{-r.a, -r.b - r.d}, Vec2{r.a, r.b},
                                  Vec2{0, r.d}};  // gradients of the hat functions
    for (std::size_t i = 0; i < 3; ++i)
      for (std::size_t j = 0; j < 3; ++j) {
        const double value = 8 * problem.weights[t] * r.area * glm::dot(hat[i], hat[j]);
        entries.emplace_back(static_cast<int>(problem.triangles[t][i]), static_cast<int>(problem.triangles[t][j]),
                             value);
        if (i == j) mass += value;
      }
  }
  entries.emplace_back(0, 0, mass / static_cast<double>(points));
  for (int i = 0; i < points; ++i) entries.emplace_back(i, i, 1e-12 * mass / static_cast<double>(points));
  Matrix m(points, points);
  m.setFromTriplets(entries.begin(), entries.end());
  return m;
}

// Largest step along d before the first triangle has no area left.
double longest_step(const IsometryProblem& problem, const Points& p, const Points& d) {
  double longest = std::numeric_limits<double>::infinity();
  for (const Triangle& v : problem.triangles) {
    const Vec2 a = row(p, v[1]) - row(p, v[0]), b = row(p, v[2]) - row(p, v[0]);
    const Vec2 da = row(d, v[1]) - row(d, v[0]), db = row(d, v[2]) - row(d, v[0]);
    longest = std::min(longest, step_to_flip(a, b, da, db));
  }
  return longest;
}

struct Memory {
  Points step, change;
  double inverse = 0;
};

double dot(const Points& a, const Points& b) { return a.cwiseProduct(b).sum(); }

// Two-loop recursion (Nocedal and Wright, "Numerical Optimization", algorithm 7.4).
Points direction(const Points& slope, const std::deque<Memory>& memory, const Eigen::SimplicialLDLT<Matrix>& solver) {
  Points q = slope;
  std::vector<double> alpha(memory.size());
  for (std::size_t i = memory.size(); i-- > 0;) {
    alpha[i] = memory[i].inverse * dot(memory[i].step, q);
    q -= alpha[i] * memory[i].change;
  }
  Points r = solver.solve(q);
  for (std::size_t i = 0; i < memory.size(); ++i)
    r += (alpha[i] - memory[i].inverse * dot(memory[i].change, r)) * memory[i].step;
  return -r;
}

}  // namespace

double lower_strain(const IsometryProblem& problem, std::vector<Vec2>& flat, const IsometryOptions& options,
                    const Progress* progress) {
  Points p(static_cast<Eigen::Index>(flat.size()), 2);
  for (std::size_t i = 0; i < flat.size(); ++i) {
    p(static_cast<Eigen::Index>(i), 0) = flat[i].x;
    p(static_cast<Eigen::Index>(i), 1) = flat[i].y;
  }
  double mass = 0;
  for (std::size_t t = 0; t < problem.rest.size(); ++t) mass += problem.weights[t] * problem.rest[t].area;
  Energy now = energy_and_slope(problem, p);
  if (!(now.value < std::numeric_limits<double>::infinity()) || now.value < options.enough * mass) return now.value;
  Eigen::SimplicialLDLT<Matrix> solver(laplacian(problem, p.rows()));
  if (solver.info() != Eigen::Success) return now.value;
  std::deque<Memory> memory;
  int idle = 0;
  for (int n = 0; n < options.iterations && !is_cancelled(progress); ++n) {
    Points d = direction(now.slope, memory, solver);
    double fall = dot(d, now.slope);
    if (!(fall < 0)) {
      memory.clear();
      d = direction(now.slope, memory, solver), fall = dot(d, now.slope);
      if (!(fall < 0)) break;
    }
    double step = std::min(1.0, 0.8 * longest_step(problem, p, d));
    double value = energy_of(problem, p + step * d);
    for (int halves = 0; halves < 40 && !(value <= now.value + 1e-4 * step * fall); ++halves)
      step *= 0.5, value = energy_of(problem, p + step * d);
    if (!(value < now.value)) break;
    const double gain = now.value - value;
    const Points moved = step * d;
    p += moved;
    Energy next = energy_and_slope(problem, p);
    Memory m{moved, next.slope - now.slope, 0};
    const double curve = dot(m.step, m.change);
    if (curve > 0) {
      m.inverse = 1 / curve;
      memory.push_back(std::move(m));
      if (memory.size() > 8) memory.pop_front();
    }
    now = std::move(next);
    idle = gain < 1e-5 * now.value ? idle + 1 : 0;
    if (now.value < options.enough * mass || idle == 3) break;
  }
  for (std::size_t i = 0; i < flat.size(); ++i) flat[i] = row(p, static_cast<std::uint32_t>(i));
  return now.value;
}

}  // namespace pontata
