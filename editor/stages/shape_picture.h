// Small line pictures of walls: where a shape is picked, and while its measures are typed.
#pragma once

#include <imgui.h>

#include <functional>

#include "engine/wall/shapes.h"

namespace pontata {

// Draws the shape's edges and arrises into the box, seen from a little above and to the side, as large as fits.
void draw_shape(ImDrawList& list, const ShapeSpec& spec, ImVec2 corner, ImVec2 size, ImU32 colour, float thickness);

// A row of pictures with names under them, as many in a row as fit; true when one was pressed. `picked` is framed.
// `each(kind)` is called after each picture, while it is the last item.
bool pick_shape(ShapeKind& picked, double scale, const std::function<void(ShapeKind)>& each);

}  // namespace pontata
