// The bound that no flat map of a spherical patch can beat.
#pragma once

#include <optional>

#include "engine/flatten/patch.h"

namespace pontata {

// Angular radius of the largest geodesic disc inside a spherical patch, found among its points and then by small moves;
// a lower estimate. nullopt when the patch lies on no sphere.
std::optional<double> largest_disc(const Patch& patch);

}  // namespace pontata
