#include "engine/giornate/measures.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "engine/giornate/measure_gatherer.h"
#include "engine/giornate/measures_again.h"
#include "engine/seams/cut_contacts.h"
#include "engine/seams/network_step.h"

namespace pontata {

namespace {

// Radius of the strongest curvature once the hollows above it hold `kLeastHollow`.
double least_radius(std::vector<Hollow> hollows) {
  constexpr double kLeastHollow = 1e-4;  // m^2
  constexpr double kFlat = 1e-9;         // 1/m: rounding of a flat wall
  double above = 0;
  auto first = hollows.begin(), last = hollows.end();
  const auto stronger = [](const Hollow& a, const Hollow& b) { return a.curvature > b.curvature; };
  while (last - first > 1) {  // weighted selection
    const auto middle = first + (last - first) / 2;
    std::nth_element(first, middle, last, stronger);
    double part = 0;
    for (auto it = first; it != middle; ++it) part += it->area;
    if (above + part > kLeastHollow) {
      last = middle;
    } else {
      above += part;
      first = middle;
    }
  }
  if (first == hollows.end() || first->curvature < kFlat) return std::numeric_limits<double>::infinity();
  return 1 / first->curvature;
}

ChartPoint place_inside(const Network& network, std::span<const FaceId> faces) {
  const auto largest = std::max_element(
      faces.begin(), faces.end(), [&](FaceId a, FaceId b) { return network.sums(a).area < network.sums(b).area; });
  return largest == faces.end() ? ChartPoint{} : label_place(network.rings(*largest));
}

GiornataMeasure finish(const ChartedWall& wall, const Network& network, const MeasureGatherer& gatherer,
                       std::size_t slot) {
  const Gathered& g = gatherer.at(slot);
  GiornataMeasure m;
  m.id = gatherer.ids()[slot];
  m.area_m2 = static_cast<double>(g.area) * kAreaUnit;
  m.chart_area_m2 = static_cast<double>(g.twice_chart) * 0.5 * kPitch * kPitch;
  m.perimeter_m = g.perimeter;
  m.bend_m = g.bend;
  m.gauss = g.gauss;
  m.neighbours.assign(g.neighbours.begin(), g.neighbours.end());
  for (const auto& [other, run] : g.runs)
    if (run.all > 0) m.runs_onto.push_back({other, run.all, run.all - std::clamp(run.steep, 0.0, run.all)});
  m.inside = place_inside(network, gatherer.faces(slot));
  m.highest_m = g.high;
  m.lowest_m = g.low;
  m.inside_m = wall.position(m.inside).value_or(Vec3(0, 0, 0.5 * (g.low + g.high))).z;
  m.least_concave_radius_m = least_radius(g.hollows);
  return m;
}

// The sums of a wall whose giornate are measured.
void finish_wall(const ChartedWall& wall, const Network& network, WallMeasure& result) {
  std::int64_t rest = 0, giornate = 0;
  for (const FaceId f : network.faces())
    if (!network.face(f).owner) rest += network.sums(f).area;
  for (const GiornataMeasure& g : result.giornate) giornate += std::llround(g.area_m2 / kAreaUnit);
  const std::int64_t wall_area = network.wall_area();
  result.area_m2 = static_cast<double>(wall_area) * kAreaUnit;
  result.raw_area_m2 = wall.metric->raw_area();
  result.unassigned_m2 = static_cast<double>(rest) * kAreaUnit;
  result.residual_m2 = static_cast<double>(rest + giornate - wall_area) * kAreaUnit;
}

}  // namespace

WallMeasure measure_wall(const ChartedWall& wall, const Network& network, std::span<const Giornata> giornate) {
  MeasureGatherer gatherer(wall, network, giornate);
  gatherer.gather_all();
  WallMeasure result;
  for (std::size_t slot = 0; slot < gatherer.ids().size(); ++slot)
    result.giornate.push_back(finish(wall, network, gatherer, slot));
  finish_wall(wall, network, result);
  return result;
}

std::vector<GiornataId> measures_changed(const ChartedWall& wall, const Network& before, const Network& after) {
  const std::vector<SeamId> seams = NetworkStep::changed_seams(before, after);
  std::set<GiornataId> found;
  const auto add_sides = [&](const Network& n, SeamId s) {
    if ((s.value << 1) >= n.half_edge_slots() || !n.alive(s)) return;
    for (const std::uint32_t side : {0u, 1u}) found.insert(n.face(n.half_edge({(s.value << 1) | side}).face).owner);
  };
  for (const SeamId s : seams)
    for (const Network* n : {&before, &after}) add_sides(*n, s);
  if (wall.chart->has_cuts() && !seams.empty())
    for (const CutContact& c : cut_contacts(after, *wall.chart))
      for (const HalfEdgeId h : {c.here, c.there})
        if (std::binary_search(seams.begin(), seams.end(), Network::seam_of(h)))
          add_sides(after, Network::seam_of(c.here)), add_sides(after, Network::seam_of(c.there));
  found.erase(GiornataId{});
  return {found.begin(), found.end()};
}

WallMeasure measure_again(const ChartedWall& wall, const Network& network, std::span<const Giornata> giornate,
                          const WallMeasure& before, std::span<const GiornataId> changed) {
  MeasureGatherer gatherer(wall, network, giornate);
  std::vector<const GiornataMeasure*> kept;  // by slot; nullptr: measured again
  std::vector<std::size_t> slots;
  for (const GiornataId id : gatherer.ids()) {
    const auto was = std::lower_bound(before.giornate.begin(), before.giornate.end(), id,
                                      [](const GiornataMeasure& m, GiornataId i) { return m.id < i; });
    const bool stays = was != before.giornate.end() && was->id == id && !std::ranges::binary_search(changed, id);
    if (!stays) slots.push_back(kept.size());
    kept.push_back(stays ? &*was : nullptr);
  }
  if (!slots.empty()) gatherer.gather(slots);
  WallMeasure result;
  for (std::size_t slot = 0; slot < kept.size(); ++slot)
    result.giornate.push_back(kept[slot] ? *kept[slot] : finish(wall, network, gatherer, slot));
  finish_wall(wall, network, result);
  return result;
}

double sum_tolerance(const ChartedWall& wall, const Network& network, FaceId f) {
  constexpr double kFloor = 1e-11;        // m^2
  constexpr double kBeside = 3 * kPitch;  // m of chart
  double rounded = 0, held_m = 0;
  for (const auto& cycle : network.cycles(f))
    for (const HalfEdgeId h : cycle) {
      rounded += kAreaUnit;
      const SeamMeasure& seam = network.seam(Network::seam_of(h));
      const LatticePoint a = network.origin(h), b = network.target(h);
      const bool turned = (h.value % 2 == 1) != (b < a);
      const auto own = std::llround(wall.metric->measure(std::min(a, b), std::max(a, b)).area_m2 / kAreaUnit);
      if (seam.area != (turned ? -own : own)) held_m += seam.length_m;
    }
  return rounded + kBeside * wall.chart->stretch().greatest * held_m + kFloor;
}

}  // namespace pontata
