#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/picture/metric_grid.h"
#include "engine/seams/hug_guide.h"

namespace pontata {

namespace {

constexpr double kFarther = 1.5;      // cost of a metre that a place lies farther from its click than the nearest one
constexpr double kMostRough = 12000;  // cells worth a search on the coarsest level
constexpr std::size_t kLevels = 4;
constexpr int kBeside = 2;  // coarse cells to either side of a rough way that the finer one is sought in

double cost_of(const HugEnd& end, const HugPlace& place) { return kFarther * (place.off_m - end.places[0].off_m); }

// The finer cells of coarse ones and of those beside them.
HugCells refined(const HugCost& finer, const HugCost& coarse, const std::vector<HugCell>& way) {
  HugCells beside(coarse), cells(finer);
  for (const HugCell c : way) {
    for (int j = std::max(c.j - kBeside, 0); j <= std::min(c.j + kBeside, coarse.rows() - 1); ++j) {
      for (int i = std::max(c.i - kBeside, 0); i <= std::min(c.i + kBeside, coarse.columns() - 1); ++i) {
        if (beside.has(coarse.tile_number({i, j}), {i, j})) continue;
        beside.add({i, j});
        for (int y = 0; y < HugCost::kCoarser; ++y) {
          for (int x = 0; x < HugCost::kCoarser; ++x) {
            const HugCell f{i * HugCost::kCoarser + x, j * HugCost::kCoarser + y};
            if (f.i < finer.columns() && f.j < finer.rows()) cells.add(f);
          }
        }
      }
    }
  }
  return cells;
}

}  // namespace

std::vector<HugRoot> HugGuide::roots(HugCost& cost, const HugEnd& a) {
  std::vector<HugRoot> roots;
  for (const auto& place : a.places) roots.push_back({cost.cell_at(place.at), cost_of(a, place)});
  return roots;
}

std::optional<HugWay> HugGuide::way(HugCost& cost, HugTree& tree, const HugEnd& a, const HugEnd& b) {
  double least = std::numeric_limits<double>::infinity();
  const HugPlace* to = nullptr;
  for (const auto& place : b.places) {
    const double own = cost_of(b, place);
    if (own >= least) continue;
    const double sum = own + tree.least_cost(cost.cell_at(place.at));
    if (sum >= least) continue;
    least = sum;
    to = &place;
  }
  if (!to) return std::nullopt;
  HugWay way{a.places[0], *to, tree.path(cost.cell_at(to->at)), least};
  if (!way.cells) return std::nullopt;
  const auto root = std::find_if(a.places.begin(), a.places.end(),
                                 [&](const HugPlace& at) { return cost.cell_at(at.at) == way.cells->front(); });
  if (root != a.places.end()) way.from = *root;
  return way;
}

HugWay HugGuide::exact(const HugEnd& a, const HugEnd& b, const HugBarrier* barrier, const Progress* progress) {
  if (!cost()) return straight(a, b);
  HugTree tree(*cost(), within_reach(a, b), roots(*cost(), a), barrier, nullptr, progress);
  return way(*cost(), tree, a, b).value_or(straight(a, b));
}

HugCost& HugGuide::level(std::size_t n) {
  while (cost_.size() <= n) cost_.push_back(std::make_unique<HugCost>(*cost_.back()));
  return *cost_[n];
}

std::size_t HugGuide::coarsest(const HugRegion& region) const {
  const double length = step_length(form_near(wall(), to_chart(0.5 * (region.a + region.b))), region.b - region.a);
  double cell = cost_.front()->cell();
  for (std::size_t n = 0;; ++n, cell *= HugCost::kCoarser) {
    const double cells = (length + 2 * region.half_width) * 2 * region.half_width / (cell * cell);
    if (n >= 1 && (cells <= kMostRough || n + 1 == kLevels)) return n;
  }
}

std::optional<HugWay> HugGuide::rough(const HugEnd& a, const HugEnd& b, const HugBarrier* barrier,
                                      const Progress* progress) {
  if (!cost()) return std::nullopt;
  const HugRegion region = within_reach(a, b);
  std::optional<HugCells> corridor;
  for (std::size_t n = coarsest(region);; --n) {
    HugCost& on = level(n);
    HugRegion wide = region;
    if (n > 0) wide.half_width += 2 * on.cell();  // a cell's middle may lie outside when the way through it does not
    std::optional<HugBarrier> off;
    if (barrier && n > 0) off.emplace(barrier->on(on));
    HugTree tree(on, wide, roots(on, a), off ? &*off : barrier, corridor ? &*corridor : nullptr, progress);
    auto found = way(on, tree, a, b);
    if (!found || n == 0) return found;
    corridor = refined(level(n - 1), on, *found->cells);
  }
}

std::optional<HugWay> HugGuide::kept(const std::vector<HugCell>& cells, double reach_m, const HugEnd& a,
                                     const HugEnd& b, const HugBarrier* barrier) {
  if (!cost()) return std::nullopt;
  HugCells within(*cost());
  for (const HugCell c : cells) within.add(c);
  within.add_round(cost()->cell_of(b.given), static_cast<int>(std::ceil(reach_m / cost()->cell())));
  HugTree tree(*cost(), within_reach(a, b), roots(*cost(), a), barrier, &within);
  return way(*cost(), tree, a, b);
}

}  // namespace pontata
