#include <algorithm>
#include <cmath>

#include "engine/seams/hug_path.h"

namespace pontata {

namespace {

constexpr std::size_t kBridge = 3;    // cells without a ridge that a contour may skip
constexpr std::size_t kLeastRun = 4;  // cells; a shorter one is a contour crossed, not followed

struct CellRun {
  std::size_t first = 0, last = 0;  // cells on a contour, both included
};

Vec2 tangent_of(const Ridge& ridge) {
  const auto angle = static_cast<double>(ridge.direction);
  return {-std::sin(angle), std::cos(angle)};
}

// A cell follows its ridge when the path runs within 50 degrees of it.
std::vector<char> following(HugCost& cost, std::span<const HugCell> cells) {
  std::vector<char> on(cells.size(), 0);
  for (std::size_t k = 0; k < cells.size(); ++k) {
    const auto sample = cost.ridge(cells[k]);
    if (sample == HugTile::kNoRidge) continue;
    const HugCell a = cells[k > 0 ? k - 1 : 0], b = cells[std::min(k + 1, cells.size() - 1)];
    const Vec2 step(b.i - a.i, b.j - a.j);
    const double cosine = std::abs(glm::dot(step, tangent_of(cost.contours()->faint(sample))));
    on[k] = cosine >= 0.64 * glm::length(step) && cosine > 0;
  }
  return on;
}

std::vector<CellRun> runs_of(const std::vector<char>& on) {
  std::vector<CellRun> runs;
  for (std::size_t k = 0; k < on.size(); ++k) {
    if (!on[k]) continue;
    if (!runs.empty() && k - runs.back().last <= kBridge + 1) {
      runs.back().last = k;
    } else {
      runs.push_back({k, k});
    }
  }
  std::erase_if(runs, [](const CellRun& r) { return r.last - r.first + 1 < kLeastRun; });
  return runs;
}

// A run is on a contour when most of its ridges belong to one; else faint ridges led it there.
HugKind kind_of(HugCost& cost, std::span<const HugCell> cells, const CellRun& run) {
  int joined = 0;
  for (std::size_t k = run.first; k <= run.last; ++k) {
    const auto sample = cost.ridge(cells[k]);
    joined += sample != HugTile::kNoRidge && cost.contours()->at(sample).strength > 0 ? 1 : -1;
  }
  return joined > 0 ? HugKind::contour : HugKind::free;
}

// Sub-pixel ridge points of a run, at least 0.6 cells apart and never stepping back.
std::vector<Vec2> ridge_points(HugCost& cost, std::span<const HugCell> cells, const CellRun& run,
                               const std::vector<char>& on) {
  const auto& field = *cost.contours();
  const auto columns = static_cast<std::uint32_t>(field.columns);
  std::vector<Vec2> points;
  for (std::size_t k = run.first; k <= run.last; ++k) {
    if (!on[k]) continue;
    const auto sample = cost.ridge(cells[k]);
    const Ridge ridge = field.faint(sample);
    const Vec2 tangent = tangent_of(ridge), across(tangent.y, -tangent.x);
    const Vec2 p =
        (Vec2(sample % columns, sample / columns) + across * static_cast<double>(ridge.offset)) * field.spacing;
    if (!points.empty()) {
      const HugCell a = cells[k > 0 ? k - 1 : 0], b = cells[std::min(k + 1, cells.size() - 1)];
      const Vec2 step = p - points.back();
      if (glm::length(step) < 0.6 * cost.cell() || glm::dot(step, Vec2(b.i - a.i, b.j - a.j)) <= 0) continue;
    }
    points.push_back(p);
  }
  return points;
}

// Two passes of [1 2 1] / 4 along the points, ends kept and points at a corner (a turn above 45 degrees over three
// points to either side) left where they are.
void smooth(std::vector<Vec2>& points) {
  const std::size_t n = points.size();
  std::vector<char> corner(n, 0);
  for (std::size_t k = 1; k + 1 < n; ++k) {
    const std::size_t reach = std::min<std::size_t>({3, k, n - 1 - k});
    const Vec2 before = points[k] - points[k - reach], after = points[k + reach] - points[k];
    corner[k] = glm::dot(before, after) < 0.7071 * glm::length(before) * glm::length(after);
  }
  for (int pass = 0; pass < 2; ++pass) {
    const auto old = points;
    for (std::size_t k = 1; k + 1 < n; ++k) {
      if (!corner[k]) points[k] = 0.25 * (old[k - 1] + 2.0 * old[k] + old[k + 1]);
    }
  }
}

// Drops points at the run's beginning until it is as far along from the foot of `end` as that is from `end`.
// Returns how far `end` lies off the run.
double open_toward(std::vector<Vec2>& points, Vec2 end, double least) {
  std::size_t foot = 0;
  double off = glm::length(points[0] - end), walked = 0;
  for (std::size_t k = 1; k < points.size() && walked <= 2 * off; ++k) {
    walked += glm::length(points[k] - points[k - 1]);
    const double d = glm::length(points[k] - end);
    if (d >= off) continue;
    off = d;
    foot = k;
    walked = 0;
  }
  std::size_t first = foot;
  walked = 0;
  while (first < points.size() && walked < std::max(off, least)) {
    ++first;
    if (first < points.size()) walked += glm::length(points[first] - points[first - 1]);
  }
  points.erase(points.begin(), points.begin() + static_cast<std::ptrdiff_t>(std::min(first, points.size())));
  return off;
}

}  // namespace

HugPath follow_ridges(HugCost& cost, std::span<const HugCell> cells, Vec2 from, Vec2 to) {
  HugPath path;
  path.add(from, HugKind::free);
  const auto on = following(cost, cells);
  const auto runs = runs_of(on);
  for (std::size_t r = 0; r < runs.size(); ++r) {
    auto points = ridge_points(cost, cells, runs[r], on);
    smooth(points);
    const HugKind kind = kind_of(cost, cells, runs[r]);
    const double near = 0.8 * cost.cell();  // an end this near a point of the contour, which has one a cell, lies on it
    auto lead = HugKind::free, trail = HugKind::free;
    if (r == 0 && !points.empty() && open_toward(points, from, 0.7 * cost.cell()) <= near) lead = kind;
    if (r + 1 == runs.size() && !points.empty()) {
      std::reverse(points.begin(), points.end());
      if (open_toward(points, to, 0.7 * cost.cell()) <= near) trail = kind;
      std::reverse(points.begin(), points.end());
    }
    for (std::size_t k = 0; k < points.size(); ++k) path.add(points[k], k == 0 ? lead : kind);
    if (r + 1 == runs.size()) path.add(to, points.empty() ? HugKind::free : trail);
  }
  path.add(to, HugKind::free);
  return path;
}

}  // namespace pontata
