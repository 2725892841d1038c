// Lowers the isometric energy of a whole flat sheet without folding it.
#pragma once

#include "engine/base/progress.h"
#include "engine/chart/parameterise_border.h"
#include "engine/chart/parameterise_energy.h"
#include "engine/chart/parameterise_levels.h"

namespace pontata {

// The triangles of a level and the shapes they are drawn to, which are set anew before every step: a triangle far from
// its own shape is drawn only part of the way (Liu, Ye, Ni, Fu, "Progressive Parameterizations", 2018). Those of lids
// have no shape of their own: they are taken as they are and change reluctantly, so that the rims of holes give way to
// each other but never meet (the scaffold of Jiang, Schaefer, Panozzo, "Simplicial Complex Augmentation Framework for
// Bijective Maps", 2017).
struct RelaxSheet {
  RelaxSheet(const LiddedSheet& sheet, const std::vector<Triangle>& of_level);
  std::vector<Triangle> triangles;
  std::vector<FlatTriangle> own;    // shapes on the surface
  std::vector<FlatTriangle> drawn;  // shapes aimed at in this step
  std::vector<bool> lid;            // whether the triangle belongs to a lid
  double lid_weight = 0;            // m^2
  Loops rims;                       // the outer rim and those of open holes
  // Sets `drawn`, of all triangles or of one.
  void aim(const std::vector<Vec2>& places);
  void aim(std::size_t triangle, const std::vector<Vec2>& places);
};

// Every place moves at once: Newton steps on the projected Hessian, each shortened before the first triangle would
// fold. Points of rims that would meet are held where they are, and where that does not help steps are shortened until
// the rims run clear. Places change in place; only those that triangles use are touched. Stops when a step gains less
// than `enough` of the energy.
void relax_globally(RelaxSheet& sheet, int steps, double enough, std::vector<Vec2>& places,
                    Progress* progress = nullptr);

// Takes off the lids of real openings, whose rims have room to move freely (a lid of one point keeps its hole
// star-shaped, and slits and specks are better kept so). True where one was taken off.
bool open_lids(const RelaxSheet& level, const std::vector<Vec2>& places, LiddedSheet& sheet);

// One point at a time, no two neighbours at once, `sweeps` times over: takes out what is wrong on the scale of a few
// triangles.
void relax_locally(RelaxSheet& sheet, int sweeps, std::vector<Vec2>& places, Progress* progress = nullptr);

// The same round the triangles alone whose scales against their own shape do not lie within 1 / most and most, over and
// over until there are none or the rounds are over.
void relax_worst(RelaxSheet& sheet, double most, int rounds, std::vector<Vec2>& places, Progress* progress = nullptr);

// The corners round one point: the triangles of its fan with the point as corner 0.
struct FanTriangle {
  FlatTriangle flat;  // gradients in the order point, b, c
  Vec2 b, c;
};
// One guarded Newton step of the point at `place`; returns the new place, which folds nothing.
Vec2 relaxed_place(const std::vector<FanTriangle>& fan, const Vec2& place);

}  // namespace pontata
