// A patch laid flat where only the places count, not how true they are.
#pragma once

#include "engine/flatten/flattening.h"

namespace pontata {

// As flatten(), but of the result only `flat`, `label` and `up_by_height` are told: a third to a half of its cost is
// what it reports of lengths on the paper.
Result<Flattening> flat_places(const Patch& patch, const FlattenOptions& options = {}, Progress* progress = nullptr);

}  // namespace pontata
