// A seam led across a giornata that is there already.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>
#include <stdexcept>

#include "engine/seams/cut_contacts.h"
#include "engine/seams/least_piece.h"
#include "engine/seams/network_cut.h"
#include "engine/seams/outline_edit.h"
#include "engine/seams/ring_claim.h"

namespace pontata {

namespace {

using Line = std::vector<LatticePoint>;

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

using ContactsOf = std::multimap<HalfEdgeId, CutContact>;

ContactsOf contacts_of(const Network& network, const Chart* chart) {
  return chart ? contacts_by_half_edge(cut_contacts(network, *chart)) : ContactsOf{};
}

GiornataId owner_of(const Network& n, HalfEdgeId h) { return n.face(n.half_edge(h).face).owner; }

// The place at this share of a seam lies on a cut inside the giornata.
bool cut_inside(const Network& n, const ContactsOf& contacts, GiornataId id, SeamId s, double share) {
  for (const HalfEdgeId h : {HalfEdgeId{s.value << 1}, HalfEdgeId{(s.value << 1) | 1u}}) {
    const double from_origin = h.value % 2 == 0 ? share : 1 - share;
    const auto [first, last] = contacts.equal_range(h);
    for (auto it = first; it != last; ++it)
      if (owner_of(n, h) == id && owner_of(n, it->second.there) == id && it->second.from_here <= from_origin &&
          from_origin <= it->second.to_here)
        return true;
  }
  return false;
}

// Nearest vertex or place on the rim of the giornata within kDivideReach of p.
std::optional<LatticePoint> nearest_rim(const Network& n, const ContactsOf& contacts, GiornataId id, LatticePoint p) {
  const double reach = static_cast<double>(kDivideReach);
  double best = reach * reach;
  std::optional<LatticePoint> found;
  for (const SeamId s :
       n.seams_near({p.x - kDivideReach, p.y - kDivideReach}, {p.x + kDivideReach, p.y + kDivideReach})) {
    const HalfEdgeId h{s.value << 1};
    if (owner_of(n, h) != id && owner_of(n, Network::twin(h)) != id) continue;
    const LatticePoint a = n.origin(h), b = n.target(h);
    const Vec2 along(static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y));
    const Vec2 to(static_cast<double>(p.x - a.x), static_cast<double>(p.y - a.y));
    const double t = std::clamp(glm::dot(along, to) / glm::dot(along, along), 0.0, 1.0);
    const Vec2 off = to - along * t;
    if (glm::dot(off, off) >= best || cut_inside(n, contacts, id, s, t)) continue;
    best = glm::dot(off, off);
    found = on_seam(a, b, {a.x + std::llround(t * along.x), a.y + std::llround(t * along.y)});
  }
  return found;
}

// A run of a line inside the giornata from rim to rim.
struct Arc {
  Line points;
  double length = 0;  // m
};

// In the order of the line. The border is rim, on a cut too.
std::vector<Arc> arcs_of(const Line& line, const LaidLine& laid, const EdgeMeter& meter) {
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
  std::vector<Arc> arcs;
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
    if (arc.size() > 1) arcs.push_back({arc, length});
    arc.clear();
  }
  return arcs;
}

// Arcs that follow each other across cuts: one seam from rim to rim.
using Chain = std::vector<Arc>;

double length_of(const Chain& chain) {
  double sum = 0;
  for (const Arc& arc : chain) sum += arc.length;
  return sum;
}

// Puts one arc in; every part stays the giornata's. Beside its ends it may come to run along the rim for a pitch or
// two.
std::optional<Network> lay_arc(const Network& network, GiornataId id, const Line& arc, const EdgeMeter& meter) {
  const auto snapped = snap_line(network, arc, false);
  if (!snapped) return std::nullopt;
  const Wanted wanted = [&](FaceId f) { return f != Network::kOutside && network.face(f).owner == id; };
  auto full = lay_line(network, meter, snapped->courses, net_stretches(snapped->line, false), wanted);
  if (!full || full->fresh.empty()) return std::nullopt;
  LaidLine laid = lay_lean(network, meter, snapped->courses, std::move(*full), wanted);
  if (!laid.editor.settle() || !laid.editor.measure_new()) return std::nullopt;
  const auto own = [&](FaceId f) { return laid.editor.network().face(f).owner == id; };
  if (!shed_tips(laid.editor, network, snapped->courses, own)) return std::nullopt;
  return laid.editor.take();
}

struct Cut {
  std::size_t parts = 0;           // 0: cannot be laid
  std::optional<Network> network;  // of two parts of at least 1 cm^2
  std::optional<Problem> refused;  // of two parts
};

std::int64_t area_of(const Network& network, const std::vector<FaceId>& faces) {
  std::int64_t sum = 0;
  for (const FaceId f : faces) sum += network.sums(f).area;
  return sum;
}

// Cuts along chains that follow each other.
Cut cut_along(const Network& network, GiornataId id, GiornataId id_new, std::span<const Chain> chains,
              const EdgeMeter& meter, const Chart* chart) {
  Network laid = network;
  for (const Chain& chain : chains)
    for (const Arc& arc : chain) {
      auto next = lay_arc(laid, id, arc.points, meter);
      if (!next) return {};
      laid = std::move(*next);
    }
  const auto faces = laid.faces_of(id);
  const auto contacts = chart ? cut_contacts(laid, *chart) : std::vector<CutContact>{};
  const auto parts = joined_across(laid, faces, contacts);
  if (parts.size() != 2) return {parts.size(), std::nullopt, std::nullopt};
  const auto& lesser = area_of(laid, parts[0]) < area_of(laid, parts[1]) ? parts[0] : parts[1];
  if (const std::int64_t area = area_of(laid, lesser); area < kLeastUnits)
    return {2, std::nullopt,
            Problem{fmt::format("One part would be only {} cm²", small_cm2(area)), place_name(chains[0][0].points[0]),
                    "A giornata needs at least 1 cm²; draw the line further in."}};
  NetworkEditor editor(std::move(laid), meter);
  for (const FaceId f : lesser) editor.set_owner(f, id_new);
  if (!open_seams(editor, idle_seams(editor.network(), faces))) return {};  // arcs that part nothing
  return {2, editor.take(), std::nullopt};
}

// Tries at most before a line that crosses the giornata over and over is given up.
constexpr int kMostCuts = 64;

// Chains in the order of the line. Where all of them together make more than two parts, the fewest round the longest
// count that make two; failing that, those round the next longest.
Cut cut_by_longest(const Network& network, GiornataId id, GiornataId id_new, std::span<const Chain> chains,
                   const EdgeMeter& meter, const Chart* chart) {
  if (chains.empty()) return {1, std::nullopt, std::nullopt};
  Cut all = cut_along(network, id, id_new, chains, meter, chart);
  if (all.parts == 1 || all.network || chains.size() == 1) return all;
  std::vector<std::size_t> order(chains.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return length_of(chains[a]) > length_of(chains[b]); });
  int tried = 0;
  for (const std::size_t longest : order)
    for (std::size_t count = 1; count < chains.size(); ++count)
      for (std::size_t first = longest - std::min(longest, count - 1);
           first <= longest && first + count <= chains.size(); ++first) {
        if (++tried > kMostCuts) return all;
        Cut cut = cut_along(network, id, id_new, chains.subspan(first, count), meter, chart);
        if (cut.network) return cut;
        all.parts = std::max(all.parts, cut.parts);
        if (cut.refused && !all.refused) all.refused = cut.refused;
      }
  return all;
}

// Leads the line's own ends inside the giornata on to its rim; where that is too far, the place.
std::optional<LatticePoint> lead_to_rim(const Network& network, const ContactsOf& contacts, GiornataId id,
                                        std::vector<Line>& lines) {
  std::optional<LatticePoint> loose;
  for (const bool last : {false, true}) {
    Line& line = last ? lines.back() : lines.front();
    const LatticePoint end = last ? line.back() : line.front();
    if (network.owner_at(end) != id) continue;
    if (const auto rim = nearest_rim(network, contacts, id, end))
      line.insert(last ? line.end() : line.begin(), *rim);
    else
      loose = end;
  }
  return loose;
}

// Chains of the line's pieces, in order; nullopt where it cannot be cut in.
std::optional<std::vector<Chain>> chains_of(const Network& network, GiornataId id, const std::vector<Line>& lines,
                                            const EdgeMeter& meter) {
  const Wanted wanted = [&](FaceId f) { return f != Network::kOutside && network.face(f).owner == id; };
  std::vector<Chain> chains;
  std::optional<LatticePoint> crossing;  // the last arc ends where its piece goes over a cut
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const auto snapped = snap_line(network, lines[i], false);
    if (!snapped) return std::nullopt;
    const auto laid = lay_line(network, meter, snapped->courses, net_stretches(snapped->line, false), wanted);
    if (!laid) return std::nullopt;
    bool goes_on = crossing.has_value();
    crossing.reset();
    for (Arc& arc : arcs_of(snapped->line, *laid, meter)) {
      if (!goes_on || arc.points.front() != lines[i].front()) chains.emplace_back();
      goes_on = false;
      if (arc.points.back() == lines[i].back() && i + 1 < lines.size()) crossing = arc.points.back();
      chains.back().push_back(std::move(arc));
    }
  }
  return chains;
}

// Why the line made no two parts.
Problem no_cut(std::size_t parts, bool crosses, std::optional<LatticePoint> loose, LatticePoint begin) {
  if (parts > 2)
    return {"The line would cut the giornata into more than two parts", place_name(begin), "Draw it across once."};
  if (loose) return {"The line ends inside the giornata", place_name(*loose), "Draw it on to the giornata's rim."};
  if (crosses && parts == 1)
    return {"The line does not divide the giornata", place_name(begin),
            "Where it ends at an opening or island, draw it on from there to the rim that it began on."};
  return {"The line does not divide the giornata", place_name(begin),
          "Draw it across the giornata, from one place on its rim to another."};
}

}  // namespace

Result<Network> divide_giornata(const Network& network, GiornataId id, std::span<const CutPiece> line,
                                GiornataId id_new, const EdgeMeter& meter, const Chart* chart) {
  if (!id_new || !network.faces_of(id_new).empty())
    throw std::invalid_argument("divide_giornata: new id none or in use");
  if (!id || network.faces_of(id).empty())
    return Problem{"There is no such giornata on this wall", "", "Choose one of its giornate."};
  std::vector<Line> lines;
  for (const CutPiece& piece : line) {
    auto cleaned = clean_line(piece.points);
    if (!cleaned) return cleaned.problem();
    lines.push_back(std::move(*cleaned));
  }
  const auto loose = lead_to_rim(network, contacts_of(network, chart), id, lines);
  const auto chains = chains_of(network, id, lines, meter);
  if (!chains) return cannot_cut();
  Cut cut = cut_by_longest(network, id, id_new, *chains, meter, chart);
  if (cut.network) return std::move(*cut.network);
  if (cut.refused) return *cut.refused;
  return no_cut(cut.parts, !chains->empty(), loose, lines[0].front());
}

Result<Network> divide_giornata(const Network& network, GiornataId id, const std::vector<LatticePoint>& line,
                                GiornataId id_new, const EdgeMeter& meter) {
  const CutPiece whole{line, std::nullopt, std::nullopt};
  return divide_giornata(network, id, std::span(&whole, 1), id_new, meter, nullptr);
}

}  // namespace pontata
