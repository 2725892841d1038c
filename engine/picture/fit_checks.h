// What the points themselves say about a setting: chance, blunders, how they lie.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/picture/placement.h"

namespace pontata {

// The finer way foretells better than the plainer one, beyond chance: the mean of the gains in squared error, point by
// point, exceeds its own standard error (the one-standard-error rule of Breiman, Friedman, Olshen & Stone,
// "Classification and Regression Trees", 1984, section 3.4.3, on paired differences), and the root mean square falls by
// more than kMarking, as finely as anyone marks. Squares in px^2, in the same order.
inline constexpr double kMarking = 0.1;  // px
bool beyond_chance(std::span<const double> plain, std::span<const double> fine);

// Sum of squared misfits (px^2) of a least-squares setting and what it has left: 2 n minus its free numbers.
struct Misfit {
  double sum = 0;
  int spare = 0;
};

// `all`: every point, as freely as it was set; `alike` and `without`: every point and all but this one, set with the
// same freedom. The one point that is likely mis-marked: without it the misfit falls more than chance lets the greatest
// of n such falls do. Each fall, two numbers against the rest, is judged by F(2, spare without the point) at
// kFalseAlarm / n (data snooping: Baarda, "A testing procedure for use in geodetic networks", 1968; the mean-shift
// model: Cook & Weisberg, "Residuals and Influence in Regression", 1982, section 2.2.2). No misfit is held for less
// than kMarkingNoise a coordinate. Where a freer setting of all points explains them nearly as well (its misfit at most
// twice that without the point), nothing is named: it may be the lens. Points without an entry are not judged.
inline constexpr double kFalseAlarm = 0.02;
inline constexpr double kMarkingNoise = 0.2;  // px
std::optional<std::size_t> odd_one_out(const Misfit& all, std::span<const std::optional<Misfit>> alike,
                                       std::span<const std::optional<Misfit>> without);

// P(F > f) of the F distribution with 2 and `spare` degrees of freedom, in closed form: (1 + 2 f / spare)^(-spare / 2).
double tail_of_f2(double f, int spare);

// Spread across the points' main direction against the spread along it, 0 (on a line) .. 1.
double breadth(std::span<const Vec2> points);
// Area of the least convex outline round the points.
double outline_area(std::span<const Vec2> points);
// "the upper left", "the left half", ...: the part of the picture that holds all points; empty where it is no half.
std::string part_of_picture(PictureSize picture, std::span<const Vec2> pixels);

}  // namespace pontata
