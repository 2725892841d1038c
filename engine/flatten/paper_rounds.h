// The rounds of solving that bring held runs to their shapes and the greatest strain down.
#pragma once

#include "engine/base/progress.h"
#include "engine/flatten/paper_solver.h"

namespace pontata {

// Bring every held run within a fifth of hold_m of its shape, its length within 10 micrometres, and the strain to its
// least mean under that; stops trying after 60 steps. Cost: some 15 steps of the solver.
void hold_runs(PaperSolver& solver, double hold_m, const Progress* progress);

// Lowers the greatest strain to within some 3 % of the least that any map has: the limit of the paper's strain is an
// unknown with a price that rises fivefold each time the map has settled (path following with a logarithmic barrier;
// Boyd and Vandenberghe, "Convex Optimization", section 11.3: the gap is the barrier's parameter over the price). Held
// runs stay within a fifth of hold_m. Leaves `flat` at the best map seen; does nothing below a strain of 1e-5. Cost: at
// most `steps` steps of the solver, mostly some 15.
void lower_greatest(PaperSolver& solver, double hold_m, int steps, std::vector<Vec2>& flat, const Progress* progress);

// The same for a large patch without held runs, by moves that are smooth over it, judged on some 3,000 of its
// triangles: for a smooth surface mostly within 5 % of the least, in a tenth of the time. `flat` stays as it is where
// the whole patch gains nothing.
void lower_greatest_smoothly(const Patch& patch, std::span<const RestTriangle> rest, std::vector<Vec2>& flat,
                             const Progress* progress);

}  // namespace pontata
