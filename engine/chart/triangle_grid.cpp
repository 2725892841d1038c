#include "engine/chart/triangle_grid.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace pontata {

namespace {

constexpr double kMargin = 4;  // pitches, against rounding of the spans

Vec2 as_vec(LatticePoint p) { return {static_cast<double>(p.x), static_cast<double>(p.y)}; }

// Extent in x of the triangle between y0 and y1, by clipping its sides.
std::pair<double, double> span_between(const Vec2 (&corner)[3], double y0, double y1) {
  double low = INFINITY, high = -INFINITY;
  for (int k = 0; k < 3; ++k) {
    const Vec2 &a = corner[k], &b = corner[(k + 1) % 3];
    if (std::max(a.y, b.y) < y0 || std::min(a.y, b.y) > y1) continue;
    double t0 = 0, t1 = 1;
    if (a.y != b.y) {
      t0 = std::clamp((y0 - a.y) / (b.y - a.y), 0.0, 1.0);
      t1 = std::clamp((y1 - a.y) / (b.y - a.y), 0.0, 1.0);
    }
    for (const double x : {a.x + t0 * (b.x - a.x), a.x + t1 * (b.x - a.x)})
      low = std::min(low, x), high = std::max(high, x);
  }
  return {low - kMargin, high + kMargin};
}

}  // namespace

int TriangleGrid::row(double y) const { return std::clamp(static_cast<int>(y * inverse_cell_), 0, rows_ - 1); }
int TriangleGrid::column(double x) const { return std::clamp(static_cast<int>(x * inverse_cell_), 0, columns_ - 1); }

template <class F>
void TriangleGrid::visit_cells(const Triangle& triangle, const std::vector<LatticePoint>& places, F&& f) const {
  const Vec2 corner[3] = {as_vec(places[triangle[0]]), as_vec(places[triangle[1]]), as_vec(places[triangle[2]])};
  const auto [y_low, y_high] = std::minmax({corner[0].y, corner[1].y, corner[2].y});
  const int r0 = row(y_low), r1 = row(y_high);
  for (int r = r0; r <= r1; ++r) {
    const auto [low, high] = span_between(corner, r / inverse_cell_ - kMargin, (r + 1) / inverse_cell_ + kMargin);
    const int c1 = column(high);
    for (int c = column(low); c <= c1; ++c)
      f(static_cast<std::size_t>(r) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(c));
  }
}

TriangleGrid::TriangleGrid(const std::vector<Triangle>& triangles, const std::vector<LatticePoint>& places,
                           LatticePoint high)
    : high_(high) {
  const double width = static_cast<double>(high.x) + 1, height = static_cast<double>(high.y) + 1;
  const double wanted = std::max(1.0, 0.5 * static_cast<double>(triangles.size()));
  const double cell = std::max(std::sqrt(width * height / wanted), std::max(width, height) / 1e6);
  inverse_cell_ = 1 / cell;
  columns_ = static_cast<int>(width / cell) + 1;
  rows_ = static_cast<int>(height / cell) + 1;
  start_.assign(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_) + 1, 0);
  for (const auto& t : triangles) visit_cells(t, places, [&](std::size_t c) { ++start_[c + 1]; });
  for (std::size_t c = 1; c < start_.size(); ++c) start_[c] += start_[c - 1];
  items_.resize(start_.back());
  std::vector<std::uint32_t> next(start_.begin(), start_.end() - 1);
  for (std::uint32_t i = 0; i < triangles.size(); ++i)
    visit_cells(triangles[i], places, [&](std::size_t c) { items_[next[c]++] = i; });
}

std::span<const std::uint32_t> TriangleGrid::near(LatticePoint p) const {
  if (start_.empty() || p.x < 0 || p.y < 0 || p.x > high_.x || p.y > high_.y) return {};
  const auto cell = static_cast<std::size_t>(row(static_cast<double>(p.y))) * static_cast<std::size_t>(columns_) +
                    static_cast<std::size_t>(column(static_cast<double>(p.x)));
  return std::span(items_).subspan(start_[cell], start_[cell + 1] - start_[cell]);
}

}  // namespace pontata
