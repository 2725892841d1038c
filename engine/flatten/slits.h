// Slits put into the rims of a patch before it is triangulated.
#pragma once

#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "engine/flatten/patch.h"
#include "engine/flatten/rim.h"

namespace pontata {

// A rim with the chart step of each of its points, as Patch::rim_steps has it.
struct SlitRim {
  DenseRim rim;
  std::vector<std::pair<LatticePoint, LatticePoint>> steps;
  std::vector<std::size_t> marks;  // per point: 3 slit + 0 left, 1 tip, 2 right; kNoSlit elsewhere
  static constexpr std::size_t kNoSlit = static_cast<std::size_t>(-1);
};
SlitRim plain_rim(DenseRim rim);

// Half the width of a plain cut: wide enough for the lattice, nothing beside a print.
inline constexpr double kLip = 2e-6;  // m

// The rims with each slit put in whose mouth is a point of one of them. The lips are divided to `spacing_m`; they have
// the same points on either side, half the slit's width (kLip for a plain cut) from its line. SlitPlace::rim counts
// `rims`.
std::vector<SlitPlace> put_slits(std::vector<SlitRim>& rims, std::span<const Slit> slits, const ChartedWall& wall,
                                 double spacing_m);

}  // namespace pontata
