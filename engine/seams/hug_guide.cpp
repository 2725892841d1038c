#include "engine/seams/hug_guide.h"

#include <algorithm>
#include <cmath>

#include "engine/seams/hug_loops.h"

namespace pontata {

namespace {

constexpr double kSeamDetour = 2.0;   // a way along seams up to this much longer than the straight stroke is taken
constexpr double kOnSeam = 1e-6;      // m: rounding to the lattice moves a place off its seam by less
constexpr double kOnRib = 0.001;      // m: nearer is on it to the eye
constexpr double kPlainStep = 0.002;  // chart metres

}  // namespace

HugGuide::HugGuide(std::shared_ptr<const HugGround> ground, const HugOptions& options)
    : ground_(std::move(ground)),
      options_(options),
      seams_(*ground_->wall, ground_->network),
      ribs_(*ground_->wall, ground_->ribs ? *ground_->ribs : WallRibs{}) {
  const auto* contours = ground_->contours.get();
  if (options.reach_m > 0 && contours && contours->columns > 0)
    cost_.push_back(std::make_unique<HugCost>(*ground_->wall, contours, options.strength));
}

HugEnd HugGuide::click(ChartPoint p, const HugBarrier* barrier) {
  HugEnd end{to_vec(p), {}, {}, {}};
  if (!wall().chart->triangle_at(to_lattice(p))) end.given = to_vec(wall().chart->clamp(p));
  end.spot = seams_.nearest(end.given, options_.seam_reach_m);
  if (end.spot) {
    end.given = to_vec(end.spot->place);
    end.rib = ribs_.nearest(end.given, kOnRib);
  } else if ((end.rib = ribs_.nearest(end.given, options_.seam_reach_m))) {
    end.given = to_vec(end.rib->place);
  } else if (cost()) {
    const double reach = std::min(options_.snap_m, options_.reach_m);
    end.places = contour_places(wall(), *cost()->contours(), end.given, reach, options_.strength);
    if (barrier && !barrier->beside(cost()->cell_at(end.given)))
      std::erase_if(end.places, [&](const HugPlace& at) { return barrier->beside(cost()->cell_at(at.at)); });
  }
  if (end.places.empty()) end.places = {{end.given, 0}};
  return end;
}

HugEnd HugGuide::fixed(Vec2 at) const {
  return {at, seams_.nearest(at, kOnSeam), ribs_.nearest(at, kOnRib), {{at, 0}}};
}

std::optional<HugPath> HugGuide::along_seams(const HugEnd& a, const HugEnd& b) const {
  const bool on_seams = a.spot && b.spot, on_ribs = a.rib && b.rib;
  if (!(on_seams || on_ribs) || !(options_.reach_m > 0)) return std::nullopt;
  const double straight = wall().metric->measure(to_lattice(to_chart(a.given)), to_lattice(to_chart(b.given))).length_m;
  const HugRegion region{a.given, b.given, std::max(options_.reach_m, options_.seam_reach_m), false};
  const auto near = [&](Vec2 p) {
    return distance_to_stroke(region, form_near(wall(), to_chart(p)), p) <= region.half_width;
  };
  const double most = kSeamDetour * straight + 1e-6;
  std::optional<SeamRoute> route;
  HugKind kind = HugKind::seam;
  if (on_seams) route = seams_.route(*a.spot, *b.spot, most, near);
  if (!route && on_ribs) {
    route = ribs_.route(*a.rib, *b.rib, most, near);
    kind = HugKind::rib;
  }
  if (!route) return std::nullopt;
  HugPath path;
  path.add(a.given, kind);  // an end on a seam lies within a millimetre of its rib
  for (const auto& p : route->points) path.add(to_vec(p), kind);
  path.add(b.given, kind);
  return path;
}

HugPath HugGuide::dense(const HugWay& way) {
  HugPath path;
  if (way.cells && cost()) {
    path = follow_ridges(*cost(), *way.cells, way.from.at, way.to.at);
  } else {
    path.add(way.from.at, HugKind::free);
    path.add(way.to.at, HugKind::free);
  }
  if (options_.reach_m > 0) {
    const double step = cost() ? cost()->cell() : kPlainStep;
    path = attach_to_seams(wall(), seams_, path, step, options_.seam_reach_m);
    path = attach_to_seams(wall(), ribs_, path, step, options_.seam_reach_m, HugKind::rib);
  }
  return cut_loops(path, long_loop(), false).path;
}

}  // namespace pontata
