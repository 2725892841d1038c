// A chart for a scan: a general parameterisation of a disc-like (or holed) surface.
#pragma once

#include <string>
#include <vector>

#include "engine/base/progress.h"
#include "engine/base/result.h"
#include "engine/wall/surface_mesh.h"

namespace pontata {

struct ParameteriseOptions {
  std::size_t solve_limit = 200000;  // a larger scan gets one more thinned version of this many points on the way
  int iterations = 30;               // most Newton steps on each thinned version (three times as many on the coarsest)
};

// Addresses in metres, near isometric (v as nearly up as the surface allows), bijective: starts from a convex-border
// map with positive weights (Tutte 1963; Floater, "Mean value coordinates", 2003), which cannot fold, then lowers an
// isometric energy that stays finite only while no triangle folds (symmetric Dirichlet, Smith and Schaefer, "Bijective
// Parameterization with Free Boundaries", 2015). Every point of the full mesh gets its own place. The result still has
// to pass Chart::certify. The energy is lowered on thinned versions of the surface (4,000 points and six times as many
// each time); versions above 40,000 points are only relaxed point by point, on all cores: a million triangles cost 6 to
// 10 s of processor time, and the same bytes come out on any number of cores.
// Small holes and slits keep a lid while this goes on; larger openings are let go where their rims run clear. Refuses
// closed surfaces and those that are not discs with holes, in plain words with a place.
Result<std::vector<Vec2>> parameterise(const SurfaceMesh& mesh, const std::string& name,
                                       const ParameteriseOptions& options = {}, Progress* progress = nullptr);

}  // namespace pontata
