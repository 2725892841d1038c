#include "engine/picture/wall_rows.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace pontata {

namespace {

std::vector<RowSpan> pair_up(std::vector<double> crossings) {
  std::sort(crossings.begin(), crossings.end());
  std::vector<RowSpan> spans;
  for (std::size_t k = 0; k + 1 < crossings.size(); k += 2) {
    if (crossings[k] < crossings[k + 1]) spans.push_back({crossings[k], crossings[k + 1]});
  }
  return spans;
}

double crossing(const Vec2& low, const Vec2& high, double v) {
  return low.x + (high.x - low.x) * (v - low.y) / (high.y - low.y);
}

template <class Visit>
void visit_edges(std::span<const Ring> rings, Visit&& visit) {
  for (const auto& ring : rings) {
    for (std::size_t k = 0; k < ring.size(); ++k) {
      Vec2 a = to_vec(to_chart(ring[k])), b = to_vec(to_chart(ring[(k + 1) % ring.size()]));
      if (a.y > b.y) std::swap(a, b);
      if (a.y < b.y) visit(a, b);
    }
  }
}

}  // namespace

std::vector<RowSpan> wall_spans(std::span<const Ring> rings, double v) {
  std::vector<double> crossings;
  visit_edges(rings, [&](const Vec2& a, const Vec2& b) {
    if (a.y <= v && v < b.y) crossings.push_back(crossing(a, b, v));
  });
  return pair_up(std::move(crossings));
}

WallRows::WallRows(std::span<const Ring> rings, double origin, double spacing, int rows)
    : origin_(origin), spacing_(spacing), edges_(static_cast<std::size_t>(rows)) {
  visit_edges(rings, [&](const Vec2& a, const Vec2& b) {
    const int first = std::max(0, static_cast<int>(std::ceil((a.y - origin) / spacing)) - 1);
    const int last = std::min(rows - 1, static_cast<int>(std::floor((b.y - origin) / spacing)) + 1);
    for (int j = first; j <= last; ++j) {
      const double v = origin + j * spacing;
      if (a.y <= v && v < b.y) edges_[static_cast<std::size_t>(j)].push_back({a, b});
    }
  });
}

std::vector<RowSpan> WallRows::spans(int j) const {
  std::vector<double> crossings;
  for (const auto& e : edges_[static_cast<std::size_t>(j)])
    crossings.push_back(crossing(e.low, e.high, origin_ + j * spacing_));
  return pair_up(std::move(crossings));
}

}  // namespace pontata
