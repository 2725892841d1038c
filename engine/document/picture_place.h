// Placing a picture by what is on the wall already: its lines, its other pictures, and the part without giornate.
#pragma once

#include "engine/document/picture_edits.h"

namespace pontata {

// The frame moved as Align says. Edges and the middle are those of the part that the crop lets show; of a turned
// picture its outermost corners. `picture` tells pixels, crop and, by its id, which picture of the wall it is. Refuses
// what wall_line refuses (wall_lines.h) and another picture that is not there.
Result<PictureFrame> aligned(const WallItem& item, const PlacedPicture& picture, const PictureFrame& frame,
                             const Align& align);

// The same by plan or elevation, moved along the picture's own edges: what of a line or of another picture lies beside
// the picture's middle is looked at straight on, as the picture is.
Result<PlaneLay> aligned(const WallItem& item, const PlacedPicture& picture, const PlaneLay& lay, const Align& align);

// The largest frame of the picture's proportions, turned by `turn_deg`, within the part of the wall that no giornata
// covers; its width within 0.1 mm of the largest there is. Refuses a wall where none wider than 10 mm fits.
Result<PictureFrame> frame_in_rest(const WallItem& item, PictureSize picture, double turn_deg);

}  // namespace pontata
