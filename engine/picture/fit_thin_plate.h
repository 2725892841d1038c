// A smooth correction over the picture, as stiff as the points demand.
//
// Based on: Duchon, "Splines minimizing rotation-invariant semi-norms in Sobolev spaces", 1977 (the spline); Wahba,
// "Spline Models for Observational Data", 1990, section 4.2 (a smoothing spline's leave-one-out residual in closed
// form: residual / (1 - own weight)).
#pragma once

#include <span>

#include "engine/picture/lay.h"

namespace pontata {

// Fewer points never carry a correction.
inline constexpr std::size_t kFewestForPlate = 8;

// A plate that follows the wanted corrections (px) at the centres (px, at least three, not on a line, none twice): the
// least of sum |wanted - plate|^2 + stiffness * bending, with bending = sum of weights_i weights_j r^2 log r. 0 goes
// through every one; the stiffer, the nearer to an affine map. Empty for centres that fix nothing.
ThinPlate smoothed_plate(std::span<const Vec2> centres, std::span<const Vec2> wanted, double stiffness);

// The plate whose stiffness foretells left-out corrections best. Empty where none foretells them better than no
// correction at all, beyond chance (beyond_chance in fit_checks.h).
ThinPlate earned_plate(std::span<const Vec2> centres, std::span<const Vec2> wanted);

}  // namespace pontata
