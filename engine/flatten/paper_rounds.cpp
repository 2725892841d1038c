#include "engine/flatten/paper_rounds.h"

#include <algorithm>

#include "engine/flatten/flat_report.h"

namespace pontata {
namespace {

constexpr double kDevelopable = 1e-5;
constexpr double kNear = 0.03;    // parts of the least greatest strain
constexpr double kSettled = 0.1;  // gain of a step, in parts of the barrier's scale
constexpr double kStiffer = 1e6;  // near the limit the paper is as much stiffer as this, and springs must be

// Some 3,000 triangles that count, spread over the patch, those at its rims more densely: smooth moves go astray where
// nobody looks. Odd strides meet neighbouring triangles of either kind of a regular division.
std::vector<std::size_t> spread_triangles(const Patch& patch, std::span<const RestTriangle> rest) {
  constexpr std::size_t kWanted = 2500;
  const std::size_t stride = (rest.size() / kWanted) | 1, at_rim = (stride / 2) | 1;
  std::vector<bool> rim(patch.points.size(), false);
  for (const auto& r : patch.rims)
    for (const std::uint32_t v : r) rim[v] = true;
  std::vector<std::size_t> out;
  for (std::size_t t = 0, met = 0; t < rest.size(); ++t) {
    const Triangle& v = patch.triangles[t];
    const bool on_rim = (rim[v[0]] || rim[v[1]] || rim[v[2]]) && met++ % at_rim == 0;
    if ((on_rim || t % stride == 0) && rest[t].height >= kThinnestStrained) out.push_back(t);
  }
  return out;
}

bool is_held(const HoldError& e, double hold_m) { return e.distance <= 0.2 * hold_m && e.length <= 1e-5; }

}  // namespace

void hold_runs(PaperSolver& solver, double hold_m, const Progress* progress) {
  for (int n = 0; n < 60 && !is_cancelled(progress); ++n) {
    const double gain = solver.step();
    if (gain < 1e-3 && is_held(solver.held(), hold_m)) break;
    if (gain < 0.1) solver.tighten();
  }
}

void lower_greatest(PaperSolver& solver, double hold_m, int steps, std::vector<Vec2>& flat, const Progress* progress) {
  double best = solver.greatest_strain();
  if (best < kDevelopable || !solver.set_limit(1.2 * best)) return;
  solver.stiffen(kStiffer);
  for (int n = 0; n < steps && !is_cancelled(progress); ++n) {
    const double gain = solver.step(), worst = solver.greatest_strain();
    const bool held = is_held(solver.held(), hold_m);
    if (worst < best && held) best = worst, flat = solver.flat();
    if (gain == 0) break;
    solver.tighten();
    if (gain > kSettled) continue;
    if (solver.gap() > kNear)
      solver.raise_price(5);
    else if (held)
      break;
  }
}

void lower_greatest_smoothly(const Patch& patch, std::span<const RestTriangle> rest, std::vector<Vec2>& flat,
                             const Progress* progress) {
  const std::vector<std::size_t> judged = spread_triangles(patch, rest);
  if (judged.empty()) return;
  std::vector<Triangle> some;
  std::vector<RestTriangle> their_rest;
  for (const std::size_t t : judged) some.push_back(patch.triangles[t]), their_rest.push_back(rest[t]);
  PaperSolver solver(some, their_rest, flat, {}, smooth_moves(flat));
  std::vector<Vec2> moved = flat;
  lower_greatest(solver, 0, 20, moved, progress);
  const PaperSolver whole(patch.triangles, rest, moved, {}, nullptr);  // infinite energy: a triangle has turned over
  if (whole.energy() < std::numeric_limits<double>::infinity() &&
      whole.greatest_strain() < greatest_strain(patch, rest, flat))
    flat = std::move(moved);
}

}  // namespace pontata
