#include "engine/chart/openings_cut.h"

#include <fmt/format.h>

#include <algorithm>

#include "engine/base/predicates.h"
#include "engine/base/units.h"
#include "engine/chart/outline_way.h"

namespace pontata {

namespace {

using Trouble = std::optional<Problem>;

constexpr double kGiveWay = 5e-5;  // m: an outline gives way by less than this; for a check of our own work

double chart_m2(Int128 twice_area) { return static_cast<double>(twice_area) * 0.5 * kPitch * kPitch; }

double length_of(const Ring& ring) {
  double sum = 0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 a = to_vec(to_chart(ring[i])), b = to_vec(to_chart(ring[(i + 1) % ring.size()]));
    sum += glm::length(b - a);
  }
  return sum;
}

// Cuts one opening after another out of one surface.
class Cutter {
 public:
  Cutter(const Chart& chart, const std::string& name, std::size_t count) : chart_(chart), name_(name), count_(count) {}

  // Problems name the opening by its place in the list.
  Trouble cut(CutMesh& mesh, const Opening& opening, std::size_t index) {
    opening_ = &opening, index_ = index;
    const auto ring = opening_ring(opening);
    if (!ring) return trouble(ring.problem().what, ring.problem().remedy);
    if (chart_m2(twice_area(*ring)) < kLeastOpening)
      return trouble("it is smaller than 1 cm²", "Leave it out, or check the unit.");
    if (touches_cut(*ring))
      return trouble("it reaches the line along which the wall is cut open to lay it flat",
                     "Move that line to where nothing is painted, or move the opening.");
    return take_out(mesh, *ring);
  }

 private:
  Trouble trouble(std::string what, std::string remedy) const {
    const ChartPoint at =
        opening_->kind == OpeningKind::free && !opening_->outline.empty() ? opening_->outline.front() : opening_->at;
    const std::string number = count_ > 1 ? fmt::format("opening {}, ", index_ + 1) : "";
    return Problem{std::move(what),
                   fmt::format("{}, {}{} at {},{}", name_, number, opening_name(opening_->kind), format_fixed(at.u, 3),
                               format_fixed(at.v, 3)),
                   std::move(remedy)};
  }
  Trouble no_room() const {
    return trouble("its outline runs too close to other edges of the wall to be cut cleanly",
                   "Move it by a millimetre.");
  }

  bool touches_cut(const Ring& ring) const {
    for (std::uint32_t e = 0; chart_.has_cuts() && e < chart_.border_edges().size(); ++e) {
      if (chart_.across_cut(e) == Chart::kNoTriangle) continue;
      const LatticePoint a = chart_.border_start(e), b = chart_.border_end(e);
      if (point_in_ring(ring, a) >= 0) return true;
      for (std::size_t i = 0; i < ring.size(); ++i)
        if (segments_meet(a, b, ring[i], ring[(i + 1) % ring.size()])) return true;
    }
    return false;
  }

  Trouble take_out(CutMesh& mesh, const Ring& ring) const {
    const auto whole = mesh.parts().front();
    const bool covers = point_in_ring(ring, mesh.place(mesh.corner({whole[0], 0}))) > 0;
    OutlineWay way(mesh, ring);
    if (!way.run()) return no_room();
    const auto inside = mesh.left_of_marks();
    if (inside.empty() && covers) return covers_all();
    if (inside.empty())
      return trouble("it lies wholly outside the wall or in another opening", "Place it on the wall.");
    if (chart_m2(mesh.twice_chart_area(inside) - twice_area(ring)) > kGiveWay * length_of(ring)) return no_room();
    mesh.remove(inside);
    return keep_one_part(mesh);
  }

  Trouble covers_all() const { return trouble("it leaves nothing of the wall", "Make it smaller, or check the unit."); }

  Trouble keep_one_part(CutMesh& mesh) const {
    const auto parts = mesh.parts();
    if (parts.empty()) return covers_all();
    for (std::size_t i = 1; i < parts.size(); ++i) {
      const double area = chart_m2(mesh.twice_chart_area(parts[i]));
      if (area >= kLeastOpening)
        return trouble(fmt::format("it parts the wall in two, with {} m² cut off", format_fixed(area, 4)),
                       "Make a wall of each part, or let the opening reach less far.");
      mesh.remove(parts[i]);
    }
    if (mesh.pinched_point())
      return trouble("it touches another opening or the edge of the wall in a single point",
                     "Move it by a millimetre, so that they overlap or stay apart.");
    return std::nullopt;
  }

  const Chart& chart_;
  const std::string& name_;
  std::size_t count_;
  const Opening* opening_ = nullptr;
  std::size_t index_ = 0;
};

}  // namespace

Result<Ring> opening_ring(const Opening& opening) {
  const double radius = opening.width > 0 ? opening.width / 2 : 1;
  const auto outline = opening_outline(opening, std::min(kArcSagitta, 1e-4 * radius));
  if (!outline) return outline.problem();
  Ring ring;
  for (const auto& p : *outline) ring.push_back(to_lattice(to_chart(p)));
  ring.erase(std::unique(ring.begin(), ring.end()), ring.end());
  while (ring.size() > 1 && ring.front() == ring.back()) ring.pop_back();
  return ring;
}

Result<Chart> cut_openings(const Chart& chart, std::span<const Opening> openings, const std::string& name) {
  CutMesh::Surface surface{chart.mesh(), chart.places()};
  Cutter cutter(chart, name, openings.size());
  for (std::size_t i = 0; i < openings.size(); ++i) {
    CutMesh mesh(surface.mesh, surface.places);
    if (auto problem = cutter.cut(mesh, openings[i], i)) return *problem;
    surface = mesh.surface();
  }
  std::vector<Vec2> addresses;
  addresses.reserve(surface.places.size());
  for (const auto& p : surface.places) addresses.push_back(to_vec(to_chart(p)));
  return Chart::certify(std::make_shared<const SurfaceMesh>(std::move(surface.mesh)), addresses, name, true);
}

Result<WallRef> wall_with_openings(const Chart& chart, std::span<const Opening> openings, const std::string& name,
                                   bool fair_scan) {
  auto cut = cut_openings(chart, openings, name);
  if (!cut) return cut.problem();
  auto wall = std::make_shared<ChartedWall>();
  wall->chart = std::make_shared<const Chart>(std::move(*cut));
  wall->metric = std::make_shared<const Metric>(wall->chart, fair_scan);
  wall->pick = PickTree(wall->chart->shared_mesh());
  wall->places_before_openings = std::make_shared<const std::vector<LatticePoint>>(chart.places());
  return WallRef(std::move(wall));
}

Result<WallRef> with_opening(const ChartedWall& wall, const Opening& opening, const std::string& name) {
  auto made = wall_with_openings(*wall.chart, std::span(&opening, 1), name, wall.scan.has_value());
  if (!made) return made.problem();
  auto next = std::make_shared<ChartedWall>(**made);
  next->scan = wall.scan;
  if (wall.places_before_openings) next->places_before_openings = wall.places_before_openings;
  return WallRef(std::move(next));
}

}  // namespace pontata
