#include "engine/document/picture_place.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "engine/document/wall_lines.h"
#include "engine/picture/free_frame.h"
#include "engine/picture/wall_place.h"

namespace pontata {

namespace {

using Part = WallLine::Part;

// What of a picture is brought to a line.
struct Spread {
  Vec2 low, high;     // outermost, chart m
  Vec2 middle, foot;  // of the shown part, and the middle of its lower edge
  Vec2 down;          // unit, toward the foot
};

PixelBox shown_box(const PlacedPicture& picture) {
  return picture.crop.value_or(PixelBox{0, 0, 1.0 * picture.size.width, 1.0 * picture.size.height});
}

Spread spread_of(const PlacedPicture& picture, const PictureFrame& frame) {
  const PixelBox box = shown_box(picture);
  const auto place = [&](double x, double y) { return to_vec(from_pixel(frame, picture.size, {x, y})); };
  Spread out;
  const double x = 0.5 * (box.left + box.right), y = 0.5 * (box.top + box.bottom);
  out.middle = place(x, y);
  out.foot = place(x, box.bottom);
  const double turn = frame.turn_deg * std::numbers::pi / 180;
  out.down = {std::sin(turn), -std::cos(turn)};
  out.low = out.high = out.middle;
  for (const Vec2& corner :
       {place(box.left, box.top), place(box.right, box.top), place(box.left, box.bottom), place(box.right, box.bottom)})
    out.low = glm::min(out.low, corner), out.high = glm::max(out.high, corner);
  return out;
}

// Of a picture that lies otherwise than unrolled: where pixels along its edges and inside fall on the wall.
std::optional<Spread> spread_on_wall(const ChartedWall& wall, const PlacedPicture& picture) {
  if (const auto* frame = std::get_if<PictureFrame>(&picture.lay)) return spread_of(picture, *frame);
  constexpr int kSteps = 64;
  const PixelBox box = shown_box(picture);
  std::optional<Spread> out;
  for (int j = 0; j <= kSteps; ++j)
    for (int i = 0; i <= kSteps; ++i) {
      const auto place =
          wall_place(wall, picture,
                     {box.left + (box.right - box.left) * i / kSteps, box.top + (box.bottom - box.top) * j / kSteps});
      if (!place) continue;
      const Vec2 p = to_vec(*place);
      if (!out) out = Spread{p, p, p, p, {0, -1}};
      out->low = glm::min(out->low, p), out->high = glm::max(out->high, p);
    }
  if (out) out->middle = 0.5 * (out->low + out->high);
  return out;
}

Result<Spread> spread_of_other(const WallItem& item, PictureId self, const Align& align) {
  const PlacedPicture* other = item.picture(align.other);
  if (!other || align.other == self)
    return Problem{"there is no other picture to align it to", item.name, "Name another picture of this wall."};
  if (const auto there = spread_on_wall(*item.wall, *other)) return *there;
  return Problem{"the picture " + other->name + " does not lie on the wall", item.name, "Name another picture."};
}

Result<Vec2> to_picture(const WallItem& item, PictureId self, const Spread& spread, const Align& align) {
  const auto there = spread_of_other(item, self, align);
  if (!there) return there.problem();
  switch (align.side) {
    case Align::Side::right_of:
      return Vec2(there->high.x - spread.low.x, 0);
    case Align::Side::left_of:
      return Vec2(there->low.x - spread.high.x, 0);
    case Align::Side::above:
      return Vec2(0, there->high.y - spread.low.y);
    case Align::Side::below:
      return Vec2(0, there->low.y - spread.high.y);
    case Align::Side::over:
      return there->middle - spread.middle;
  }
  return Vec2(0, 0);
}

// The place of the picture that comes to lie on the line.
Vec2 part_place(const Spread& spread, const WallLine& line) {
  if (line.part == Part::middle) return spread.middle;
  if (line.part == Part::left) return spread.low;
  if (line.part == Part::right) return spread.high;
  if (line.sets_u && line.sets_v) return spread.foot;  // on a circle
  const Vec2 toward = line.part == Part::foot ? spread.down : Vec2(0, 1);
  return {toward.x > 0 ? spread.high.x : spread.low.x, toward.y > 0 ? spread.high.y : spread.low.y};
}

WallLineKind kind_of(AlignTo to) {
  switch (to) {
    case AlignTo::springing:
      return WallLineKind::springing;
    case AlignTo::crown:
      return WallLineKind::crown;
    case AlignTo::left_edge:
      return WallLineKind::left_edge;
    case AlignTo::right_edge:
      return WallLineKind::right_edge;
    case AlignTo::none:
    case AlignTo::centre_line:
    case AlignTo::picture:
      break;
  }
  return WallLineKind::centre_line;
}

// The line of another picture's edge or middle, as wall_line tells those of the wall.
Result<WallLine> line_of_other(const WallItem& item, PictureId self, const Vec2& middle, const Align& align) {
  const auto there = spread_of_other(item, self, align);
  if (!there) return there.problem();
  switch (align.side) {
    case Align::Side::right_of:
      return WallLine{{there->high.x, middle.y}, true, false, Part::left};
    case Align::Side::left_of:
      return WallLine{{there->low.x, middle.y}, true, false, Part::right};
    case Align::Side::above:
      return WallLine{{middle.x, there->high.y}, false, true, Part::foot};
    case Align::Side::below:
      return WallLine{{middle.x, there->low.y}, false, true, Part::head};
    case Align::Side::over:
      break;
  }
  return WallLine{to_chart(there->middle), true, true, Part::middle};
}

// Middle of the picture on the wall, and the way to its foot there.
struct Stand {
  Vec2 middle, down;
};
Stand stand_of(const ChartedWall& wall, const PlacedPicture& picture, const PlaneLay& lay) {
  const PixelBox box = shown_box(picture);
  const Vec2 middle{0.5 * (box.left + box.right), 0.5 * (box.top + box.bottom)};
  const auto here = wall_place(wall, picture, middle);
  const auto below = wall_place(wall, picture, middle + Vec2(0, 0.02 * (box.bottom - box.top)));
  const Vec3 in_front = lay.corner + 0.5 * lay.width * lay.right + 0.5 * lay.height * lay.up;
  const Vec2 place = to_vec(here ? *here : wall.address(in_front).place);
  const Vec2 way = here && below ? to_vec(*below) - place : Vec2(0, -1);
  return {place, glm::length(way) > 0 ? glm::normalize(way) : Vec2(0, -1)};
}

// m along the picture's right and up, to bring it to a place told from its lower left corner.
Vec2 way_to(const WallLine& line, const PlacedPicture& picture, const PlaneLay& lay, const Vec3& place) {
  const PixelBox box = shown_box(picture);
  const Vec2 size{picture.size.width, picture.size.height}, metres{lay.width, lay.height};
  const Vec2 low = Vec2(box.left, size.y - box.bottom) / size * metres;
  const Vec2 high = Vec2(box.right, size.y - box.top) / size * metres;
  const Vec2 there{glm::dot(place, lay.right), glm::dot(place, lay.up)};
  const bool upright = line.part == Part::foot || line.part == Part::head;
  const bool sideways = line.part == Part::left || line.part == Part::right;
  const bool both = line.sets_u && line.sets_v;
  Vec2 by{0, 0};
  if (both || sideways || (!upright && line.sets_u))
    by.x = there.x - (line.part == Part::left ? low.x : line.part == Part::right ? high.x : 0.5 * (low.x + high.x));
  if (both || upright || (!sideways && line.sets_v))
    by.y = there.y - (line.part == Part::foot ? low.y : line.part == Part::head ? high.y : 0.5 * (low.y + high.y));
  return by;
}

}  // namespace

Result<PictureFrame> aligned(const WallItem& item, const PlacedPicture& picture, const PictureFrame& frame,
                             const Align& align) {
  if (align.to == AlignTo::none) return frame;
  const Spread spread = spread_of(picture, frame);
  Vec2 by{0, 0};
  if (align.to == AlignTo::picture) {
    const auto shift = to_picture(item, picture.id, spread, align);
    if (!shift) return shift.problem();
    by = *shift;
  } else {
    const auto line = wall_line(item, kind_of(align.to), spread.middle, spread.down);
    if (!line) return line.problem();
    const Vec2 whole = to_vec(line->at) - part_place(spread, *line);
    by = {line->sets_u ? whole.x : 0, line->sets_v ? whole.y : 0};
  }
  PictureFrame moved = frame;
  moved.at = {frame.at.u + by.x, frame.at.v + by.y};
  return moved;
}

Result<PlaneLay> aligned(const WallItem& item, const PlacedPicture& picture, const PlaneLay& lay, const Align& align) {
  if (align.to == AlignTo::none) return lay;
  PlacedPicture placed = picture;
  placed.lay = lay;
  const Stand stand = stand_of(*item.wall, placed, lay);
  const auto line = align.to == AlignTo::picture ? line_of_other(item, picture.id, stand.middle, align)
                                                 : wall_line(item, kind_of(align.to), stand.middle, stand.down);
  if (!line) return line.problem();
  const auto place = item.wall->position(item.wall->chart->clamp(line->at));
  if (!place) return Problem{"the line lies beside the wall here", item.name, "Place the picture nearer to it first."};
  const Vec2 by = way_to(*line, picture, lay, *place - lay.corner);
  PlaneLay moved = lay;
  moved.corner += by.x * lay.right + by.y * lay.up;
  return moved;
}

Result<PictureFrame> frame_in_rest(const WallItem& item, PictureSize picture, double turn_deg) {
  if (!std::isfinite(turn_deg) || picture.width < 1 || picture.height < 1)
    return Problem{"the turn is not a usable number", item.name, "Give it in degrees."};
  std::vector<Ring> rings;
  for (const FaceId f : item.network.faces_of(GiornataId{}))
    for (auto& ring : item.network.rings(f)) rings.push_back(std::move(ring));
  if (rings.empty())
    return Problem{"giornate cover the whole wall", item.name, "Take one away, or lay the picture by size and place."};
  constexpr double kTolerance = 1e-4, kLeast = 0.01;  // m
  const auto frame = largest_frame(rings, picture, turn_deg, kTolerance);
  if (frame && frame->width >= kLeast) return *frame;
  return Problem{"the part without giornate has no room for a picture", item.name,
                 "Take a giornata away, or lay the picture by size and place."};
}

}  // namespace pontata
