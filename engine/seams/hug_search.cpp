#include "engine/seams/hug_search.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/chart/first_form.h"

namespace pontata {

namespace {

constexpr float kFar = std::numeric_limits<float>::infinity();
constexpr float kClosed = -1;  // no way ever costs less
constexpr std::uint8_t kRoot = 8;

}  // namespace

double distance_to_stroke(const HugRegion& region, const Metric::FirstForm& form, Vec2 p) {
  const Vec2 d = region.b - region.a;
  const double squared = dot(form, d, d);
  double t = squared > 0 ? std::max(0.0, dot(form, p - region.a, d) / squared) : 0;
  if (!region.open) t = std::min(t, 1.0);
  return step_length(form, p - region.a - d * t);
}

void HugCells::add_round(HugCell c, int reach) {
  for (int j = std::max(c.j - reach, 0); j <= std::min(c.j + reach, cost_->rows() - 1); ++j)
    for (int i = std::max(c.i - reach, 0); i <= std::min(c.i + reach, cost_->columns() - 1); ++i) add({i, j});
}

HugBarrier::HugBarrier(const HugCost& cost, std::span<const Vec2> line, std::vector<Vec2> gates)
    : cost_(&cost), line_(line.begin(), line.end()), gates_(std::move(gates)), cells_(cost) {
  each_cell_along(cost, line, [&](HugCell c) { cells_.add(c); });
}

bool HugBarrier::closed(std::size_t tile, HugCell c) const {
  constexpr double gate = 3.5;  // cells
  if (!cells_.has(tile, c)) return false;
  return std::none_of(gates_.begin(), gates_.end(),
                      [&](const Vec2& g) { return glm::length(cost_->centre(c) - g) <= gate * cost_->cell(); });
}

bool HugBarrier::beside(HugCell c) const {
  for (int dj = -2; dj <= 2; ++dj) {
    for (int di = -2; di <= 2; ++di) {
      const HugCell n{c.i + di, c.j + dj};
      if (n.i < 0 || n.j < 0 || n.i >= cost_->columns() || n.j >= cost_->rows()) continue;
      if (closed(cost_->tile_number(n), n)) return true;
    }
  }
  return false;
}

HugTree::HugTree(HugCost& cost, const HugRegion& region, std::span<const HugRoot> roots, const HugBarrier* barrier,
                 const HugCells* within, const Progress* progress)
    : cost_(&cost), region_(region), barrier_(barrier), within_(within), progress_(progress) {
  const auto& ground = cost.tile_of(roots[0].cell);
  per_bucket_ = 4 / *std::min_element(ground.length.begin(), ground.length.end());
  tiles_.resize(static_cast<std::size_t>(cost.tile_columns()) * static_cast<std::size_t>(cost.tile_rows()));
  for (const auto& root : roots) {
    const auto n = number(root.cell);
    auto& held = tile(n / HugTile::kCells).cost[n % HugTile::kCells];
    const auto own = static_cast<float>(root.cost);
    if (held <= own && held >= 0) continue;
    held = own;
    push(own, n);
  }
}

std::uint32_t HugTree::number(HugCell c) const {
  return static_cast<std::uint32_t>(cost_->tile_number(c) * HugTile::kCells + HugCost::index_in_tile(c));
}

HugTree::Tile& HugTree::tile(std::size_t t) {
  auto& slot = tiles_[t];
  if (slot) return *slot;
  slot = std::make_unique<Tile>();
  const int ti = static_cast<int>(t) % cost_->tile_columns(), tj = static_cast<int>(t) / cost_->tile_columns();
  slot->ground = &cost_->tile(ti, tj);
  for (std::size_t d = 0; d < 8; ++d) slot->length[d] = slot->ground->length[d & 3u] / 510;
  slot->parent.fill(kRoot);
  for (int j = 0; j < HugTile::kSide; ++j) {
    for (int i = 0; i < HugTile::kSide; ++i) {
      const HugCell c{ti * HugTile::kSide + i, tj * HugTile::kSide + j};
      const auto k = HugCost::index_in_tile(c);
      const bool in = slot->ground->on_wall[k] && !(barrier_ && barrier_->closed(t, c)) &&
                      (!within_ || within_->has(t, c)) &&
                      distance_to_stroke(region_, slot->ground->form, cost_->centre(c)) <= region_.half_width;
      slot->cost[k] = in ? kFar : kClosed;
    }
  }
  return *slot;
}

float HugTree::cost_of(HugCell c) const {
  const auto n = number(c);
  const auto& slot = tiles_[n / HugTile::kCells];
  return slot ? slot->cost[n % HugTile::kCells] : kFar;
}

void HugTree::push(float cost, std::uint32_t cell) {
  const auto b = static_cast<std::size_t>(cost * per_bucket_);
  while (b >= buckets_.size()) {
    buckets_.emplace_back();
    if (spare_.empty()) continue;
    buckets_.back().swap(spare_.back());
    spare_.pop_back();
  }
  buckets_[b].push_back({cost, cell});
}

void HugTree::relax(const Entry& e, const Tile& from, std::size_t k, std::size_t d, std::uint32_t to_tile,
                    std::size_t m) {
  auto& to = tile(to_tile);
  const float held = to.cost[m];
  if (held <= e.cost) return;
  const int factor = from.ground->factor[k][d & 3u] + to.ground->factor[m][d & 3u];
  const float cost = e.cost + from.length[d] * static_cast<float>(factor);
  if (cost >= held) return;
  to.cost[m] = cost;
  to.parent[m] = static_cast<std::uint8_t>(d);
  push(cost, to_tile * static_cast<std::uint32_t>(HugTile::kCells) + static_cast<std::uint32_t>(m));
}

void HugTree::settle(const Entry& e) {
  const auto t = e.cell / static_cast<std::uint32_t>(HugTile::kCells);
  const std::size_t k = e.cell % HugTile::kCells;
  const auto& from = *tiles_[t];
  if (e.cost > from.cost[k]) return;
  ++settled_;
  const int x = static_cast<int>(k) % HugTile::kSide, y = static_cast<int>(k) / HugTile::kSide;
  if (x > 0 && y > 0 && x + 1 < HugTile::kSide && y + 1 < HugTile::kSide) {
    for (std::size_t d = 0; d < kHugSteps.size(); ++d) {
      const int m = static_cast<int>(k) + kHugSteps[d].j * HugTile::kSide + kHugSteps[d].i;
      relax(e, from, k, d, t, static_cast<std::size_t>(m));
    }
    return;
  }
  const int columns = cost_->tile_columns();
  const HugCell own{static_cast<int>(t) % columns * HugTile::kSide + x,
                    static_cast<int>(t) / columns * HugTile::kSide + y};
  for (std::size_t d = 0; d < kHugSteps.size(); ++d) {
    const HugCell n{own.i + kHugSteps[d].i, own.j + kHugSteps[d].j};
    if (n.i < 0 || n.j < 0 || n.i >= cost_->columns() || n.j >= cost_->rows()) continue;
    const auto to = number(n);
    relax(e, from, k, d, to / static_cast<std::uint32_t>(HugTile::kCells), to % HugTile::kCells);
  }
}

double HugTree::least_cost(HugCell target) {
  while (bucket_ < buckets_.size() && cost_of(target) * per_bucket_ > static_cast<float>(bucket_)) {
    if (is_cancelled(progress_)) return std::numeric_limits<double>::infinity();
    while (!buckets_[bucket_].empty()) {
      const Entry e = buckets_[bucket_].back();
      buckets_[bucket_].pop_back();
      settle(e);
    }
    spare_.emplace_back().swap(buckets_[bucket_++]);
  }
  const float cost = cost_of(target);
  return cost == kClosed ? std::numeric_limits<double>::infinity() : static_cast<double>(cost);
}

std::optional<std::vector<HugCell>> HugTree::path(HugCell target) {
  if (std::isinf(least_cost(target))) return std::nullopt;
  std::vector<HugCell> cells{target};
  for (;;) {
    const HugCell c = cells.back();
    const auto n = number(c);
    const auto d = tiles_[n / HugTile::kCells]->parent[n % HugTile::kCells];
    if (d == kRoot) break;
    cells.push_back({c.i - kHugSteps[d].i, c.j - kHugSteps[d].j});
  }
  std::reverse(cells.begin(), cells.end());
  return cells;
}

}  // namespace pontata
