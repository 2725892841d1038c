// Half of a vault's section, from the crown down to the springing: a piece of an ellipse (a circle where both semi-axes
// are equal), told by the angle chi of its point (centre + across sin chi, up cos chi - up cos foot).
#pragma once

#include <span>
#include <vector>

#include "engine/base/vec.h"
#include "engine/wall/shapes.h"

namespace pontata {

struct HalfProfile {
  double across = 1, up = 1;   // semi-axes of the ellipse, m
  double centre = 0;           // of the ellipse, measured from the middle of the vault toward this springing, m
  double crown = 0, foot = 0;  // chi at both ends; a crown above 0 is a ridge
};

// Section over the span of a barrel, elliptical-barrel, pointed-barrel, groin or cloister; of an annular vault (its
// springing side is the outer one as well as the inner one); of a dome through its axis.
HalfProfile profile_over_span(const ShapeSpec& spec);
// The same section drawn out over the length of a groin or cloister.
HalfProfile profile_over_length(const ShapeSpec& spec);

// (distance from the middle toward the springing, height above the springing), m.
Vec2 profile_place(const HalfProfile& profile, double chi);
// Unit, toward the painter, in the same frame.
Vec2 profile_normal(const HalfProfile& profile, double chi);
// Arc length from the crown, m (incomplete elliptic integral of the second kind: Abramowitz and Stegun, 17.2.8), and
// the chi where it has a given length, clamped to the profile.
double profile_arc(const HalfProfile& profile, double chi);
double profile_chi(const HalfProfile& profile, double arc);
double profile_length(const HalfProfile& profile);             // of the half, m
double profile_speed(const HalfProfile& profile, double chi);  // d arc / d chi, m
double least_radius(const HalfProfile& profile);               // of curvature, m

// Values of chi from crown to foot whose chords stay within `tolerance` (m) of the arc and are no longer than `longest`
// (m) on every profile given; all of them share crown and foot. At least `least` steps.
std::vector<double> profile_steps(std::span<const HalfProfile> profiles, double tolerance, double longest, int least);

}  // namespace pontata
