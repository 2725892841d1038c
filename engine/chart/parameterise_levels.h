// Coarser and coarser versions of a sheet, and the way back: points that were taken out return one by one into the hole
// they left, where there is always a place that folds nothing.
//
// Based on: Garland and Heckbert, "Surface Simplification Using Quadric Error Metrics", 1997 (which point goes); Hoppe,
// "Progressive Meshes", 1996 (the way back); Shen, Jiang, Zorin, Panozzo, "Progressive Embedding", 2019 (why it works).
#pragma once

#include <algorithm>

#include "engine/base/progress.h"
#include "engine/chart/parameterise_border.h"
#include "engine/chart/parameterise_energy.h"

namespace pontata {

// Point `point` was moved onto a neighbour. Its ring counter-clockwise, closed for a point inside; for one on a rim
// from one rim neighbour to the other.
struct Collapse {
  std::uint32_t point = 0;
  std::uint32_t first = 0, count = 0;  // of the ring, in Levels::rings
  bool inside = true;
};

struct Level {
  std::vector<Triangle> triangles;
  std::size_t collapses = 0;  // made to reach this level
};

struct Levels {
  std::vector<Level> levels;  // the full sheet first
  std::vector<Collapse> collapses;
  std::vector<std::size_t> passes;  // where each pass begins; points taken out in one pass are no neighbours
  std::vector<std::uint32_t> rings;
};

// A sheet whose holes are closed with lids: one more point in the middle of each, joined to its rim. Lids keep the rims
// of the holes apart from each other while the sheet is laid out.
inline constexpr std::uint32_t kNoLid = 0xffffffffu;
struct LiddedSheet {
  std::vector<Vec3> points;         // of the sheet, then one per lid
  std::vector<Triangle> triangles;  // of the sheet, then those of the lids
  std::vector<std::uint32_t> hole;  // of every point: 1 + the number of the hole on whose rim it lies, else 0
  std::uint32_t lid_points = 0;     // the first lid point
  std::vector<bool> open;           // of every lid: taken off again, the hole's rim is free
  // The lid of a triangle, kNoLid for one of the surface.
  std::uint32_t lid_of(const Triangle& t) const {
    const std::uint32_t last = std::max({t[0], t[1], t[2]});
    return last < lid_points ? kNoLid : last - lid_points;
  }
  bool is_lid(const Triangle& t) const { return lid_of(t) != kNoLid; }
  bool is_open(const Triangle& t) const { return is_lid(t) && open[lid_of(t)]; }
};
LiddedSheet close_holes(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles, const Loops& rims);

// Levels with about the given numbers of points (falling); fewer where the shape allows no more. Every level has the
// same rims, handles and parts as the full sheet. Deterministic.
Levels coarsen(const LiddedSheet& sheet, const std::vector<std::size_t>& targets, Progress* progress = nullptr);

// Puts back the points taken out between level `to` and the coarser one after it. Points of rims that are marked in
// `dented` return on the inner side of the rim they left, so that it cannot meet another there. False where a point
// found no place.
bool refine(const LiddedSheet& sheet, const Levels& levels, std::size_t to, const std::vector<char>& dented,
            std::vector<Vec2>& places);

}  // namespace pontata
