#include "engine/giornate/measure_gatherer.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/giornate/measures.h"
#include "engine/seams/cut_contacts.h"

namespace pontata {

namespace {

constexpr int kNoGiornata = -1, kNotAsked = -2;

}  // namespace

MeasureGatherer::MeasureGatherer(const ChartedWall& wall, const Network& network, std::span<const Giornata> giornate)
    : wall_(wall), network_(network), slot_of_(network.face_slots(), kNoGiornata) {
  std::vector<bool> known(giornate.size() + 1, false);
  for (const Giornata& g : giornate) {
    if (g.id.value >= known.size()) known.resize(g.id.value + 1, false);
    known[g.id.value] = g.alive;
  }
  faces_ = network.faces();
  std::erase_if(faces_, [&](FaceId f) {
    const GiornataId owner = network.face(f).owner;
    return !owner || owner.value >= known.size() || !known[owner.value];
  });
  std::stable_sort(faces_.begin(), faces_.end(),
                   [&](FaceId a, FaceId b) { return network.face(a).owner < network.face(b).owner; });
  for (std::size_t i = 0; i < faces_.size(); ++i) {
    const GiornataId id = network.face(faces_[i]).owner;
    if (ids_.empty() || ids_.back() != id) ids_.push_back(id), first_face_.push_back(i);
    slot_of_[faces_[i].value] = static_cast<int>(ids_.size()) - 1;
  }
  first_face_.push_back(faces_.size());
}

std::span<const FaceId> MeasureGatherer::faces(std::size_t slot) const {
  return std::span(faces_).subspan(first_face_[slot], first_face_[slot + 1] - first_face_[slot]);
}

void MeasureGatherer::gather_all() {
  gathered_.assign(ids_.size(), {});
  wanted_.assign(ids_.size(), true);
  for (std::uint32_t h = 0; h < network_.half_edge_slots(); h += 2)
    if (network_.alive(HalfEdgeId{h})) add_seam({h >> 1});
  add_cuts();
  locator_ = std::make_unique<FaceLocator>(network_);
  slot_of_point_.assign(wall_.mesh().points.size(), kNotAsked);
  for (std::uint32_t t = 0; t < wall_.mesh().triangles.size(); ++t) add_triangle(t);
  add_rim_hollows();
}

void MeasureGatherer::gather(std::span<const std::size_t> slots) {
  gathered_.assign(ids_.size(), {});
  wanted_.assign(ids_.size(), false);
  for (const std::size_t slot : slots) wanted_[slot] = true;
  const std::vector<SeamId> seams = wanted_seams();
  for (const SeamId s : seams) add_seam(s);
  add_cuts();
  locator_ = std::make_unique<FaceLocator>(network_, seams);
  slot_of_point_.assign(wall_.mesh().points.size(), kNotAsked);
  for (const std::uint32_t t : wanted_triangles()) add_triangle(t);
  add_rim_hollows();
}

// In rising order, as all seams are gone through, so that sums come out the same.
std::vector<SeamId> MeasureGatherer::wanted_seams() const {
  std::vector<SeamId> seams;
  for (std::size_t slot = 0; slot < ids_.size(); ++slot) {
    if (!wanted_[slot]) continue;
    for (const FaceId f : faces(slot))
      for (const auto& cycle : network_.cycles(f))
        for (const HalfEdgeId h : cycle) seams.push_back(Network::seam_of(h));
  }
  std::sort(seams.begin(), seams.end());
  seams.erase(std::unique(seams.begin(), seams.end()), seams.end());
  return seams;
}

void MeasureGatherer::add_seam(SeamId s) {
  const HalfEdgeId one{s.value << 1}, other{(s.value << 1) | 1u};
  add_half_edge(one);
  add_half_edge(other);
  Gathered* left = of(network_.half_edge(one).face);
  Gathered* right = of(network_.half_edge(other).face);
  if (left != right) add_rim(one, left, right);
}

void MeasureGatherer::add_half_edge(HalfEdgeId h) {
  const FaceId face = network_.half_edge(h).face;
  if (face == Network::kOutside) return;
  const SeamMeasure& seam = network_.seam(Network::seam_of(h));
  const int s = h.value % 2 == 0 ? 1 : -1;
  Gathered* g = of(face);
  if (!wanted(g)) return;
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

namespace {

// Width of the piece across the fall of the surface: positive when the way down points to its left.
Gathered::Run width_across_fall(const SurfaceMesh& mesh, std::uint32_t triangle, const Vec3& piece) {
  constexpr double kLevelGround = 0.02;  // sine: water stays
  const Triangle& t = mesh.triangles[triangle];
  const Vec3 n =
      glm::normalize(glm::cross(mesh.points[t[1]] - mesh.points[t[0]], mesh.points[t[2]] - mesh.points[t[0]]));
  const Vec3 down = n.z * n - Vec3(0, 0, 1);
  const double sine = glm::length(down);
  if (sine < kLevelGround) return {};
  const double width = glm::dot(down, glm::cross(n, piece)) / sine;
  return {width, n.z < 0 && sine < kDropsBelow ? 0 : width};
}

}  // namespace

// Water from the left of a traced line to its right.
void MeasureGatherer::add_runs(const std::vector<WallPoint>& line, Gathered& left, Gathered& right) {
  std::optional<Vec3> last;
  Gathered::Run to_left;
  for (const WallPoint& p : line) {
    const Vec3 here = position(wall_.mesh(), p);
    if (last) {
      const auto piece = width_across_fall(wall_.mesh(), p.triangle, here - *last);
      to_left.all += piece.all, to_left.steep += piece.steep;
    }
    last = here;
  }
  auto& from_left = left.runs[id_of(&right)];
  from_left.all -= to_left.all, from_left.steep -= to_left.steep;
  auto& from_right = right.runs[id_of(&left)];
  from_right.all += to_left.all, from_right.steep += to_left.steep;
}

// Extremes of a surface of flat triangles lie on its own points or where the rim crosses its edges.
void MeasureGatherer::add_rim(HalfEdgeId h, Gathered* left, Gathered* right) {
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
void MeasureGatherer::add_cuts() {
  for (const CutContact& c : cut_contacts(network_, *wall_.chart)) {
    const FaceId here = network_.half_edge(c.here).face, there = network_.half_edge(c.there).face;
    Gathered* left = of(here);
    Gathered* right = of(there);
    if (!wanted(left) && !wanted(right)) continue;
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

// Principal curvatures of a triangle from its offset terms; the greater one counts.
Hollow MeasureGatherer::hollow_of(std::uint32_t t) const {
  const Vec3 terms = wall_.metric->web_terms(t);
  if (!(terms.x > 0)) return {};
  const double mean = -terms.y / (2 * terms.x);
  const double gauss = terms.z / terms.x;
  return {mean + std::sqrt(std::max(0.0, mean * mean - gauss)), terms.x};
}

int MeasureGatherer::slot_of_point(std::uint32_t point) {
  int& slot = slot_of_point_[point];
  if (slot != kNotAsked) return slot;
  const int there = slot_of_[locator_->face_at(wall_.chart->places()[point]).value];
  return slot = there >= 0 && wanted_[static_cast<std::size_t>(there)] ? there : kNoGiornata;
}

// Those with a corner inside, in rising order. From every place inside a way leads, across sides, through such
// triangles to one that the rim passes or one beside that.
std::vector<std::uint32_t> MeasureGatherer::wanted_triangles() {
  std::vector<bool> seen(wall_.mesh().triangles.size(), false);
  std::vector<std::uint32_t> found;
  const auto add = [&](std::uint32_t t) {
    if (!seen[t]) found.push_back(t);
    seen[t] = true;
  };
  for (std::size_t slot = 0; slot < ids_.size(); ++slot)
    if (wanted_[slot]) std::for_each(gathered_[slot].rim.begin(), gathered_[slot].rim.end(), add);
  const auto inside = [&](std::uint32_t t) {
    const Triangle& corners = wall_.mesh().triangles[t];
    return std::any_of(corners.begin(), corners.end(), [&](std::uint32_t p) { return slot_of_point(p) >= 0; });
  };
  const std::size_t under_rims = found.size();
  for (std::size_t i = 0; i < found.size(); ++i)
    for (int k = 0; k < 3; ++k) {
      const std::uint32_t next = wall_.chart->across(found[i], k);
      if (next != Chart::kNoTriangle && !seen[next] && (i < under_rims || inside(next))) add(next);
    }
  std::sort(found.begin(), found.end());
  return found;
}

void MeasureGatherer::add_triangle(std::uint32_t t) {
  const Triangle& corners = wall_.mesh().triangles[t];
  Hollow hollow{-1, 0};
  for (const std::uint32_t p : corners) {
    const int slot = slot_of_point(p);
    if (slot < 0) continue;
    Gathered& g = gathered_[static_cast<std::size_t>(slot)];
    g.low = std::min(g.low, wall_.mesh().points[p].z);
    g.high = std::max(g.high, wall_.mesh().points[p].z);
    if (hollow.curvature < 0) {
      hollow = hollow_of(t);
      hollow.curvature = std::max(0.0, hollow.curvature);
      hollow.area /= 3;
    }
    if (hollow.curvature > 0) g.hollows.push_back(hollow);
  }
}

// A giornata that no corner lies in takes what its rim passes.
void MeasureGatherer::add_rim_hollows() {
  for (std::size_t slot = 0; slot < gathered_.size(); ++slot) {
    Gathered& g = gathered_[slot];
    if (!wanted_[slot] || !g.hollows.empty()) continue;
    for (const std::uint32_t t : g.rim)
      if (const Hollow hollow = hollow_of(t); hollow.curvature > 0) g.hollows.push_back(hollow);
  }
}

}  // namespace pontata
