// What of a drawing comes first, and how large it is. Internal to engine/document/seam_files.
#pragma once

#include <string_view>
#include <vector>

#include "engine/document/seam_files/drawing.h"

namespace pontata {

struct DrawingBox {
  Vec2 low{0, 0}, high{0, 0};
};
// Of all that is brought in. A drawing without points has a box of no size at the origin.
DrawingBox box_of(const Drawing& drawing);

// A path of ours of this kind; of another kind than giornate, which is no seam.
bool is_own(const DrawnPath& path, std::string_view kind);
bool is_no_seam(const DrawnPath& path);

// The paths with outlines, in the drawing's order; an outline that lies inside another comes before it (`outer_first`:
// after it). Told by 16 of its points.
std::vector<std::size_t> outline_order(const Drawing& drawing, bool outer_first);

}  // namespace pontata
