// The medial axis of a flat region: the centres of its greatest discs, with their radii.
//
// Based on: Blum, "A transformation for extracting new descriptors of shape", 1967; computed from the Voronoi diagram
// of the rim's segments (Boost.Polygon), of which it is the part inside that is equally far from two different sides.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "engine/base/vec.h"

namespace pontata {

struct MedialAxis {
  std::vector<Vec2> at;        // m
  std::vector<double> radius;  // m, distance to the rim
  struct Link {
    std::uint32_t from = 0, to = 0;
  };
  std::vector<Link> links;       // short straight pieces between points
  std::optional<Vec2> no_width;  // the rim touches itself here (to a micrometre); the axis is then empty
};

// Rims as closed lines (m), the region on their left; pieces at most `step` long. Coordinates are rounded to
// micrometres.
MedialAxis medial_axis(std::span<const std::vector<Vec2>> rims, double step);

}  // namespace pontata
