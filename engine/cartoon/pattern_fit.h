// How true a pattern is, with the slits it was given.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "engine/cartoon/rim_sides.h"
#include "engine/flatten/flattening.h"

namespace pontata {

struct PatternFit {
  Patch patch;
  Flattening flat;
  double worst_mm = 0;  // greatest error of a straight line on the paper
  double held_mm = 0;   // greatest error of a seam against its development
  bool closed = false;  // a rim without a break could not be held to its development, for that does not close
  bool folded = false;  // the paper turns over or overlaps itself, lips that meet left out
};

// As patterns are printed, and for planning: rims alike, inside points at twice the spacing.
PatchOptions print_division();
PatchOptions coarse_division();

// The pattern, its rims held to their developments. A piece that lies flat without strain needs no holding: its rims
// come out as their developments by themselves.
Result<PatternFit> fit_pattern(const CartoonWall& wall, std::span<const Ring> rings, std::span<const Slit> slits,
                               const PatchOptions& division, const RimSides& sides, Progress* progress);

// Seams to 0.1 mm, lines to the tolerance, nothing folded.
bool fits_within(const PatternFit& fit, double tolerance_mm);

// A triangle turned over, or the rim crosses itself. Lips that overlap by less than kLipsTouch count as touching.
inline constexpr double kLipsTouch = 2e-4;  // m
bool overlaps_itself(const Patch& patch, const std::vector<Vec2>& flat);

// Per point of a slit's lips, from mouth to tip: how far they stand apart on paper, m; negative where they overlap.
std::vector<double> lip_gaps(const Patch& patch, const std::vector<Vec2>& flat, const SlitPlace& at);

// Widens, for another fit, those slits (Slit::open_m) whose lips overlap on paper, by the overlap. False when none
// does.
bool open_where_lips_cross(std::vector<Slit>& slits, const PatternFit& fit);

}  // namespace pontata
