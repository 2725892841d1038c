#include "engine/giornate/edge_rows.h"

#include "engine/base/predicates.h"

namespace pontata {

namespace {

constexpr std::size_t kMostRows = 16384;

}  // namespace

EdgeRows::EdgeRows(std::vector<ChartEdge> edges) : edges_(std::move(edges)) {
  if (edges_.empty()) return;
  low_ = high_ = edges_.front().from;
  for (const ChartEdge& e : edges_)
    for (const LatticePoint& p : {e.from, e.to}) {
      low_ = {std::min(low_.x, p.x), std::min(low_.y, p.y)};
      high_ = {std::max(high_.x, p.x), std::max(high_.y, p.y)};
    }
  const std::size_t wanted = std::clamp<std::size_t>(edges_.size() / 2, 1, kMostRows);
  row_height_ = std::max<std::int64_t>(1, (high_.y - low_.y) / static_cast<std::int64_t>(wanted) + 1);
  const std::size_t rows = row_of(high_.y) + 1;
  start_.assign(rows + 1, 0);
  const auto each_row = [this](const ChartEdge& e, auto&& f) {
    const auto [y0, y1] = std::minmax(e.from.y, e.to.y);
    for (std::size_t row = row_of(y0); row <= row_of(y1); ++row) f(row);
  };
  for (const ChartEdge& e : edges_) each_row(e, [this](std::size_t row) { ++start_[row + 1]; });
  for (std::size_t row = 0; row < rows; ++row) start_[row + 1] += start_[row];
  items_.resize(start_.back());
  std::vector<std::uint32_t> next(start_.begin(), start_.end() - 1);
  for (std::uint32_t k = 0; k < edges_.size(); ++k)
    each_row(edges_[k], [&](std::size_t row) { items_[next[row]++] = k; });
}

EdgeRows EdgeRows::of_rings(std::span<const Ring> rings) {
  std::vector<ChartEdge> edges;
  for (std::uint32_t r = 0; r < rings.size(); ++r)
    for (std::size_t i = 0; i < rings[r].size(); ++i)
      edges.push_back({rings[r][i], rings[r][(i + 1) % rings[r].size()], r});
  return EdgeRows(std::move(edges));
}

int EdgeRows::winding(LatticePoint p) const {
  int turns = 0;
  visit(p.y, p.y, [&](const ChartEdge& e) {
    const bool from_above = e.from.y > p.y;
    if (from_above == (e.to.y > p.y)) return;
    const int s = side(e.from, e.to, p);  // left of an upward edge: it lies to the right of p
    if (from_above ? s < 0 : s > 0) turns += from_above ? -1 : 1;
  });
  return turns;
}

}  // namespace pontata
