#include "engine/chart/border_grid.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace pontata {

namespace {

BorderGrid::Nearest nearest_on(const std::pair<Vec2, Vec2>& edge, std::uint32_t index, const Vec2& p) {
  const Vec2 along = edge.second - edge.first, to = p - edge.first;
  const double s = std::clamp(glm::dot(to, along) / glm::dot(along, along), 0.0, 1.0);
  const Vec2 off = to - s * along;
  return {index, s, glm::dot(off, off)};
}

}  // namespace

int BorderGrid::column(double x) const {
  return static_cast<int>(std::clamp((x - low_.x) / cell_, 0.0, static_cast<double>(columns_ - 1)));
}
int BorderGrid::row(double y) const {
  return static_cast<int>(std::clamp((y - low_.y) / cell_, 0.0, static_cast<double>(rows_ - 1)));
}

// The cells round pieces of the edge no longer than a cell; some more than once.
template <class F>
void BorderGrid::visit_cells(const std::pair<Vec2, Vec2>& edge, F f) const {
  const int pieces = static_cast<int>(glm::length(edge.second - edge.first) / cell_) + 1;
  const auto at = [&](int i) { return edge.first + (edge.second - edge.first) * (static_cast<double>(i) / pieces); };
  for (int i = 0; i < pieces; ++i) {
    const Vec2 a = at(i), b = at(i + 1);
    for (int r = row(std::min(a.y, b.y)); r <= row(std::max(a.y, b.y)); ++r)
      for (int c = column(std::min(a.x, b.x)); c <= column(std::max(a.x, b.x)); ++c)
        f(static_cast<std::size_t>(r) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(c));
  }
}

BorderGrid::BorderGrid(const std::vector<std::pair<Vec2, Vec2>>& edges) : edges_(edges) {
  Vec2 high(-std::numeric_limits<double>::infinity());
  low_ = -high;
  for (const auto& [a, b] : edges_) low_ = glm::min(low_, glm::min(a, b)), high = glm::max(high, glm::max(a, b));
  const Vec2 size = edges_.empty() ? Vec2{0, 0} : high - low_;
  const double wanted = static_cast<double>(std::max<std::size_t>(1, edges_.size()));
  cell_ = std::max({std::sqrt(size.x * size.y / wanted), std::max(size.x, size.y) / wanted, 1e-9});
  columns_ = static_cast<int>(size.x / cell_) + 1, rows_ = static_cast<int>(size.y / cell_) + 1;
  start_.assign(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_) + 1, 0);
  for (const auto& edge : edges_) visit_cells(edge, [&](std::size_t c) { ++start_[c + 1]; });
  std::partial_sum(start_.begin(), start_.end(), start_.begin());
  items_.resize(start_.back());
  std::vector<std::uint32_t> next(start_.begin(), start_.end() - 1);
  for (std::uint32_t i = 0; i < edges_.size(); ++i)
    visit_cells(edges_[i], [&](std::size_t c) { items_[next[c]++] = i; });
}

BorderGrid::Nearest BorderGrid::nearest(const Vec2& p) const {
  Nearest best{0, 0, std::numeric_limits<double>::infinity()};
  const auto look = [&](int r, int c) {
    if (r < 0 || c < 0 || r >= rows_ || c >= columns_) return;
    const auto cell = static_cast<std::size_t>(r) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(c);
    for (auto i = start_[cell]; i < start_[cell + 1]; ++i) {
      const Nearest here = nearest_on(edges_[items_[i]], items_[i], p);
      if (here.distance2 < best.distance2 || (here.distance2 == best.distance2 && here.edge < best.edge)) best = here;
    }
  };
  const int r0 = row(p.y), c0 = column(p.x);
  // What lies beyond ring k of cells is at least k cells away, also from a place outside the grid.
  for (int k = 0; k <= std::max(rows_, columns_); ++k) {
    if (k > 0 && best.distance2 < (k - 1) * cell_ * ((k - 1) * cell_) * (1 - 1e-9)) break;
    for (int r = r0 - k; r <= r0 + k; ++r)
      for (int c = c0 - k; c <= c0 + k; c += (r == r0 - k || r == r0 + k || k == 0 ? 1 : 2 * k)) look(r, c);
  }
  return best;
}

}  // namespace pontata
