#include "engine/flatten/paper_solver.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace pontata {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();

}  // namespace

PaperSolver::PaperSolver(std::span<const Triangle> triangles, std::span<const RestTriangle> rest,
                         const std::vector<Vec2>& flat, std::vector<HeldBody> bodies,
                         std::unique_ptr<PaperSystem> system)
    : triangles_(triangles),
      rest_(rest),
      bodies_(std::move(bodies)),
      system_(std::move(system)),
      points_(static_cast<Eigen::Index>(flat.size())) {
  x_.resize(2 * points_ + 3 * static_cast<Eigen::Index>(bodies_.size()));
  for (Eigen::Index i = 0; i < points_; ++i)
    x_[2 * i] = flat[static_cast<std::size_t>(i)].x, x_[2 * i + 1] = flat[static_cast<std::size_t>(i)].y;
  for (std::size_t b = 0; b < bodies_.size(); ++b)
    x_.segment<3>(2 * points_ + 3 * static_cast<Eigen::Index>(b)) << bodies_[b].angle, bodies_[b].middle.x,
        bodies_[b].middle.y;
  for (const RestTriangle& r : rest_) area_ += r.area;
  energy_ = energy_at(x_, limit_);
}

Density PaperSolver::density(std::size_t t, double stretch, double limit) const {
  return is_limited() && rest_[t].height >= kThinnestStrained ? limited_density(stretch, limit, scale_)
                                                              : free_density(stretch);
}

// visit(body, index of the point in it).
template <class Visit>
void PaperSolver::each_pull(Visit&& visit) const {
  for (std::size_t b = 0; b < bodies_.size(); ++b)
    for (std::size_t i = 0; i < bodies_[b].points.size(); ++i) visit(b, i);
}

double PaperSolver::energy_at(const Eigen::VectorXd& x, double limit) const {
  double sum = is_limited() ? price_ * limit : 0;
  for (std::size_t t = 0; t < triangles_.size(); ++t) {
    const Triangle& v = triangles_[t];
    const Stretches s = stretches(gradient(rest_[t], point(x, v[0]), point(x, v[1]), point(x, v[2])));
    if (!(s.lesser > 0)) return kInfinite;
    sum += rest_[t].area * (density(t, s.greater, limit).value + density(t, s.lesser, limit).value);
  }
  each_pull([&](std::size_t b, std::size_t i) {
    const HeldBody& body = bodies_[b];
    const auto at = x.segment<3>(2 * points_ + 3 * static_cast<Eigen::Index>(b));
    const Vec2 pulled = body.pull(i, at[0], {at[1], at[2]}, point(x, body.points[i])).error + body.owed[i];
    sum += 0.5 * body.stiffness[i] * glm::dot(pulled, pulled);
  });
  return sum;
}

void PaperSolver::assemble() {
  slope_.setZero(x_.size()), mixed_.setZero(x_.size());
  by_limit_ = price_, by_limit_twice_ = 0;
  system_->clear();
  for (std::size_t t = 0; t < triangles_.size(); ++t) {
    const Triangle& v = triangles_[t];
    const Gradient g = gradient(rest_[t], point(x_, v[0]), point(x_, v[1]), point(x_, v[2]));
    const Stretches s = stretches(g);
    const Density greater = density(t, s.greater, limit_), lesser = density(t, s.lesser, limit_);
    const TriangleTerm term = triangle_term(rest_[t], g, greater, lesser, s);
    const auto index = corner_index(v);
    for (std::size_t k = 0; k < 6; ++k) slope_[index[k]] += rest_[t].area * term.slope[k];
    for (std::size_t k = 0; k < 6; ++k) mixed_[index[k]] += rest_[t].area * term.mixed[k];
    by_limit_ += rest_[t].area * (greater.by_limit + lesser.by_limit);
    by_limit_twice_ += rest_[t].area * (greater.by_limit_twice + lesser.by_limit_twice);
    system_->add(v, rest_[t].area, term);
  }
  each_pull([&](std::size_t b, std::size_t i) {
    const HeldBody& body = bodies_[b];
    const auto at = x_.segment<3>(2 * points_ + 3 * static_cast<Eigen::Index>(b));
    const Pull pull = body.pull(i, at[0], {at[1], at[2]}, point(x_, body.points[i]));
    const Vec2 force = body.stiffness[i] * (pull.error + body.owed[i]);
    const auto rows = pull_rows(pull);
    const auto index = pull_index(points_, b, body.points[i]);
    for (std::size_t r = 0; r < 5; ++r) slope_[index[r]] += force.x * rows[0][r] + force.y * rows[1][r];
    system_->add(index, pull, body.stiffness[i]);
  });
}

double PaperSolver::longest_step(const Eigen::VectorXd& d) const {
  double longest = kInfinite;
  for (const Triangle& v : triangles_) {
    const Vec2 a = point(x_, v[1]) - point(x_, v[0]), b = point(x_, v[2]) - point(x_, v[0]);
    const Vec2 da = point(d, v[1]) - point(d, v[0]), db = point(d, v[2]) - point(d, v[0]);
    longest = std::min(longest, step_to_flip(a, b, da, db));
  }
  return longest;
}

double PaperSolver::step() {
  assemble();
  if (!system_->factorise()) return 0;
  Eigen::VectorXd d = system_->solve(-slope_);
  double down = 0;  // of the limit
  if (is_limited()) {
    const Eigen::VectorXd follow = system_->solve(mixed_);
    const double own = by_limit_twice_ - mixed_.dot(follow);
    down = -(by_limit_ + mixed_.dot(d)) / std::max(own, 1e-3 * by_limit_twice_);
    d -= down * follow;
  }
  const double fall = d.dot(slope_) + (is_limited() ? down * by_limit_ : 0);
  if (!(fall < 0)) return 0;
  double length = std::min(1.0, 0.8 * longest_step(d));
  for (int halves = 0; halves < 30; ++halves, length *= 0.5) {
    const Eigen::VectorXd moved = x_ + length * d;
    const double value = energy_at(moved, limit_ + length * down);
    if (!(value <= energy_ + 1e-4 * length * fall) || !(value < energy_)) continue;
    x_ = moved, energy_ = value, limit_ += length * down;
    return -fall / (is_limited() ? scale_ * area_ : energy_);
  }
  return 0;
}

bool PaperSolver::set_limit(double limit) {
  if (!(greatest_strain() < limit)) return false;
  scale_ = 4 * limit * limit, price_ = 1, limit_ = limit;
  assemble();
  price_ = 1 - by_limit_;
  energy_ = energy_at(x_, limit_);
  return true;
}

void PaperSolver::raise_price(double factor) {
  price_ *= factor;
  energy_ = energy_at(x_, limit_);
}

void PaperSolver::stiffen(double factor) {
  for (HeldBody& body : bodies_)
    for (std::size_t i = 0; i < body.points.size(); ++i) body.stiffness[i] *= factor, body.owed[i] /= factor;
  energy_ = energy_at(x_, limit_);
}

void PaperSolver::tighten() {
  for (std::size_t b = 0; b < bodies_.size(); ++b) {
    HeldBody& body = bodies_[b];
    const auto at = x_.segment<3>(2 * points_ + 3 * static_cast<Eigen::Index>(b));
    for (std::size_t i = 0; i < body.points.size(); ++i)
      body.owed[i] += body.pull(i, at[0], {at[1], at[2]}, point(x_, body.points[i])).error;
  }
  energy_ = energy_at(x_, limit_);
}

std::vector<Vec2> PaperSolver::flat() const {
  std::vector<Vec2> out;
  for (Eigen::Index i = 0; i < points_; ++i) out.emplace_back(x_[2 * i], x_[2 * i + 1]);
  return out;
}

double PaperSolver::greatest_strain() const {
  double worst = 0;
  for (std::size_t t = 0; t < triangles_.size(); ++t) {
    if (rest_[t].height < kThinnestStrained) continue;
    const Triangle& v = triangles_[t];
    const Stretches s = stretches(gradient(rest_[t], point(x_, v[0]), point(x_, v[1]), point(x_, v[2])));
    worst = std::max({worst, std::abs(s.greater - 1), std::abs(s.lesser - 1)});
  }
  return worst;
}

}  // namespace pontata
