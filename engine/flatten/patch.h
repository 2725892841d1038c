// One face of the network as its own small surface, ready to be laid flat.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "engine/base/progress.h"
#include "engine/base/result.h"
#include "engine/chart/charted_wall.h"

namespace pontata {

// A ball that the patch is part of.
struct Sphere {
  Vec3 centre{0, 0, 0};
  double radius = 0;  // m
};

// A line along which the paper is slit from a rim inward. Both lips get the same points.
struct Slit {
  LatticePoint mouth;                // a point of a rim as make_patch divides it without slits
  std::vector<LatticePoint> inward;  // from the mouth, which is left out, to the tip
  std::vector<double> open_m;        // width of wall that no paper covers, at the mouth and at each place of `inward`
                                     // but the tip; empty for a plain cut
};

// Where a slit lies on the rim of a patch: the rim comes to `left`, runs in along that lip to `tip` and out along the
// other to `right` (left and right as seen from the mouth, looking inward). Positions in the rim.
struct SlitPlace {
  std::size_t slit = 0;  // of PatchOptions::slits
  std::uint32_t rim = 0, left = 0, tip = 0, right = 0;
};

struct Patch {
  std::vector<Vec3> points;         // m, on the wall
  std::vector<ChartPoint> places;   // their chart places
  std::vector<Triangle> triangles;  // counter-clockwise seen by the painter
  std::vector<std::vector<std::uint32_t>>
      rims;  // border loops as points: outer counter-clockwise first, holes clockwise
  std::vector<std::vector<std::uint32_t>>
      corners;  // per rim: the position in that rim of each point of its outline, in order
  // Per rim the given ring points on it. Where a patch was sewn along a cut its rim changes sides: the point there is
  // in the outline twice, as either side of the cut has it.
  std::vector<Ring> outlines;
  // Per rim the chart step from each of its points to the next, as its own side of the cut has it.
  std::vector<std::vector<std::pair<LatticePoint, LatticePoint>>> rim_steps;
  // Lengths on the surface, m, along the chart: of the sides of each triangle (corner k to k+1), and per rim from each
  // of its points to the next. Where they are missing, the straight distances between the points stand in.
  std::vector<std::array<double, 3>> sides;
  std::vector<std::vector<double>> rim_lengths;
  // Chart places of each triangle's corners on one side of a cut; empty where the patch crosses none.
  std::vector<std::array<ChartPoint, 3>> corner_places;
  ChartPoint corner_place(std::size_t t, std::size_t k) const {
    return corner_places.empty() ? places[triangles[t][k]] : corner_places[t][k];
  }
  std::vector<SlitPlace> slits;  // those that were made
  std::optional<Sphere> sphere;  // when the whole patch lies on one (within 0.5 % of its curvature)
};

struct PatchOptions {
  double spacing_m = 0.03;     // wanted edge length on the surface
  std::size_t limit = 200000;  // points; the spacing grows until the patch fits
  double inside_m = 0;         // spacing of the inside points where it is to be wider than that of the rims
  std::vector<Slit> slits{};   // must keep clear of each other and of the rims
};

// A conforming triangulation of the region inside the rings (outer counter-clockwise, holes clockwise): every ring
// point is a point of the patch, rims are subdivided to the spacing, inside points lie on the true surface. A stretch
// between two ring points is divided the same way from either side, so neighbours share their rim points. Neighbouring
// ring points nearer than 20 micrometres become one point of the patch (`corners` then repeats it). Several outer rings
// are allowed. Where rings lie on each other across a cut of the chart, what is inside is sewn together there: one
// patch, the cut no rim. A region that closes all round the wall stays open along it. A slit whose mouth is no rim
// point is left out (Patch::slits tells); rim_steps beside the mouth of a plain cut run to the mouth itself.
Result<Patch> make_patch(const ChartedWall& wall, std::span<const Ring> rings, const PatchOptions& options = {},
                         Progress* progress = nullptr);

// The rings of each part that is one patch: an outer ring with the holes in it, and what is sewn to it across cuts.
std::vector<std::vector<Ring>> patch_parts(const ChartedWall& wall, std::span<const Ring> rings);

}  // namespace pontata
