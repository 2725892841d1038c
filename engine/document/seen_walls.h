// The walls of a project with their draped pictures, as an eye meets them.
#pragma once

#include <vector>

#include "engine/document/flow.h"
#include "engine/picture/eye_view.h"

namespace pontata {

// All walls in the document's order, or only the one named (none: an empty list when there is no such wall).
std::vector<SeenWall> seen_walls(const Document& doc, Flow& flow, std::string_view only = {});

}  // namespace pontata
