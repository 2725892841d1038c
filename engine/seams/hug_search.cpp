#include "engine/seams/hug_search.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace pontata {

namespace {

constexpr float kFar = std::numeric_limits<float>::infinity();
constexpr float kClosed = -1;  // no way ever costs less
constexpr std::uint8_t kRoot = 8;

double dot(const Metric::FirstForm& g, const Vec2& a, const Vec2& b) {
  return g.E * a.x * b.x + g.F * (a.x * b.y + a.y * b.x) + g.G * a.y * b.y;
}

}  // namespace

double distance_to_stroke(const HugRegion& region, const Metric::FirstForm& form, Vec2 p) {
  const Vec2 d = region.b - region.a;
  const double squared = dot(form, d, d);
  double t = squared > 0 ? std::max(0.0, dot(form, p - region.a, d) / squared) : 0;
  if (!region.open) t = std::min(t, 1.0);
  return step_length(form, p - region.a - d * t);
}

HugTree::HugTree(HugCost& cost, const HugRegion& region, HugCell anchor)
    : cost_(&cost), region_(region), anchor_(anchor) {
  const auto& ground = cost.tile_of(anchor);
  width_ = 0.25 * static_cast<double>(*std::min_element(ground.length.begin(), ground.length.end()));
  tiles_.resize(static_cast<std::size_t>(cost.tile_columns()) * static_cast<std::size_t>(cost.tile_rows()));
  auto& own = tile(anchor.i / HugTile::kSide, anchor.j / HugTile::kSide);
  const auto k = HugCost::index_in_tile(anchor);
  own.cost[k] = 0;
  own.parent[k] = kRoot;
  push(0, anchor);
}

HugTree::Tile& HugTree::tile(int ti, int tj) {
  auto& slot = tiles_[static_cast<std::size_t>(tj) * static_cast<std::size_t>(cost_->tile_columns()) +
                      static_cast<std::size_t>(ti)];
  if (slot) return *slot;
  slot = std::make_unique<Tile>();
  const auto& ground = cost_->tile(ti, tj);
  for (int j = 0; j < HugTile::kSide; ++j) {
    for (int i = 0; i < HugTile::kSide; ++i) {
      const HugCell c{ti * HugTile::kSide + i, tj * HugTile::kSide + j};
      const auto k = HugCost::index_in_tile(c);
      const bool in =
          ground.on_wall[k] && distance_to_stroke(region_, ground.form, cost_->centre(c)) <= region_.half_width;
      slot->cost[k] = in ? kFar : kClosed;
      slot->parent[k] = kRoot;
    }
  }
  return *slot;
}

float HugTree::cost_of(HugCell c) const {
  const auto t = static_cast<std::size_t>(c.j / HugTile::kSide) * static_cast<std::size_t>(cost_->tile_columns()) +
                 static_cast<std::size_t>(c.i / HugTile::kSide);
  return tiles_[t] ? tiles_[t]->cost[HugCost::index_in_tile(c)] : kFar;
}

void HugTree::push(float cost, HugCell c) {
  const auto b = static_cast<std::size_t>(static_cast<double>(cost) / width_);
  if (b >= buckets_.size()) buckets_.resize(b + 1);
  buckets_[b].push_back({cost, c});
}

void HugTree::settle(const Entry& e) {
  const int ti = e.cell.i / HugTile::kSide, tj = e.cell.j / HugTile::kSide;
  const auto k = HugCost::index_in_tile(e.cell);
  if (e.cost > tile(ti, tj).cost[k]) return;
  ++settled_;
  const auto& ground = cost_->tile(ti, tj);
  for (std::size_t d = 0; d < kHugSteps.size(); ++d) {
    const HugCell n{e.cell.i + kHugSteps[d].i, e.cell.j + kHugSteps[d].j};
    if (n.i < 0 || n.j < 0 || n.i >= cost_->columns() || n.j >= cost_->rows()) continue;
    auto& to = tile(n.i / HugTile::kSide, n.j / HugTile::kSide);
    const auto m = HugCost::index_in_tile(n);
    if (to.cost[m] <= e.cost) continue;
    const auto& there = cost_->tile_of(n);
    const int factor = ground.factor[k][d & 3u] + there.factor[m][d & 3u];
    const float cost = e.cost + ground.length[d & 3u] * static_cast<float>(factor) * (0.5f / 255);
    if (cost >= to.cost[m]) continue;
    to.cost[m] = cost;
    to.parent[m] = static_cast<std::uint8_t>(d);
    push(cost, n);
  }
}

std::optional<std::vector<HugCell>> HugTree::path(HugCell target) {
  while (bucket_ < buckets_.size() && static_cast<double>(cost_of(target)) > static_cast<double>(bucket_) * width_) {
    while (!buckets_[bucket_].empty()) {
      const Entry e = buckets_[bucket_].back();
      buckets_[bucket_].pop_back();
      settle(e);
    }
    buckets_[bucket_++] = {};
  }
  const float cost = cost_of(target);
  if (cost == kFar || cost == kClosed) return std::nullopt;
  std::vector<HugCell> cells{target};
  while (cells.back() != anchor_) {
    const HugCell c = cells.back();
    const auto d = tile(c.i / HugTile::kSide, c.j / HugTile::kSide).parent[HugCost::index_in_tile(c)];
    cells.push_back({c.i - kHugSteps[d].i, c.j - kHugSteps[d].j});
  }
  std::reverse(cells.begin(), cells.end());
  return cells;
}

}  // namespace pontata
