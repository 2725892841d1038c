#include "engine/flatten/paper_rounds.h"

#include <algorithm>

namespace pontata {
namespace {

constexpr double kDevelopable = 1e-5;
constexpr double kNear = 0.03;    // parts of the least greatest strain
constexpr double kSettled = 0.1;  // gain of a step, in parts of the barrier's scale
constexpr double kStiffer = 1e6;  // near the limit the paper is as much stiffer as this, and springs must be

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

}  // namespace pontata
