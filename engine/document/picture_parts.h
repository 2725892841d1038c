// What the edits of pictures, the reader of the project file and the check of a document have in common.
#pragma once

#include <span>
#include <string>

#include "engine/base/progress.h"
#include "engine/document/document.h"

namespace pontata {

inline constexpr std::size_t kMostMaskPoints = 10000, kMostControlPoints = 10000;
// What may stand in a record.
inline constexpr double kFarthestChart = 4096;   // chart m; no chart is wider
inline constexpr double kFarthestPlace = 1e6;    // m in the building
inline constexpr double kFarthestPixel = 1e6;    // px from the upper left corner
inline constexpr double kLeastSide = 1e-6;       // m, of a picture
inline constexpr double kGreatestNumber = 1e12;  // of a lay's other numbers
inline constexpr double kMostTurn = 360000;      // degrees
inline constexpr int kMostPoses = 100;

// A file brought in. One that a picture of the document was already read from, unchanged, is not read again.
struct PictureFileRead {
  std::string path;  // absolute
  std::string sha256;
  PictureRef pixels;
};
Result<PictureFileRead> read_picture_file(const Document& doc, const std::string& path, Progress* progress);

// Two sizes in pixels whose proportions agree within a pixel.
bool same_proportions(PictureSize a, PictureSize b);

// The same picture counted in pixels of another size of the same proportions: everything about it that is told in
// pixels (crop, mask, points, homography, camera, thin plate) is counted anew, so that it lies where it lay.
void count_in_pixels_of(PlacedPicture& picture, PictureSize size);

// Not empty, readable, at most 200 bytes, and borne by no other picture of the wall.
Outcome check_picture_name(const WallItem& item, PictureId id, const std::string& name);
// Inside the picture, with room inside.
Outcome check_crop(PictureSize size, const PixelBox& crop);
// A closed outline in pixels that does not cross or touch itself, 3 to kMostMaskPoints corners, some of it on the
// picture. Crossings are judged on a lattice of 2^-16 px.
Outcome check_mask(PictureSize size, const std::vector<Vec2>& mask);
Outcome check_fade(double fade);
// Every number of the lay and of its thin plate stands within the limits above, directions are unit and square to each
// other within 1e-6.
Outcome check_lay(const PlacedPicture& picture);

// Pixels and places within the limits, at most kMostControlPoints, a pose there may be.
Outcome check_points(std::span<const ControlPoint> points, const FitOptions& options);

}  // namespace pontata
