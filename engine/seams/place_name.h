// Places in the words of refusals.
#pragma once

#include <optional>
#include <string_view>

#include "engine/base/lattice.h"

namespace pontata {

// The chart place that a text of place_name (network_editor.h) names; nullopt for other texts.
std::optional<ChartPoint> named_place(std::string_view where);

}  // namespace pontata
