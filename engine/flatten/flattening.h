// A patch laid flat at true size, with the least strain we can give it.
//
// Starts from the chart seen through one affine map, or from a least-squares conformal map (Levy et al., "Least Squares
// Conformal Maps", 2002) where that is nearer, at absolute scale; lowers the symmetric Dirichlet energy without folding
// a triangle (Smith and Schaefer, "Bijective Parameterization with Free Boundaries", 2015; see
// engine/flatten/isometry.h); then holds runs of rim to their shapes, and lowers the greatest strain to within a few
// per cent of the least possible (engine/flatten/paper_rounds.h). A developable patch comes out isometric to solver
// precision. A patch slit from its rim may be given with the slit closed: the lips part as the held runs and the strain
// ask for; lips that would lie on each other are reported as folded.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "engine/flatten/patch.h"

namespace pontata {

// A run of rim that must be printed in a given shape: its development, the plane curve that has the run's lengths and
// turns as the run does on the surface (its geodesic curvature). Both prints of a seam held to it agree.
struct HeldRun {
  std::uint32_t rim = 0;    // of the patch
  std::uint32_t first = 0;  // position in that rim; the run takes shape.size() - 1 rim edges from there on, cyclic
  std::vector<Vec2> shape;  // m, in the rim's direction; only its form counts, not where it lies
};

struct FlattenOptions {
  int iterations = 150;         // at most; ends sooner when nothing is gained
  bool lower_greatest = true;   // after the least mean strain, trade some of it for a lower greatest one
  std::vector<HeldRun> held{};  // disjoint runs of rim; where two meet the rim may turn freely
  double hold_m = 5e-5;         // greatest distance of a held run from its shape after the best rigid fit; where it
                                // cannot be reached, hold_error_m says so
};

// Triangles of the patch with a lesser altitude (m) are splinters of the division: left out of the greatest strain.
inline constexpr double kThinnestStrained = 2e-4;

struct Flattening {
  std::vector<Vec2> flat;       // m, one per patch point, seen by the painter; up on the wall is +y on the paper
  double max_strain = 0;        // greatest |sigma - 1| of the printed pattern against the wall, over all triangles
  double most_stretched = 0;    // greatest sigma - 1, at least 0
  double most_shrunk = 0;       // least sigma - 1, at most 0
  double area_strain = 0;       // greatest |det - 1|
  double misfit_mm = 0;         // greatest |flat - surface| length over rim stretches between ring corners
  double outline_mm_per_m = 0;  // greatest difference of length along the rim, over stretches of about a metre
  double worst_pair_mm = 0;  // greatest |printed - surface| length of a straight line on the paper within the pattern
  std::pair<std::uint32_t, std::uint32_t> worst_pair{0, 0};  // the patch points at its ends
  double mean_strain = 0;              // root mean square of |sigma - 1| over the area, both principal strains
  double hold_error_m = 0;             // greatest distance of a held run from its shape after the best rigid fit
  bool folded = false;                 // a triangle turned over or the rim crosses itself: not fit to print
  std::optional<double> least_strain;  // the bound no flat map of this patch can beat; for spherical patches
  std::uint32_t label = 0;             // patch point well inside, where `up` was taken
  bool up_by_height = true;            // false where the wall is nearly level at the label: +y is then the chart's v
};

Result<Flattening> flatten(const Patch& patch, const FlattenOptions& options = {}, Progress* progress = nullptr);

// Milnor's bound for a geodesic disc of angular radius alpha on a sphere: greatest |sigma - 1| is at least
// (alpha/sin alpha - 1)/(alpha/sin alpha + 1) when the scale may be chosen freely. Milnor, "A problem in cartography",
// Amer. Math. Monthly 76 (1969), from memory.
double least_strain_of_disc(double alpha);

// Rigid motion (rotation and shift) that brings `from` nearest to `to` in least squares; for comparing prints of one
// seam.
struct RigidFit {
  double angle = 0;
  Vec2 shift{0, 0};
  double worst = 0;  // m, greatest distance left
};
RigidFit fit_rigid(std::span<const Vec2> from, std::span<const Vec2> to);

}  // namespace pontata
