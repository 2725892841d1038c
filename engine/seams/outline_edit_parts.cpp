// Edits of giornate that are there already: taking away, joining, dividing.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <stdexcept>

#include "engine/base/predicates.h"
#include "engine/seams/least_piece.h"
#include "engine/seams/network_cut.h"
#include "engine/seams/outline_edit.h"

namespace pontata {

namespace {

using Line = std::vector<LatticePoint>;

Problem no_such() { return {"There is no such giornata on this wall", "", "Choose one of its giornate."}; }
Problem cannot_cut() {
  return {"The line runs too close to other seams to be cut in cleanly", "", "Keep a millimetre away from them."};
}

// The points without repeats, or what is wrong with them as a line across.
Result<Line> clean_line(const Line& given) {
  Line line;
  for (const auto& p : given) {
    if (std::abs(p.x) >= kLatticeLimit || std::abs(p.y) >= kLatticeLimit)
      return Problem{"The line has a point far outside the wall", place_name(p), "Draw it on the wall."};
    if (line.empty() || p != line.back()) line.push_back(p);
  }
  if (line.size() < 2) return Problem{"The line has fewer than 2 different points", "", "Draw it from rim to rim."};
  if (line.front() == line.back())
    return Problem{"The line comes back to where it began", place_name(line.front()),
                   "Draw it from one place on the giornata's rim to another."};
  if (const auto place = line_crossing(line))
    return Problem{"The line crosses or touches itself", place_name(*place), "Draw it once across the giornata."};
  return line;
}

// Nearest vertex or place on the rim of the giornata within kDivideReach of p.
std::optional<LatticePoint> nearest_rim(const Network& n, GiornataId id, LatticePoint p) {
  const double reach = static_cast<double>(kDivideReach);
  double best = reach * reach;
  std::optional<LatticePoint> found;
  const auto owned = [&](HalfEdgeId h) { return n.face(n.half_edge(h).face).owner == id; };
  for (const SeamId s :
       n.seams_near({p.x - kDivideReach, p.y - kDivideReach}, {p.x + kDivideReach, p.y + kDivideReach})) {
    const HalfEdgeId h{s.value << 1};
    if (!owned(h) && !owned(Network::twin(h))) continue;
    const LatticePoint a = n.origin(h), b = n.target(h);
    const Vec2 along(static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y));
    const Vec2 to(static_cast<double>(p.x - a.x), static_cast<double>(p.y - a.y));
    const double t = std::clamp(glm::dot(along, to) / glm::dot(along, along), 0.0, 1.0);
    const Vec2 off = to - along * t;
    if (glm::dot(off, off) >= best) continue;
    best = glm::dot(off, off);
    found = on_seam(a, b, {a.x + std::llround(t * along.x), a.y + std::llround(t * along.y)});
  }
  return found;
}

// Runs of the line inside the giornata from rim to rim, the longest on the surface first.
std::vector<Line> arcs_of(const Line& line, const LaidLine& laid, const EdgeMeter& meter) {
  std::set<Stretch> fresh;
  for (const auto& [a, b] : laid.fresh) fresh.insert(std::minmax(a, b));
  const Network& n = laid.editor.network();
  const auto on_rim = [&](LatticePoint p) {
    const auto v = n.vertex_at(p);
    if (!v) return false;
    const HalfEdgeId first = n.vertex(*v).out;
    HalfEdgeId h = first;
    do {
      if (!fresh.count(std::minmax(p, n.target(h)))) return true;
      h = n.turn(h);
    } while (h != first);
    return false;
  };
  std::vector<std::pair<double, Line>> arcs;
  Line arc;
  double length = 0;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    if (!fresh.count(std::minmax(line[i], line[i + 1]))) {
      arc.clear();
      continue;
    }
    if (on_rim(line[i])) {
      arc = {line[i]};
      length = 0;
    }
    if (arc.empty()) continue;
    // Where snapping made the line touch itself, the loop is left out.
    arc.erase(std::find(arc.begin(), arc.end(), line[i + 1]), arc.end());
    arc.push_back(line[i + 1]);
    length += meter(line[i], line[i + 1]).length_m;
    if (!on_rim(line[i + 1])) continue;
    if (arc.size() > 1) arcs.push_back({length, arc});
    arc.clear();
  }
  std::stable_sort(arcs.begin(), arcs.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<Line> found;
  for (auto& [l, points] : arcs) found.push_back(std::move(points));
  return found;
}

// Cuts along one arc. nullopt when it does not part the giornata.
std::optional<Result<Network>> cut_along(const Network& network, GiornataId id, GiornataId id_new, const Line& arc,
                                         const Courses& courses, const EdgeMeter& meter) {
  const Wanted wanted = [&](FaceId f) { return f != Network::kOutside && network.face(f).owner == id; };
  auto full = lay_line(network, meter, courses, net_stretches(arc, false), wanted);
  if (!full || full->fresh.size() + 1 != arc.size()) return std::nullopt;
  LaidLine laid = lay_lean(network, meter, courses, std::move(*full), wanted);
  NetworkEditor& editor = laid.editor;
  if (!editor.settle() || !editor.measure_new()) return std::nullopt;
  const HalfEdgeId h = editor.edge_between(arc[0], arc[1]).value();
  const Network& n = editor.network();
  const FaceId left = n.half_edge(h).face, right = n.half_edge(Network::twin(h)).face;
  if (left == right) return std::nullopt;
  const auto area_left = n.sums(left).area, area_right = n.sums(right).area;
  const auto lesser = std::min(area_left, area_right);
  if (lesser < kLeastUnits)
    return Problem{fmt::format("One part would be only {} cm²", small_cm2(lesser)), place_name(arc[0]),
                   "A giornata needs at least 1 cm²; draw the line further in."};
  editor.set_owner(area_left < area_right ? left : right, id_new);
  return editor.take();
}

}  // namespace

Result<Network> remove_giornata(const Network& network, GiornataId id, const EdgeMeter& meter) {
  const auto faces = network.faces_of(id);
  if (!id || faces.empty()) return no_such();
  NetworkEditor editor(network, meter);
  for (const FaceId f : faces) editor.set_owner(f, {});
  const Network& n = editor.network();
  std::set<SeamId> open;
  for (const FaceId f : faces)
    for (const auto& cycle : network.cycles(f))
      for (const HalfEdgeId h : cycle) {
        const FaceId other = network.half_edge(Network::twin(h)).face;
        if (other != Network::kOutside && !n.face(other).owner) open.insert(Network::seam_of(h));
      }
  for (const SeamId s : open) editor.open_seam(s);
  if (!editor.settle()) return cannot_cut();
  return editor.take();
}

Result<Network> join_giornate(const Network& network, GiornataId keep, GiornataId other, const EdgeMeter& meter) {
  const auto faces = network.faces_of(other);
  if (!keep || !other || faces.empty() || network.faces_of(keep).empty()) return no_such();
  if (keep == other) return Problem{"A giornata cannot be joined to itself", "", "Choose two giornate side by side."};
  NetworkEditor editor(network, meter);
  std::set<SeamId> open;
  for (const FaceId f : faces) {
    editor.set_owner(f, keep);
    for (const auto& cycle : network.cycles(f))
      for (const HalfEdgeId h : cycle)
        if (network.face(network.half_edge(Network::twin(h)).face).owner == keep) open.insert(Network::seam_of(h));
  }
  if (open.empty())
    return Problem{"These two giornate share no seam", "", "Only giornate that lie side by side can be joined."};
  for (const SeamId s : open) editor.open_seam(s);
  if (!editor.settle()) return cannot_cut();
  return editor.take();
}

Result<Network> divide_giornata(const Network& network, GiornataId id, const std::vector<LatticePoint>& given,
                                GiornataId id_new, const EdgeMeter& meter) {
  if (!id_new || !network.faces_of(id_new).empty())
    throw std::invalid_argument("divide_giornata: new id none or in use");
  if (!id || network.faces_of(id).empty()) return no_such();
  auto cleaned = clean_line(given);
  if (!cleaned) return cleaned.problem();
  Line line = *cleaned;
  std::optional<LatticePoint> loose;
  for (const bool last : {false, true}) {
    const LatticePoint end = last ? line.back() : line.front();
    if (network.owner_at(end) != id) continue;
    if (const auto rim = nearest_rim(network, id, end))
      line.insert(last ? line.end() : line.begin(), *rim);
    else
      loose = end;
  }
  const auto snapped = snap_line(network, line, false);
  if (!snapped) return cannot_cut();
  const Wanted wanted = [&](FaceId f) { return f != Network::kOutside && network.face(f).owner == id; };
  const auto laid = lay_line(network, meter, snapped->courses, net_stretches(snapped->line, false), wanted);
  if (!laid) return cannot_cut();
  std::optional<Problem> refused;
  for (const Line& arc : arcs_of(snapped->line, *laid, meter)) {
    auto cut = cut_along(network, id, id_new, arc, snapped->courses, meter);
    if (cut && cut->ok()) return std::move(**cut);
    if (cut && !refused) refused = cut->problem();
  }
  if (refused) return *refused;
  if (loose)
    return Problem{"The line ends inside the giornata", place_name(*loose), "Draw it on to the giornata's rim."};
  return Problem{"The line does not divide the giornata", place_name(line.front()),
                 "Draw it across the giornata, from one place on its rim to another."};
}

std::vector<SharedSeam> shared_seams(const Network& network) {
  std::map<std::pair<GiornataId, GiornataId>, double> lengths;
  for (std::uint32_t s = 0; s < network.half_edge_slots() / 2; ++s) {
    if (!network.alive(SeamId{s}) || network.on_border({s})) continue;
    const auto owner = [&](std::uint32_t h) { return network.face(network.half_edge({h}).face).owner; };
    const std::pair<GiornataId, GiornataId> pair = std::minmax(owner(s << 1), owner((s << 1) | 1u));
    if (pair.first != pair.second) lengths[pair] += network.seam({s}).length_m;
  }
  std::vector<SharedSeam> found;
  for (const auto& [pair, length] : lengths)
    if (length > 0) found.push_back({pair.first, pair.second, length});
  return found;
}

}  // namespace pontata
