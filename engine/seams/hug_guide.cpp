#include "engine/seams/hug_guide.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/seams/hug_loops.h"

namespace pontata {

namespace {

constexpr double kSeamDetour = 2.0;   // a way along seams up to this much longer than the straight stroke is taken
constexpr double kOnSeam = 1e-6;      // m: rounding to the lattice moves a place off its seam by less
constexpr double kFarther = 1.5;      // cost of a metre that a place lies farther from its click than the nearest one
constexpr double kPlainStep = 0.002;  // chart metres

double cost_of(const HugEnd& end, const HugPlace& place) { return kFarther * (place.off_m - end.places[0].off_m); }

}  // namespace

HugGuide::HugGuide(std::shared_ptr<const HugGround> ground, const HugOptions& options)
    : ground_(std::move(ground)), options_(options), seams_(*ground_->wall, ground_->network) {
  const auto* contours = ground_->contours.get();
  if (options.reach_m > 0 && contours && contours->columns > 0)
    cost_.emplace(*ground_->wall, contours, options.strength);
}

HugEnd HugGuide::click(ChartPoint p, const HugBarrier* barrier) {
  HugEnd end{to_vec(p), {}, {}};
  if (!wall().chart->triangle_at(to_lattice(p))) end.given = to_vec(wall().chart->clamp(p));
  end.spot = seams_.nearest(end.given, options_.seam_reach_m);
  if (end.spot) {
    end.given = to_vec(end.spot->place);
  } else if (cost_) {
    const double reach = std::min(options_.snap_m, options_.reach_m);
    end.places = contour_places(wall(), *cost_->contours(), end.given, reach, options_.strength);
    if (barrier && !barrier->beside(cost_->cell_at(end.given)))
      std::erase_if(end.places, [&](const HugPlace& at) { return barrier->beside(cost_->cell_at(at.at)); });
  }
  if (end.places.empty()) end.places = {{end.given, 0}};
  return end;
}

HugEnd HugGuide::fixed(Vec2 at) const { return {at, seams_.nearest(at, kOnSeam), {{at, 0}}}; }

std::optional<HugPath> HugGuide::along_seams(const HugEnd& a, const HugEnd& b) const {
  if (!a.spot || !b.spot || !(options_.reach_m > 0)) return std::nullopt;
  const double straight = wall().metric->measure(to_lattice(to_chart(a.given)), to_lattice(to_chart(b.given))).length_m;
  const HugRegion region{a.given, b.given, std::max(options_.reach_m, options_.seam_reach_m), false};
  const auto near = [&](Vec2 p) {
    return distance_to_stroke(region, form_near(wall(), to_chart(p)), p) <= region.half_width;
  };
  const auto route = seams_.route(*a.spot, *b.spot, kSeamDetour * straight + 1e-6, near);
  if (!route) return std::nullopt;
  HugPath path;
  for (const auto& p : route->points) path.add(to_vec(p), HugKind::seam);
  return path;
}

std::vector<HugRoot> HugGuide::roots(const HugEnd& a) {
  std::vector<HugRoot> roots;
  for (const auto& place : a.places) roots.push_back({cost_->cell_at(place.at), cost_of(a, place)});
  return roots;
}

std::optional<HugWay> HugGuide::way(HugTree& tree, const HugEnd& a, const HugEnd& b) {
  double least = std::numeric_limits<double>::infinity();
  const HugPlace* to = nullptr;
  for (const auto& place : b.places) {
    const double own = cost_of(b, place);
    if (own >= least) continue;
    const double cost = own + tree.least_cost(cost_->cell_at(place.at));
    if (cost >= least) continue;
    least = cost;
    to = &place;
  }
  if (!to) return std::nullopt;
  HugWay way{a.places[0], *to, tree.path(cost_->cell_at(to->at))};
  const auto root = std::find_if(a.places.begin(), a.places.end(),
                                 [&](const HugPlace& at) { return cost_->cell_at(at.at) == way.cells->front(); });
  if (root != a.places.end()) way.from = *root;
  return way;
}

HugPath HugGuide::dense(const HugWay& way) {
  HugPath path;
  if (way.cells && cost_) {
    path = follow_ridges(*cost_, *way.cells, way.from.at, way.to.at);
  } else {
    path.add(way.from.at, HugKind::free);
    path.add(way.to.at, HugKind::free);
  }
  if (options_.reach_m > 0)
    path = attach_to_seams(wall(), seams_, path, cost_ ? cost_->cell() : kPlainStep, options_.seam_reach_m);
  return cut_loops(path, long_loop(), false).path;
}

}  // namespace pontata
