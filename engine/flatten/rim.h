// Rims of a patch, divided so that both neighbours of a seam divide it alike.
#pragma once

#include <span>
#include <vector>

#include "engine/base/lattice.h"
#include "engine/chart/metric.h"

namespace pontata {

struct DenseRim {
  std::vector<LatticePoint> points;
  std::vector<double> lengths;         // m on the surface, from each point to the next
  std::vector<std::uint32_t> corners;  // for each ring point its position in `points`
};

struct RimOptions {
  double spacing_m = 0.03;
  double merge_m = 2e-5;  // neighbouring ring points nearer than this become one
  bool divide = true;
};

// Divides every stretch between two ring points into equal chart steps of at most the spacing, counted from its lesser
// end, so the points do not depend on the side it is seen from.
DenseRim densify(const Ring& ring, const Metric& metric, const RimOptions& options);

// Surface length of the chart segment between two points, the same in both directions to the last bit.
double seam_length(const Metric& metric, LatticePoint a, LatticePoint b);

}  // namespace pontata
