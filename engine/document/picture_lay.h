// From what the painter asks for to how a picture lies: the part of the edits of pictures that computes.
#pragma once

#include "engine/document/picture_edits.h"

namespace pontata {

struct LaidPicture {
  Lay lay;
  ThinPlate plate;
  std::vector<ControlPoint> points;
  FitOptions options;
  std::optional<FitReport> report;  // by points
};
// `picture` tells the size in pixels and, by its id, which picture of the wall it is; where it lies so far is not
// asked. Refuses what would lie beside the wall or cannot be seen on it.
Result<LaidPicture> laid_by(const Document& doc, const WallItem& item, const PlacedPicture& picture,
                            const Laying& laying);

// The lay of a picture by size moved by `by`: chart metres, or metres of the plan or elevation. Refuses the other lays
// and what would leave the wall.
Result<Lay> shifted(const WallItem& item, const PlacedPicture& picture, const Vec2& by);

// Some of the picture's shown part lies on the wall: judged for lays by size in the chart exactly, for the others at 33
// x 33 pixels of it.
bool lies_on_wall(const ChartedWall& wall, const PlacedPicture& picture);

}  // namespace pontata
