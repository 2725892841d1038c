// A wall unrolled small, with its giornate: for the key plan, and to show on a day sheet where the patch lies.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "engine/cartoon/cartoon.h"
#include "engine/cartoon/page.h"

namespace pontata {

// From chart places to millimetres on the page, fitted into a box and centred in it.
class SketchFrame {
 public:
  SketchFrame(const ChartedWall& wall, Vec2 lower_left, Vec2 size);
  Vec2 operator()(ChartPoint p) const { return origin_ + scale_ * Vec2{p.u, p.v}; }
  Vec2 operator()(LatticePoint p) const { return (*this)(to_chart(p)); }
  double scale() const { return scale_; }  // mm a chart metre
  std::vector<Vec2> operator()(const Ring& ring) const;

 private:
  Vec2 origin_{0, 0};
  double scale_ = 1;
};

// The wall's border, all seams in grey, the one giornata filled and numbered. Not to scale: places, not measures.
void draw_wall_sketch(Pages& pdf, const CartoonWall& wall, GiornataId marked, Vec2 lower_left, Vec2 size);

// The wall's pictures, faded, and white over all of the chart's box that is not wall; without pictures only that.
void draw_wall_ground(Pages& pdf, const ChartedWall& wall, const DrapedRef& draped, const SketchFrame& at);

// A giornata's number in a ring; `size` is the height of its letters in mm.
void number_in_ring(Pages& pdf, Vec2 place, const std::string& number, double size, Colour ground = kWhite);

// Parallel lines inside rings (even-odd), `gap` apart at `angle_deg`; in the rings' own unit.
std::vector<std::pair<Vec2, Vec2>> hatch_lines(const std::vector<std::vector<Vec2>>& rings, double angle_deg,
                                               double gap);

// The same drawn, `gap` in mm.
void hatch(Pages& pdf, const std::vector<std::vector<Vec2>>& rings, double angle_deg, double gap, const Stroke& stroke);

}  // namespace pontata
