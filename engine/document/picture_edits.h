// Edits of a wall's pictures, each one undo step.
#pragma once

#include <variant>

#include "engine/document/edits.h"
#include "engine/picture/control_points.h"

namespace pontata {

// What a picture's corner, middle or edge is brought to.
enum class AlignTo { none, springing, centre_line, crown, left_edge, right_edge, picture };
struct Align {
  AlignTo to = AlignTo::none;
  PictureId other;  // picture: the one it is brought beside, on the side named
  enum class Side { right_of, left_of, above, below, over } side = Side::right_of;
};

// By size and place.
struct BySize {
  enum class Lay { unrolled, plan, elevation } lay = Lay::unrolled;
  ChartPoint at;        // chart place of the lower left corner
  double width_m = 0;   // along the surface (unrolled) or level (plan, elevation); 0: fills the wall
  double turn_deg = 0;  // about that corner, counter-clockwise
  Align align;          // after that; sets what it names and leaves the rest of `at` (picture_place.h, wall_lines.h)
  std::vector<Align> also;  // further ones, one after the other
  bool fit_rest = false;    // as large as fits into the wall that no giornata covers; at, width and align are not asked
};
// By control points.
struct ByPoints {
  std::vector<ControlPoint> points;
  FitOptions options;
};
// A design made to be seen from one place.
struct FromEye {
  Vec3 eye{0, 0, 0}, look{0, 0, 0}, up{0, 0, 1};  // m, in the building
  double angle_deg = 60;                          // across the picture's width
};
using Laying = std::variant<BySize, ByPoints, FromEye>;

struct PictureEdited : Edited {
  PictureId id;
  std::optional<FitReport> fit;  // laid by points
};

// A new picture on top of the others. An empty name: the file's, with a number after it where that is taken; a given
// name that is there is refused. A file the document has read already is not read again.
Result<PictureEdited> add_picture(const Document& doc, WallId wall, const std::string& path, const Laying& laying,
                                  const std::string& name, Progress* progress = nullptr);
// The same picture laid another way; needs no pixels. Crop, mask, fade and order stay.
Result<PictureEdited> lay_again(const Document& doc, PictureId id, const Laying& laying, Progress* progress = nullptr);
// The same with another file of any proportions in its place; crop and mask go where the proportions differ.
Result<PictureEdited> lay_file(const Document& doc, PictureId id, const std::string& path, const Laying& laying,
                               Progress* progress = nullptr);
// Another file in its place: the lay stays where the proportions agree within a pixel, else it is refused.
Result<PictureEdited> change_file(const Document& doc, PictureId id, const std::string& path,
                                  Progress* progress = nullptr);
// Moved along the wall by chart metres; refused where it would leave the wall. For lays by size only.
Result<PictureEdited> shift_picture(const Document& doc, PictureId id, double du, double dv);

// What is to be different; what is not set stays.
struct PictureChange {
  std::optional<std::string> name;
  std::optional<double> fade;                   // 0 shows fully .. 1 not at all
  std::optional<std::optional<PixelBox>> crop;  // nothing inside: all of it shows
  std::optional<std::vector<Vec2>> mask;        // closed outline in pixels; empty: none; self-crossing is refused
};
Result<PictureEdited> change_picture(const Document& doc, PictureId id, const PictureChange& change);
// To this place in the order, 0 the lowest.
Result<PictureEdited> order_picture(const Document& doc, PictureId id, int place);
Result<Edited> remove_picture(const Document& doc, PictureId id);

// The fit of a picture laid by points, told again; nothing for other lays.
std::optional<FitReport> fit_report(const Document& doc, PictureId id);

// The wall a picture lies on and the picture; null where there is none with this id.
struct PictureOnWall {
  const WallItem* wall = nullptr;
  PlacedRef picture;
};
PictureOnWall picture_on_wall(const Document& doc, PictureId id);

}  // namespace pontata
