#include "engine/cartoon/plan_eye.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/cartoon/snapped_lines.h"
#include "engine/cartoon/wall_sketch.h"
#include "engine/picture/eye_view.h"
#include "engine/picture/sight.h"

namespace pontata {
namespace {

constexpr double kDots = 4;                        // of the view's pixels a millimetre
constexpr double kWidest = 110, kNarrowest = 20;   // degrees
constexpr double kStep = 0.03, kHatchStep = 0.05;  // m between places looked at
constexpr double kPale = 0.5;                      // of the view's own strength
constexpr double kPlanScale = 0.03;                // chart m of the lines' gap for each mm of it on paper

struct Frame {
  Camera camera;
  Vec2 corner, size;  // mm
  std::optional<Vec2> operator()(const Vec3& place) const {
    const auto pixel = project(camera, place);
    if (!pixel) return std::nullopt;
    return corner + Vec2{pixel->x / kDots, size.y - pixel->y / kDots};
  }
  bool holds(Vec2 p) const {
    return p.x >= corner.x && p.y >= corner.y && p.x <= corner.x + size.x && p.y <= corner.y + size.y;
  }
};

PictureSize pixels_of(Vec2 size) {
  return {static_cast<int>(std::lround(size.x * kDots)), static_cast<int>(std::lround(size.y * kDots))};
}

// Wide enough for every rim place before the eye.
Result<Camera> camera_for(const CartoonInput& input, const PlanEye& eye, Vec2 size) {
  const Vec3 up = std::abs(glm::normalize(eye.look - eye.at).z) > 0.999 ? Vec3{0, 1, 0} : Vec3{0, 0, 1};
  const auto widest = eye_camera(eye.at, eye.look, up, kWidest, pixels_of(size));
  if (!widest) return widest;
  double most = 0;
  for (const CartoonWall& wall : input.walls)
    for (const CartoonGiornata& g : wall.giornate)
      for (const Ring& ring : g.rings)
        for (const LatticePoint& p : ring) {
          const auto at = wall.wall->position(to_chart(p));
          const auto pixel = at ? project(*widest, *at) : std::nullopt;
          if (!pixel) continue;
          const Vec2 off = glm::abs(*pixel - widest->middle_px) / widest->focal_px;
          most = std::max({most, off.x, off.y * size.x / size.y});
        }
  const double angle = 2 * std::atan(1.06 * most) * 180 / std::numbers::pi;
  return eye_camera(eye.at, eye.look, up, std::clamp(angle, kNarrowest, kWidest), pixels_of(size));
}

class Drawer {
 public:
  Drawer(Pages& pages, const Frame& frame, const CartoonWall& wall, const std::vector<WallRef>& others)
      : pages_(pages), frame_(frame), wall_(wall), sight_(wall.wall, others, frame.camera.eye) {}

  // Where a chart place is on the page, when the eye sees it.
  std::optional<Vec2> seen(ChartPoint place) const {
    const auto on = wall_.wall->chart->locate(place);
    if (!on) return std::nullopt;
    const SurfaceMesh& mesh = wall_.wall->mesh();
    const Vec3 at = position(mesh, *on);
    const auto p = frame_(at);
    if (!p || !frame_.holds(*p) || !sight_.sees(at, normal(mesh, *on))) return std::nullopt;
    return p;
  }
  // A line in the chart, parted where it is hidden.
  void line(Vec2 a, Vec2 b, double step, std::vector<Vec2>& open, const Stroke& stroke) const {
    const int n = std::max(1, static_cast<int>(std::ceil(glm::distance(a, b) / step)));
    for (int k = open.empty() ? 0 : 1; k <= n; ++k) {
      if (const auto p = seen(to_chart(a + (b - a) * (static_cast<double>(k) / n))))
        open.push_back(*p);
      else
        flush(open, stroke);
    }
  }
  void flush(std::vector<Vec2>& open, const Stroke& stroke) const {
    if (open.size() > 1) pages_.path(open, false, stroke);
    open.clear();
  }
  void ring(const Ring& ring, const Stroke& stroke) const {
    std::vector<Vec2> open;
    for (std::size_t i = 0; i < ring.size(); ++i)
      line(to_vec(to_chart(ring[i])), to_vec(to_chart(ring[(i + 1) % ring.size()])), kStep, open, stroke);
    flush(open, stroke);
  }
  void hatched(const CartoonGiornata& g, const PlanGroup& group) const {
    std::vector<std::vector<Vec2>> rings;
    for (const Ring& ring : g.rings) {
      rings.emplace_back();
      for (const LatticePoint& p : ring) rings.back().push_back(to_vec(to_chart(p)));
    }
    const Stroke stroke{0.18, group.ink};
    for (const auto& [a, b] : hatch_lines(rings, group.angle_deg, group.gap_mm * kPlanScale)) {
      std::vector<Vec2> open;
      line(a, b, kHatchStep, open, stroke);
      flush(open, stroke);
    }
  }

 private:
  Pages& pages_;
  const Frame& frame_;
  const CartoonWall& wall_;
  Sight sight_;
};

// The walls with their pictures, paled.
Outcome draw_ground(Pages& pages, const CartoonInput& input, const Frame& frame, Progress* progress) {
  std::vector<SeenWall> walls;
  for (const CartoonWall& wall : input.walls) walls.push_back({wall.wall, wall.draped});
  auto image = eye_view(walls, frame.camera, pixels_of(frame.size), {2, true}, progress);
  if (!image) return image.problem();
  for (auto& c : image->rgb) c = static_cast<std::uint8_t>(std::lround(255 + kPale * (c - 255.0)));
  pages.picture(*image, frame.corner, frame.size);
  return Done{};
}

}  // namespace

Result<std::vector<std::string>> draw_plan_from(Pages& pages, const CartoonInput& input, const PlanGroups& groups,
                                                const PlanEye& eye, Vec2 lower_left, Vec2 size, Progress* progress) {
  const auto camera = camera_for(input, eye, size);
  if (!camera) return camera.problem();
  const Frame frame{*camera, lower_left, size};
  if (const auto ground = draw_ground(pages, input, frame, progress); !ground) return ground.problem();
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
    const Drawer draw(pages, frame, wall, others);
    for (const CartoonGiornata& g : wall.giornate) {
      if (is_cancelled(progress)) return Problem{"stopped", "", ""};
      draw.hatched(g, groups.of(g));
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
