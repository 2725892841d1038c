#include "engine/giornate/measures.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <set>

#include "engine/base/predicates.h"
#include "engine/giornate/face_locator.h"
#include "engine/seams/cut_contacts.h"

namespace pontata {

namespace {

// Surface that curves toward the painter with one curvature over one area.
struct Hollow {
  double curvature = 0;  // 1/m, positive toward the painter
  double area = 0;       // m^2
};

// Sums of one giornata while they are made.
struct Gathered {
  std::int64_t area = 0;
  Int128 twice_chart = 0;
  double bend = 0, gauss = 0, perimeter = 0;
  double low = std::numeric_limits<double>::infinity(), high = -std::numeric_limits<double>::infinity();
  std::set<GiornataId> neighbours;
  std::map<GiornataId, double> runs;  // m across the fall by which water leaves to a neighbour, less what comes
  std::vector<Hollow> hollows;        // triangles with a corner inside
  std::set<std::uint32_t> rim;        // triangles under the rim
};

class Gatherer {
 public:
  Gatherer(const ChartedWall& wall, const Network& network, std::span<const Giornata> giornate);
  void add_seams();
  void add_cuts();
  void add_inside();
  std::int64_t rest() const { return rest_; }
  Gathered* of(FaceId f) {
    return slot_of_[f.value] < 0 ? nullptr : &gathered_[static_cast<std::size_t>(slot_of_[f.value])];
  }
  const Gathered& at(std::size_t slot) const { return gathered_[slot]; }
  const std::vector<GiornataId>& ids() const { return ids_; }

 private:
  void add_half_edge(HalfEdgeId h);
  void add_rim(HalfEdgeId h, Gathered* left, Gathered* right);
  void add_runs(const std::vector<WallPoint>& line, Gathered& left, Gathered& right);
  Hollow hollow_of(std::uint32_t t) const;
  GiornataId id_of(const Gathered* g) const { return ids_[static_cast<std::size_t>(g - gathered_.data())]; }

  const ChartedWall& wall_;
  const Network& network_;
  std::vector<GiornataId> ids_;  // giornate with a face here, sorted
  std::vector<int> slot_of_;     // by face; -1 for none
  std::vector<Gathered> gathered_;
  std::int64_t rest_ = 0;
};

Gatherer::Gatherer(const ChartedWall& wall, const Network& network, std::span<const Giornata> giornate)
    : wall_(wall), network_(network), slot_of_(network.face_slots(), -1) {
  std::set<GiornataId> known;
  for (const Giornata& g : giornate)
    if (g.alive) known.insert(g.id);
  std::map<GiornataId, std::vector<FaceId>> faces;
  for (const FaceId f : network.faces())
    if (known.contains(network.face(f).owner)) faces[network.face(f).owner].push_back(f);
  for (const auto& [id, list] : faces) {
    for (const FaceId f : list) slot_of_[f.value] = static_cast<int>(ids_.size());
    ids_.push_back(id);
  }
  gathered_.resize(ids_.size());
}

void Gatherer::add_half_edge(HalfEdgeId h) {
  const FaceId face = network_.half_edge(h).face;
  if (face == Network::kOutside) return;
  const SeamMeasure& seam = network_.seam(Network::seam_of(h));
  const int s = h.value % 2 == 0 ? 1 : -1;
  Gathered* g = of(face);
  if (!g) {
    if (!network_.face(face).owner) rest_ += s * seam.area;
    return;
  }
  g->area += s * seam.area;
  g->bend += s * seam.bend_m;
  g->gauss += s * seam.gauss;
  const LatticePoint a = network_.origin(h), b = network_.target(h);
  g->twice_chart += static_cast<Int128>(a.x) * b.y - static_cast<Int128>(a.y) * b.x;
  const FaceId other = network_.half_edge(Network::twin(h)).face;
  if (of(other) == g) return;
  g->perimeter += seam.length_m;
  if (other != Network::kOutside && network_.face(other).owner) g->neighbours.insert(network_.face(other).owner);
}

// Width of the piece across the fall of the surface: positive when the way down points to its left.
double width_across_fall(const SurfaceMesh& mesh, std::uint32_t triangle, const Vec3& piece) {
  constexpr double kLevelGround = 0.02;  // sine: water stays
  const Triangle& t = mesh.triangles[triangle];
  const Vec3 n =
      glm::normalize(glm::cross(mesh.points[t[1]] - mesh.points[t[0]], mesh.points[t[2]] - mesh.points[t[0]]));
  const Vec3 down = n.z * n - Vec3(0, 0, 1);
  const double sine = glm::length(down);
  return sine < kLevelGround ? 0 : glm::dot(down, glm::cross(n, piece)) / sine;
}

// Water from the left of a traced line to its right.
void Gatherer::add_runs(const std::vector<WallPoint>& line, Gathered& left, Gathered& right) {
  std::optional<Vec3> last;
  double to_left = 0;
  for (const WallPoint& p : line) {
    const Vec3 here = position(wall_.mesh(), p);
    if (last) to_left += width_across_fall(wall_.mesh(), p.triangle, here - *last);
    last = here;
  }
  left.runs[id_of(&right)] -= to_left;
  right.runs[id_of(&left)] += to_left;
}

// Extremes of a surface of flat triangles lie on its own points or where the rim crosses its edges.
void Gatherer::add_rim(HalfEdgeId h, Gathered* left, Gathered* right) {
  const auto line = wall_.metric->trace(network_.origin(h), network_.target(h));
  for (const WallPoint& p : line) {
    const double z = position(wall_.mesh(), p).z;
    for (Gathered* g : {left, right}) {
      if (!g) continue;
      g->low = std::min(g->low, z);
      g->high = std::max(g->high, z);
      g->rim.insert(p.triangle);
    }
  }
  if (left && right) add_runs(line, *left, *right);
}

// Where the wall was cut open, what lies on the two sides touches; the border counted there before is none.
void Gatherer::add_cuts() {
  for (const CutContact& c : cut_contacts(network_, *wall_.chart)) {
    const FaceId here = network_.half_edge(c.here).face, there = network_.half_edge(c.there).face;
    Gathered* left = of(here);
    Gathered* right = of(there);
    if (left && left == right) {
      left->perimeter -= network_.seam(Network::seam_of(c.here)).length_m * (c.to_here - c.from_here) +
                         network_.seam(Network::seam_of(c.there)).length_m * (c.to_there - c.from_there);
      continue;
    }
    const GiornataId mine = network_.face(here).owner, other = network_.face(there).owner;
    if (left && other) left->neighbours.insert(other);
    if (right && mine) right->neighbours.insert(mine);
    if (!left || !right) continue;
    const ChartPoint a = to_chart(network_.origin(c.here)), b = to_chart(network_.target(c.here));
    const auto at = [&](double share) { return to_lattice({a.u + share * (b.u - a.u), a.v + share * (b.v - a.v)}); };
    add_runs(wall_.metric->trace(at(c.from_here), at(c.to_here)), *left, *right);
  }
}

void Gatherer::add_seams() {
  for (std::uint32_t h = 0; h < network_.half_edge_slots(); h += 2) {
    const HalfEdgeId one{h}, other{h + 1};
    if (!network_.alive(one)) continue;
    add_half_edge(one);
    add_half_edge(other);
    Gathered* left = of(network_.half_edge(one).face);
    Gathered* right = of(network_.half_edge(other).face);
    if (left != right) add_rim(one, left, right);
  }
}

// Principal curvatures of a triangle from its offset terms; the greater one counts.
Hollow Gatherer::hollow_of(std::uint32_t t) const {
  const Vec3 terms = wall_.metric->web_terms(t);
  if (!(terms.x > 0)) return {};
  const double mean = -terms.y / (2 * terms.x);
  const double gauss = terms.z / terms.x;
  return {mean + std::sqrt(std::max(0.0, mean * mean - gauss)), terms.x};
}

void Gatherer::add_inside() {
  const FaceLocator locator(network_);
  const auto& places = wall_.chart->places();
  std::vector<int> slot(places.size(), -1);
  for (std::size_t i = 0; i < places.size(); ++i) {
    const FaceId f = locator.face_at(places[i]);
    slot[i] = slot_of_[f.value];
    if (slot[i] < 0) continue;
    Gathered& g = gathered_[static_cast<std::size_t>(slot[i])];
    g.low = std::min(g.low, wall_.mesh().points[i].z);
    g.high = std::max(g.high, wall_.mesh().points[i].z);
  }
  const auto& triangles = wall_.mesh().triangles;
  for (std::uint32_t t = 0; t < triangles.size(); ++t) {
    const std::array<int, 3> s{slot[triangles[t][0]], slot[triangles[t][1]], slot[triangles[t][2]]};
    if (s[0] < 0 && s[1] < 0 && s[2] < 0) continue;
    Hollow hollow = hollow_of(t);
    hollow.area /= 3;
    if (hollow.curvature > 0)
      for (const int k : s)
        if (k >= 0) gathered_[static_cast<std::size_t>(k)].hollows.push_back(hollow);
  }
  for (Gathered& g : gathered_)
    if (g.hollows.empty())
      for (const std::uint32_t t : g.rim)
        if (const Hollow hollow = hollow_of(t); hollow.curvature > 0) g.hollows.push_back(hollow);
}

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

ChartPoint place_inside(const Network& network, GiornataId id) {
  const std::vector<FaceId> faces = network.faces_of(id);
  const auto largest = std::max_element(
      faces.begin(), faces.end(), [&](FaceId a, FaceId b) { return network.sums(a).area < network.sums(b).area; });
  return largest == faces.end() ? ChartPoint{} : label_place(network.rings(*largest));
}

GiornataMeasure finish(const ChartedWall& wall, const Network& network, GiornataId id, const Gathered& g) {
  GiornataMeasure m;
  m.id = id;
  m.area_m2 = static_cast<double>(g.area) * kAreaUnit;
  m.chart_area_m2 = static_cast<double>(g.twice_chart) * 0.5 * kPitch * kPitch;
  m.perimeter_m = g.perimeter;
  m.bend_m = g.bend;
  m.gauss = g.gauss;
  m.neighbours.assign(g.neighbours.begin(), g.neighbours.end());
  for (const auto& [other, width] : g.runs)
    if (width > 0) m.runs_onto.push_back({other, width});
  m.inside = place_inside(network, id);
  m.highest_m = g.high;
  m.lowest_m = g.low;
  m.inside_m = wall.position(m.inside).value_or(Vec3(0, 0, 0.5 * (g.low + g.high))).z;
  m.least_concave_radius_m = least_radius(g.hollows);
  return m;
}

}  // namespace

WallMeasure measure_wall(const ChartedWall& wall, const Network& network, std::span<const Giornata> giornate) {
  Gatherer gatherer(wall, network, giornate);
  gatherer.add_seams();
  gatherer.add_cuts();
  gatherer.add_inside();
  WallMeasure result;
  const std::int64_t wall_area = network.wall_area();
  std::int64_t residual = gatherer.rest() - wall_area;
  for (std::size_t i = 0; i < gatherer.ids().size(); ++i) {
    residual += gatherer.at(i).area;
    result.giornate.push_back(finish(wall, network, gatherer.ids()[i], gatherer.at(i)));
  }
  result.area_m2 = static_cast<double>(wall_area) * kAreaUnit;
  result.raw_area_m2 = wall.metric->raw_area();
  result.unassigned_m2 = static_cast<double>(gatherer.rest()) * kAreaUnit;
  result.residual_m2 = static_cast<double>(residual) * kAreaUnit;
  return result;
}

}  // namespace pontata
