// A chart for a scan: a general parameterisation of a disc-like (or holed) surface.
#pragma once

#include <string>
#include <vector>

#include "engine/base/progress.h"
#include "engine/base/result.h"
#include "engine/wall/surface_mesh.h"

namespace pontata {

struct ParameteriseOptions {
  std::size_t solve_limit = 200000;  // points of the mesh the global solve runs on; larger scans are decimated for it
  int iterations = 30;               // local/global sweeps after the first bijective map
};

// Addresses in metres, near isometric (v as nearly up as the surface allows), bijective: starts from a convex-border
// map with positive weights (Tutte 1963; Floater, "Mean value coordinates", 2003), which cannot fold, then lowers an
// isometric energy that stays finite only while no triangle folds (symmetric Dirichlet, Smith and Schaefer, "Bijective
// Parameterization with Free Boundaries", 2015). Every point of the full mesh gets its own place. The result still has
// to pass Chart::certify. Refuses closed surfaces and those that are not discs with holes, in plain words with a place.
Result<std::vector<Vec2>> parameterise(const SurfaceMesh& mesh, const std::string& name,
                                       const ParameteriseOptions& options = {}, Progress* progress = nullptr);

}  // namespace pontata
