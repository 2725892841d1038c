#include "engine/cartoon/tiling.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

#include "engine/cartoon/tiling_grid.h"
#include "engine/cartoon/tiling_search.h"

namespace pontata {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kLeastLength = 200;  // mm, of a piece of roll: its words and bars need as much
constexpr double kWorthTurning = 0.95;

constexpr Vec2 kUpright{1, 0}, kQuarter{0, 1};

// Turns tell in what order tilings of as many sheets are preferred.
std::array<double, 2> unlike_upright(Vec2 turn) {
  const double angle = std::abs(std::atan2(turn.y, turn.x));
  return {turn == kUpright ? 0.0 : std::abs(turn.x) < 1e-12 ? 1.0 : 2.0, angle};
}

Tiling fewest_sheets(const std::vector<Vec2>& corners, const Paper& paper, double overlap) {
  const SheetMargins m;
  std::vector<SheetShape> shapes{sheet_shape({paper.width_mm, paper.height_mm}, m, overlap)};
  if (paper.width_mm != paper.height_mm) shapes.push_back(sheet_shape({paper.height_mm, paper.width_mm}, m, overlap));
  Tiling best;
  const auto take = [&](Tiling t) {
    const auto cost = [](const Tiling& x) { return std::pair{x.tiles.size(), unlike_upright(x.turn)}; };
    if (best.tiles.empty() || cost(t) < cost(best)) best = std::move(t);
  };
  const auto try_box = [&](const SheetShape& s, Vec2 turn) {
    take(tiling_of(corners, s, centred_box(corners, s, turn, overlap), overlap));
  };
  for (const SheetShape& s : shapes) try_box(s, kUpright);
  if (best.tiles.size() == 1) return best;
  for (const SheetShape& s : shapes) try_box(s, kQuarter);
  for (const auto& [shape, laid] : promising(corners, shapes)) {
    try_box(shapes[shape], laid.turn);  // in the middle, where that needs no more sheets
    take(tiling_of(corners, shapes[shape], laid, overlap));
  }
  return best;
}

struct RollCost {
  int sheets = 0;
  double length = 0;  // of one sheet, mm
};

SheetShape roll_shape(const Extent& e, const Paper& paper, double overlap, RollCost& cost) {
  const SheetMargins m;
  const Vec2 size = e.size() + Vec2{2 * kTilingRoom, 2 * kTilingRoom};
  const double blank = m.top + m.bottom;
  const int rows = sheets_along(size.y, paper.height_mm - blank, overlap);
  cost.length = std::min(paper.height_mm, std::max(kLeastLength, (size.y + (rows - 1) * overlap) / rows + blank));
  cost.sheets = rows * sheets_along(size.x, paper.width_mm - m.left - m.right, overlap);
  return sheet_shape({paper.width_mm, cost.length}, m, overlap);
}

// Only the box of the turned pattern tells how long a piece of roll must be, so turns are tried through its hull.
Vec2 best_roll_turn(const std::vector<Vec2>& corners, const Paper& paper, double overlap) {
  const std::vector<Vec2> hull = convex_hull(corners);
  struct Best {
    double sheets = 1e300, paper = 1e300;
    Vec2 turn = kUpright;
  } best;
  const auto try_turn = [&](Vec2 turn, double worth) {
    RollCost cost;
    roll_shape(extent_of(hull, turn), paper, overlap, cost);
    const double length = cost.sheets * cost.length / worth;
    if (std::pair<double, double>(cost.sheets, length) >= std::pair(best.sheets, best.paper)) return;
    best = {static_cast<double>(cost.sheets), length, turn};
  };
  const auto try_angle = [&](double deg, double worth) {
    try_turn({std::cos(deg * kPi / 180), std::sin(deg * kPi / 180)}, worth);
  };
  try_turn(kUpright, 1);
  try_turn(kQuarter, kWorthTurning);
  const double keep = best.paper;
  for (int deg = -89; deg < 90; ++deg)
    if (deg != 0) try_angle(deg, kWorthTurning);
  if (best.paper == keep) return best.turn;
  const double found = std::atan2(best.turn.y, best.turn.x) * 180 / kPi;
  for (int tenth = -9; tenth < 10; ++tenth) try_angle(found + 0.1 * tenth, kWorthTurning);
  return best.turn;
}

Tiling over_roll(const std::vector<Vec2>& corners, const Paper& paper, double overlap) {
  const Vec2 turn = best_roll_turn(corners, paper, overlap);
  RollCost cost;
  const SheetShape shape = roll_shape(extent_of(corners, turn), paper, overlap, cost);
  return tiling_of(corners, shape, centred_box(corners, shape, turn, overlap), overlap);
}

}  // namespace

Vec2 placed(const Tiling& tiling, Vec2 p) { return turned_by(tiling.turn, p); }

double turn_deg(const Tiling& tiling) { return std::atan2(tiling.turn.y, tiling.turn.x) * 180 / kPi; }

double paper_m2(const Tiling& t) { return 1e-6 * static_cast<double>(t.tiles.size()) * t.page.x * t.page.y; }

double roll_m(const Tiling& t, const Paper& paper) {
  return paper.roll ? 1e-3 * static_cast<double>(t.tiles.size()) * t.page.y : 0;
}

Result<Tiling> tile(const std::vector<Vec2>& corners, const Paper& paper, double overlap_mm) {
  const SheetMargins m;
  const double narrow = std::min(paper.width_mm - m.left - m.right, paper.height_mm - m.top - m.bottom);
  if (!(overlap_mm >= 0) || !(overlap_mm < 0.5 * narrow))
    return Problem{"the sheets' overlap leaves no room for the pattern", "",
                   "Choose a smaller overlap or a larger paper."};
  return paper.roll ? over_roll(corners, paper, overlap_mm) : fewest_sheets(corners, paper, overlap_mm);
}

Tiling whole(const std::vector<Vec2>& corners) {
  const Extent e = extent_of(corners, kUpright);
  Tiling t;
  t.window = e.size() + Vec2{2 * kTilingRoom, 2 * kTilingRoom};
  t.window = glm::max(t.window, Vec2{120, 120});  // the bars
  t.page = t.window + Vec2{t.margins.left + t.margins.right, t.margins.top + t.margins.bottom};
  t.tiles = {{0, 0, 0.5 * (e.lo + e.hi - t.window)}};
  return t;
}

}  // namespace pontata
