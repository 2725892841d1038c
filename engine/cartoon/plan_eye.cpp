#include "engine/cartoon/plan_eye.h"

#include "engine/cartoon/eye_page.h"
#include "engine/cartoon/snapped_lines.h"
#include "engine/cartoon/wall_sketch.h"

namespace pontata {
namespace {

constexpr double kHatchStep = 0.05;  // chart m between places looked at
constexpr double kPale = 0.5;        // of the view's own strength
constexpr double kPlanScale = 0.03;  // chart m of the lines' gap for each mm of it on paper

std::vector<Vec3> rim_places(const CartoonInput& input) {
  std::vector<Vec3> places;
  for (const CartoonWall& wall : input.walls)
    for (const CartoonGiornata& g : wall.giornate)
      for (const Ring& ring : g.rings)
        for (const LatticePoint& p : ring)
          if (const auto at = wall.wall->position(to_chart(p))) places.push_back(*at);
  return places;
}

void draw_hatched(const EyeDrawer& draw, const CartoonGiornata& g, const PlanGroup& group) {
  std::vector<std::vector<Vec2>> rings;
  for (const Ring& ring : g.rings) {
    rings.emplace_back();
    for (const LatticePoint& p : ring) rings.back().push_back(to_vec(to_chart(p)));
  }
  const Stroke stroke{0.18, group.ink};
  for (const auto& [a, b] : hatch_lines(rings, group.angle_deg, group.gap_mm * kPlanScale)) {
    std::vector<Vec2> open;
    draw.line(a, b, kHatchStep, open, stroke);
    draw.flush(open, stroke);
  }
}

}  // namespace

Result<std::vector<std::string>> draw_plan_from(Pages& pages, const CartoonInput& input, const PlanGroups& groups,
                                                const PlanEye& eye, Vec2 lower_left, Vec2 size, Progress* progress) {
  const auto frame = eye_frame(eye.at, eye.look, rim_places(input), lower_left, size);
  if (!frame) return frame.problem();
  std::vector<SeenWall> walls;
  for (const CartoonWall& wall : input.walls) walls.push_back({wall.wall, wall.draped});
  if (const auto ground = draw_eye_ground(pages, walls, *frame, kPale, progress); !ground) return ground.problem();
  std::vector<std::string> unseen;
  struct Number {
    Vec2 at;
    std::string label;
    const PlanGroup* group;
  };
  std::vector<Number> numbers;
  for (const CartoonWall& wall : input.walls) {
    std::vector<WallRef> others;
    for (const CartoonWall& other : input.walls)
      if (&other != &wall) others.push_back(other.wall);
    const EyeDrawer draw(pages, *frame, wall.wall, others);
    for (const CartoonGiornata& g : wall.giornate) {
      if (is_cancelled(progress)) return Problem{"stopped", "", ""};
      draw_hatched(draw, g, groups.of(g));
      for (const Ring& ring : g.rings) draw.ring(ring, {0.4, kBlack, {}, 0.3});
      if (const auto at = draw.seen(g.measure.inside))
        numbers.push_back({*at, label_of(g), &groups.of(g)});
      else
        unseen.push_back(label_of(g));
    }
    for (const Ring& ring : wall.wall->chart->border_rings()) draw.ring(ring, {0.6});
  }
  for (const Number& n : numbers) number_in_ring(pages, n.at, n.label, 3.2, n.group->tint);
  pages.rectangle(lower_left, size, {0.2, kGrey});
  return unseen;
}

}  // namespace pontata
