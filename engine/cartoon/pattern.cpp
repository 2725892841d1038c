#include "engine/cartoon/pattern.h"

#include <fmt/format.h>

#include <algorithm>
#include <unordered_map>

#include "engine/cartoon/seam_index.h"
#include "engine/seams/cut_contacts.h"

namespace pontata {
namespace {

struct OtherSide {
  Beyond beyond = Beyond::rest;
  GiornataId neighbour;
  bool operator==(const OtherSide&) const = default;
};

// A stretch of cut and what lies over it.
struct OverCut {
  LatticePoint from, to;
  OtherSide side;
};

class OtherSides {
 public:
  OtherSides(const CartoonWall& wall, const CartoonGiornata& g);
  // What lies beyond the chart step of the giornata's rim.
  OtherSide of(LatticePoint a, LatticePoint b) const {
    const auto known = steps_.find({a, b});
    if (known != steps_.end() && known->second.beyond != Beyond::border) return known->second;
    for (const OverCut& cut : cuts_)
      if (lies_on(cut, a, b)) return cut.side;
    return known != steps_.end() ? known->second : OtherSide{};
  }

 private:
  // The middle of the step lies on the stretch, to the lattice's rounding.
  static bool lies_on(const OverCut& cut, LatticePoint a, LatticePoint b) {
    const auto x = [](LatticePoint p) { return Vec2(static_cast<double>(p.x), static_cast<double>(p.y)); };
    const Vec2 middle = 0.5 * (x(a) + x(b)) - x(cut.from), along = x(cut.to) - x(cut.from);
    const double share = glm::dot(middle, along) / glm::dot(along, along);
    constexpr double kNear = 6;  // pitches
    return share >= 0 && share <= 1 && glm::distance(middle, share * along) <= kNear;
  }

  std::unordered_map<ChartStep, OtherSide, ChartStepHash> steps_;
  std::vector<OverCut> cuts_;
};

Beyond beyond_neighbour(const CartoonGiornata& g, GiornataId neighbour) {
  const auto among = [&](const std::vector<GiornataId>& ids) {
    return std::find(ids.begin(), ids.end(), neighbour) != ids.end();
  };
  if (among(g.meets_finished)) return Beyond::finished;
  return among(g.stays_open) ? Beyond::open : Beyond::neighbour;
}

OtherSide side_of(const Network& net, const CartoonGiornata& g, FaceId across) {
  if (across == Network::kOutside) return {Beyond::border, {}};
  const GiornataId owner = net.face(across).owner;
  return owner ? OtherSide{beyond_neighbour(g, owner), owner} : OtherSide{};
}

OtherSides::OtherSides(const CartoonWall& wall, const CartoonGiornata& g) {
  if (!wall.network) return;
  const Network& net = *wall.network;
  for (const FaceId f : net.faces_of(g.id))
    for (const auto& cycle : net.cycles(f))
      for (const HalfEdgeId h : cycle)
        steps_[{net.origin(h), net.target(h)}] = side_of(net, g, net.half_edge(Network::twin(h)).face);
  for (const auto& [h, contact] : contacts_by_half_edge(cut_contacts(net, *wall.wall->chart))) {
    if (net.face(net.half_edge(h).face).owner != g.id) continue;
    const ChartPoint a = to_chart(net.origin(h)), b = to_chart(net.target(h));
    const auto at = [&](double share) { return to_lattice({a.u + share * (b.u - a.u), a.v + share * (b.v - a.v)}); };
    cuts_.push_back({at(contact.from_here), at(contact.to_here), side_of(net, g, net.half_edge(contact.there).face)});
  }
}

std::string label_in(const CartoonWall& wall, GiornataId id) {
  for (const CartoonGiornata& g : wall.giornate)
    if (g.id == id) return label_of(g);
  return "";
}

Vec2 mm(Vec2 metres) { return 1000.0 * metres; }

// Stretches of one rim: between ring points the other side is looked up, then equal ones are joined.
void add_stretches(Pattern& p, std::size_t rim, const OtherSides& sides) {
  const Ring& ring = p.patch.outlines[rim];
  const auto& points = p.patch.rims[rim];
  const auto& corners = p.patch.corners[rim];
  const std::size_t n = ring.size();
  std::vector<OtherSide> side(n);
  for (std::size_t i = 0; i < n; ++i) side[i] = sides.of(ring[i], ring[(i + 1) % n]);
  // Where the rim changes sides of a cut, a step of no length belongs to what goes before.
  for (std::size_t k = 0; k < 2 * n; ++k)
    if (corners[k % n] == corners[(k + 1) % n]) side[k % n] = side[(k + n - 1) % n];
  std::size_t first = 0;
  while (first < n && side[(first + n - 1) % n] == side[first]) ++first;
  first %= n;
  for (std::size_t k = 0; k < n;) {
    RimStretch stretch;
    const OtherSide here = side[(first + k) % n];
    stretch.beyond = here.beyond, stretch.neighbour = here.neighbour;
    if (here.neighbour) stretch.label = label_in(*p.wall, here.neighbour);
    std::size_t end = k;
    while (end < n && side[(first + end) % n] == here) ++end;
    std::size_t i = corners[(first + k) % n];
    const std::size_t stop = corners[(first + end) % n];
    stretch.line.push_back(mm(p.flat.flat[points[i]]));
    for (bool whole = end - k == n; whole || i != stop; whole = false) {
      i = (i + 1) % points.size();
      stretch.line.push_back(mm(p.flat.flat[points[i]]));
    }
    if (stretch.line.size() > 1) p.stretches.push_back(std::move(stretch));
    k = end;
  }
}

std::string named(const CartoonGiornata& g) {
  return g.name.empty() ? "giornata " + label_of(g) : fmt::format("giornata {} ({})", label_of(g), g.name);
}

}  // namespace

Result<std::vector<Pattern>> make_patterns(const CartoonWall& wall, const CartoonGiornata& giornata,
                                           Progress* progress) {
  const auto parts = patch_parts(*wall.wall, giornata.rings);
  const OtherSides sides(wall, giornata);
  std::vector<Pattern> out;
  for (const auto& rings : parts) {
    Pattern p;
    p.wall = &wall, p.giornata = &giornata;
    p.part = static_cast<int>(out.size()) + 1, p.parts = static_cast<int>(parts.size());
    PatchOptions division;
    division.limit = 15000;  // beyond some 10 m² inside points are set wider; rims keep their spacing
    auto patch = make_patch(*wall.wall, rings, division, progress);
    if (!patch) return Problem{patch.problem().what, named(giornata), patch.problem().remedy};
    p.patch = std::move(*patch);
    auto flat = flatten(p.patch, {}, progress);
    if (!flat) return Problem{flat.problem().what, named(giornata), flat.problem().remedy};
    if (flat->folded)
      return Problem{"laid flat it would overlap itself", named(giornata), "Divide it into smaller giornate."};
    p.flat = std::move(*flat);
    for (const auto& rim : p.patch.rims) {
      p.outline.emplace_back();
      for (const std::uint32_t v : rim) p.outline.back().push_back(mm(p.flat.flat[v]));
    }
    for (std::size_t r = 0; r < p.patch.rims.size(); ++r) add_stretches(p, r, sides);
    out.push_back(std::move(p));
  }
  if (out.empty()) return Problem{"it has no outline", named(giornata), "Draw it again."};
  return out;
}

}  // namespace pontata
