// Openings cut out of a charted surface.
//
// What remains is the very same surface: the outline's way is led over the triangles, which are split where it passes,
// and those inside it are left out. So no area of the rest changes but by rounding, an arris keeps both its normals,
// and every place of the chart stays the place it was. Openings that touch, overlap or reach over the wall's border
// become one border.
#pragma once

#include <memory>
#include <span>
#include <string>

#include "engine/chart/charted_wall.h"

namespace pontata {

inline constexpr double kLeastOpening = 1e-4;  // m^2 of chart: openings below 1 cm^2 are refused
// m: chords of round openings stay this near to their arc, or 1e-4 of its radius.
inline constexpr double kArcSagitta = 1e-4;

// The opening's outline on the lattice, counter-clockwise, without repeated points; refuses what opening_outline
// refuses.
Result<Ring> opening_ring(const Opening& opening);

// The wall's chart with the openings cut out one after another, certified with its origin kept. Outlines are rounded to
// the lattice; where one passes a point of the surface nearer than 0.5 micrometres it is led through it.
// Refuses, with the opening's number where there are several and its place: one under 1 cm^2, wholly outside the wall
// or inside an earlier one, covering the whole wall, parting it in two (scraps under 1 cm^2 are left out with the
// opening), touching another opening or the border in a single point, or reaching a line along which the wall is cut
// open because it closes round itself. Same input, same points in the same order; cutting two at once or one after the
// other is the same. O(n) an opening.
Result<Chart> cut_openings(const Chart& chart, std::span<const Opening> openings, const std::string& name);

// A wall whose chart is `chart` with the openings cut out: metric and picking made, `places_before_openings` kept.
Result<WallRef> wall_with_openings(const Chart& chart, std::span<const Opening> openings, const std::string& name,
                                   bool fair_scan);
// One more opening in a wall that may have some already.
Result<WallRef> with_opening(const ChartedWall& wall, const Opening& opening, const std::string& name);

}  // namespace pontata
