#include "engine/flatten/rim.h"

#include <algorithm>
#include <cmath>

namespace pontata {
namespace {

// Nearest lattice point to `step` of `steps` equal parts from a to b.
LatticePoint part(LatticePoint a, LatticePoint b, int step, int steps) {
  const auto along = [&](std::int64_t p, std::int64_t q) {
    return p + std::llround(static_cast<double>(q - p) * step / steps);
  };
  return {along(a.x, b.x), along(a.y, b.y)};
}

// The inner points of the stretch from a to b, in that direction.
std::vector<LatticePoint> inner_points(LatticePoint a, LatticePoint b, int steps) {
  const bool turned = b < a;
  if (turned) std::swap(a, b);
  std::vector<LatticePoint> out;
  for (int i = 1; i < steps; ++i) {
    const LatticePoint p = part(a, b, i, steps);
    if (p != a && p != b && (out.empty() || out.back() != p)) out.push_back(p);
  }
  if (turned) std::reverse(out.begin(), out.end());
  return out;
}

// For each ring point, which ring point stands for it; the first of a run of near ones.
std::vector<std::size_t> merge_near(const Ring& ring, const std::vector<double>& lengths, double merge) {
  std::vector<std::size_t> keeper(ring.size());
  std::size_t kept = 0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const bool near = i > 0 && lengths[i - 1] < merge;
    keeper[i] = near ? keeper[i - 1] : i;
    kept += !near;
  }
  for (std::size_t i = ring.size(); i-- > 1 && lengths.back() < merge && keeper[i] == keeper.back();)
    if (keeper[i] == i) --kept;
  if (kept < 3) {
    for (std::size_t i = 0; i < ring.size(); ++i) keeper[i] = i;
  } else if (lengths.back() < merge && keeper.back() != 0) {
    for (std::size_t i = ring.size(), last = keeper.back(); i-- > 1 && keeper[i] == last;) keeper[i] = 0;
  }
  return keeper;
}

}  // namespace

double seam_length(const Metric& metric, LatticePoint a, LatticePoint b) {
  return metric.measure(std::min(a, b), std::max(a, b)).length_m;
}

DenseRim densify(const Ring& ring, const Metric& metric, const RimOptions& options) {
  std::vector<double> lengths(ring.size());
  for (std::size_t i = 0; i < ring.size(); ++i) lengths[i] = seam_length(metric, ring[i], ring[(i + 1) % ring.size()]);
  const std::vector<std::size_t> keeper = merge_near(ring, lengths, options.merge_m);
  DenseRim rim;
  rim.corners.assign(ring.size(), 0);
  std::vector<std::size_t> kept;
  for (std::size_t i = 0; i < ring.size(); ++i)
    if (keeper[i] == i) kept.push_back(i);
  for (std::size_t n = 0; n < kept.size(); ++n) {
    const LatticePoint a = ring[kept[n]], b = ring[kept[(n + 1) % kept.size()]];
    rim.corners[kept[n]] = static_cast<std::uint32_t>(rim.points.size());
    rim.points.push_back(a);
    if (!options.divide) continue;
    const double steps = std::ceil(seam_length(metric, a, b) / options.spacing_m * (1 - 1e-9));
    if (steps < 2) continue;
    const auto inner = inner_points(a, b, static_cast<int>(std::min(steps, 1e6)));
    rim.points.insert(rim.points.end(), inner.begin(), inner.end());
  }
  for (std::size_t i = 0; i < ring.size(); ++i) rim.corners[i] = rim.corners[keeper[i]];
  for (std::size_t i = 0; i < rim.points.size(); ++i)
    rim.lengths.push_back(seam_length(metric, rim.points[i], rim.points[(i + 1) % rim.points.size()]));
  return rim;
}

}  // namespace pontata
