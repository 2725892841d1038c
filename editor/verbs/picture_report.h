// A picture as it lies, for people and for programs.
#pragma once

#include <span>
#include <string>

#include "editor/verbs/project.h"
#include "engine/cartoon/squared_picture.h"
#include "engine/document/picture_edits.h"
#include "engine/picture/stretch.h"

namespace pontata {

// How it was set by points, and on which lines of their file they stand (empty: not known).
struct PictureFit {
  FitReport report;
  std::vector<int> lines;
};

// The keys at, width, height and turn_deg are null for a picture that does not lie unrolled.
Json picture_json(const WallItem& item, const PlacedPicture& picture, const std::optional<PictureFit>& fit);
std::string picture_text(const WallItem& item, const PlacedPicture& picture, const std::optional<PictureFit>& fit);

// How far it is stretched where it lies.
Json stretch_json(const StretchReport& stretch);
std::string stretch_text(const StretchReport& stretch);

Json squared_json(const SquaredPicture& squared);

// Every picture of the wall, the lowest first.
Json pictures_json(const WallItem& item);
std::string pictures_text(const WallItem& item);

}  // namespace pontata
