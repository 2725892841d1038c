#include "engine/proposal/line_ways.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/seams/hug_path.h"

namespace pontata {

namespace {

constexpr double kStrength = 0.10;     // as HugOptions
constexpr double kCorridor = 8;        // cells to either side that a line may be led away
constexpr double kClose = 0.5;         // the same at a narrow place
constexpr double kMove = 8;            // cells that a junction may move
constexpr double kRoom = 3;            // cells more than that to get to where it has moved
constexpr double kApart = 4;           // cells between junctions: no four patches meet in a point
constexpr double kLeg = 18;            // cells of a line that count for where its junction lies
constexpr double kTolerance = 0.5e-3;  // m, as HugOptions::simplify_mm
constexpr double kWide = 0.5;          // of the ground's cells: as wide as cells are for a first look

// A proposal means no one contour, as a hand does that draws: any plain one hides a seam, amid texture too. How much of
// that counts grows with how strictly contours are to be followed.
HugStrictness strictness(double strict) {
  const auto much = static_cast<float>(std::clamp(strict / 0.9, 0.0, 1.0));
  return {0.15f - 0.13f * much, 0.95f * much};
}

}  // namespace

LineWays::LineWays(const ProposalGround& ground, const ProposalInput& input, double strict)
    : ground_(ground), input_(input) {
  if (!input.contours || input.contours->columns == 0) return;
  cost_ = std::make_unique<HugCost>(*input.wall, input.contours.get(), kStrength, strictness(strict));
  while ((rough_.empty() ? *cost_ : *rough_.back()).cell() < kWide * ground.cell)
    rough_.push_back(std::make_unique<HugCost>(rough_.empty() ? *cost_ : *rough_.back()));
}

int LineWays::cells(const HugCost& cost, double of_ground) const {
  return std::max(2, static_cast<int>(std::lround(of_ground * ground_.cell / cost.cell())));
}

HugCells LineWays::corridor(HugCost& cost, const WayLine& course, std::span<const NarrowPlace> narrow) const {
  HugCells within(cost);
  const int wide = cells(cost, kCorridor),
            close = std::max(1, static_cast<int>(std::lround(kClose * ground_.cell / cost.cell())));
  for (std::size_t k = 0; k + 1 < course.size(); ++k) {
    const Vec2 step = course[k + 1] - course[k];
    const int apart = narrow.empty() ? std::max(1, wide / 2) : close;
    const int parts = 1 + static_cast<int>(glm::length(step) / (apart * cost.cell()));
    for (int s = 0; s <= parts; ++s) {
      const Vec2 p = course[k] + step * (static_cast<double>(s) / parts);
      const bool held = std::ranges::any_of(
          narrow, [&](const NarrowPlace& n) { return glm::distance(n.at, p) < n.reach + kCorridor * ground_.cell; });
      within.add_round(cost.cell_of(p), held ? close : wide);
    }
  }
  return within;
}

std::optional<std::vector<HugCell>> LineWays::path(HugCost& cost, const WayLine& course, Vec2 from, Vec2 to,
                                                   std::span<const NarrowPlace> narrow, std::span<const WayLine> off,
                                                   Progress* progress) {
  if (is_cancelled(progress)) return std::nullopt;
  HugCells within = corridor(cost, course, narrow);
  // About an end that has moved there is room to get to it.
  if (from != course.front()) within.add_round(cost.cell_of(course.front()), cells(cost, kMove + kRoom));
  if (to != course.back()) within.add_round(cost.cell_of(course.back()), cells(cost, kMove + kRoom));
  for (const WayLine& line : off) each_cell_along(cost, line, [&](HugCell c) { within.drop(c); });
  const HugCell first = cost.cell_at(from), last = cost.cell_at(to);
  within.add(first), within.add(last);
  const HugRegion region{from, to, 1e3, false};
  const HugRoot root{first, 0};
  HugTree tree(cost, region, std::span(&root, 1), nullptr, &within, progress);
  return tree.path(last);
}

WayLine LineWays::hugged(const WayLine& course, Vec2 from, Vec2 to, std::span<const NarrowPlace> narrow,
                         std::span<const WayLine> off, Progress* progress) {
  const auto cells = path(*cost_, course, from, to, narrow, off, progress);
  if (!cells) return {};
  return simplify(*input_.wall, follow_ridges(*cost_, *cells, from, to), kTolerance, {}).at;
}

WayLine LineWays::roughly(const WayLine& course, Vec2 from, Vec2 to, Progress* progress) {
  HugCost& cost = rough_.empty() ? *cost_ : *rough_.back();
  const auto cells = path(cost, course, from, to, {}, {}, progress);
  if (!cells) return course;
  WayLine line{from};
  for (std::size_t k = 1; k + 1 < cells->size(); ++k) line.push_back(cost.centre((*cells)[k]));
  line.push_back(to);
  return line;
}

WayLine LineWays::joined(const WayLine& course, Vec2 from, Vec2 to) const {
  const auto passes = [&](const auto& along, Vec2 place) {
    std::size_t nearest = 0;
    const std::size_t reach = std::min<std::size_t>(static_cast<std::size_t>(2 * kMove), (along.size() - 1) / 2);
    for (std::size_t k = 1; k <= reach; ++k)
      if (glm::distance(along[k], place) < glm::distance(along[nearest], place)) nearest = k;
    return nearest;
  };
  WayLine back(course.rbegin(), course.rend());
  const std::size_t first = passes(course, from), last = course.size() - 1 - passes(back, to);
  WayLine line{from};
  for (std::size_t k = first; k <= last; ++k)
    if (k > 0 && k + 1 < course.size()) line.push_back(course[k]);
  line.push_back(to);
  line.erase(std::unique(line.begin(), line.end()), line.end());
  return line;
}

// Middles of the sides of cells, thinned.
WayLine LineWays::straightened(const WayLine& course, Vec2 from, Vec2 to, double cells) const {
  const WayLine line = joined(course, from, to);
  HugPath path;
  path.add(from, HugKind::free);
  for (std::size_t k = 1; k + 2 < line.size(); ++k) path.add(0.5 * (line[k] + line[k + 1]), HugKind::free);
  path.add(to, HugKind::free);
  return simplify(*input_.wall, path, cells * ground_.cell, {}).at;
}

std::optional<Vec2> LineWays::least_place(Vec2 corner, std::span<const WayLine> legs, std::span<const Vec2> others,
                                          Progress* progress) {
  HugCost& cost = rough_.empty() ? *cost_ : *rough_.back();
  const int reach = cells(cost, kMove), side = 2 * reach + 1;
  const HugCell middle = cost.cell_at(corner);
  std::vector<double> sum(static_cast<std::size_t>(side * side), 0);
  for (const WayLine& line : legs) {
    HugCells within = corridor(cost, line);
    within.add_round(middle, reach);
    const HugRegion region{line.front(), line.back(), 1e3, false};
    const HugRoot root{cost.cell_at(line.back()), 0};
    HugTree tree(cost, region, std::span(&root, 1), nullptr, &within, progress);
    for (int k = 0; k < side * side; ++k) {
      const HugCell at{k % side - reach, k / side - reach}, c{middle.i + at.i, middle.j + at.j};
      const bool there = c.i >= 0 && c.j >= 0 && c.i < cost.columns() && c.j < cost.rows();
      const bool near = at.i * at.i + at.j * at.j <= reach * reach;
      sum[static_cast<std::size_t>(k)] += there && near ? tree.least_cost(c) : std::numeric_limits<double>::infinity();
    }
  }
  const auto place_of = [&](int k) { return cost.centre({middle.i + k % side - reach, middle.j + k / side - reach}); };
  for (int k = 0; k < side * side; ++k)
    if (std::ranges::any_of(others, [&](Vec2 o) { return glm::distance(o, place_of(k)) < kApart * ground_.cell; }))
      sum[static_cast<std::size_t>(k)] = std::numeric_limits<double>::infinity();
  const auto best = std::ranges::min_element(sum);
  if (!std::isfinite(*best) || is_cancelled(progress)) return std::nullopt;
  const Vec2 place = place_of(static_cast<int>(best - sum.begin()));
  return on_contour(place, 0.75 * cost.cell() / ground_.cell);
}

Vec2 LineWays::on_contour(Vec2 place, double cells) const {
  const ContourField& field = *input_.contours;
  const double reach = cells * ground_.cell;
  const int around = static_cast<int>(std::ceil(reach / field.spacing));
  const int i0 = static_cast<int>(std::lround(place.x / field.spacing)),
            j0 = static_cast<int>(std::lround(place.y / field.spacing));
  double best = 0;
  Vec2 at = place;
  for (int j = std::max(0, j0 - around); j <= std::min(field.rows - 1, j0 + around); ++j)
    for (int i = std::max(0, i0 - around); i <= std::min(field.columns - 1, i0 + around); ++i) {
      const Ridge ridge = field.at(i, j);
      if (ridge.strength < kStrength) continue;
      const double turn = ridge.direction, off = ridge.offset;
      const Vec2 p = (Vec2(i, j) + off * Vec2(std::cos(turn), std::sin(turn))) * field.spacing;
      const double worth = std::min<double>(ridge.strength, 0.4) * (1 - glm::distance(p, place) / reach);
      if (worth > best) best = worth, at = p;
    }
  return at;
}

WayLine LineWays::leg(const WayLine& line) const {
  WayLine out{line.front()};
  double left = kLeg * ground_.cell;
  for (std::size_t k = 1; k < line.size(); ++k) {
    const double step = glm::distance(line[k - 1], line[k]);
    if (step >= left) {
      out.push_back(line[k - 1] + left / step * (line[k] - line[k - 1]));
      break;
    }
    left -= step;
    out.push_back(line[k]);
  }
  return out;
}

}  // namespace pontata
