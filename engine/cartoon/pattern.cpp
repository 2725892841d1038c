#include "engine/cartoon/pattern.h"

#include <fmt/format.h>

#include <algorithm>
#include <unordered_map>

#include "engine/base/predicates.h"
#include "engine/cartoon/seam_index.h"

namespace pontata {
namespace {

struct OtherSide {
  Beyond beyond = Beyond::rest;
  GiornataId neighbour;
  bool operator==(const OtherSide&) const = default;
};
using OtherSides = std::unordered_map<ChartStep, OtherSide, ChartStepHash>;

Beyond beyond_neighbour(const CartoonGiornata& g, GiornataId neighbour) {
  const auto among = [&](const std::vector<GiornataId>& ids) {
    return std::find(ids.begin(), ids.end(), neighbour) != ids.end();
  };
  if (among(g.meets_finished)) return Beyond::finished;
  return among(g.stays_open) ? Beyond::open : Beyond::neighbour;
}

// What lies beyond every directed seam of the giornata.
OtherSides other_sides(const CartoonWall& wall, const CartoonGiornata& g) {
  OtherSides out;
  if (!wall.network) return out;
  const Network& net = *wall.network;
  for (const FaceId f : net.faces_of(g.id))
    for (const auto& cycle : net.cycles(f))
      for (const HalfEdgeId h : cycle) {
        const FaceId across = net.half_edge(Network::twin(h)).face;
        OtherSide side;
        if (across == Network::kOutside) {
          side.beyond = Beyond::border;
        } else if (const GiornataId owner = net.face(across).owner) {
          side = {beyond_neighbour(g, owner), owner};
        }
        out[{net.origin(h), net.target(h)}] = side;
      }
  return out;
}

int number_of(const CartoonWall& wall, GiornataId id) {
  for (const CartoonGiornata& g : wall.giornate)
    if (g.id == id) return g.number;
  return 0;
}

Vec2 mm(Vec2 metres) { return 1000.0 * metres; }

// Stretches of one rim: between ring points the other side is looked up, then equal ones are joined.
void add_stretches(Pattern& p, std::size_t rim, const Ring& ring, const OtherSides& sides) {
  const auto& points = p.patch.rims[rim];
  const auto& corners = p.patch.corners[rim];
  const std::size_t n = ring.size();
  std::vector<OtherSide> side(n);
  for (std::size_t i = 0; i < n; ++i)
    if (const auto it = sides.find({ring[i], ring[(i + 1) % n]}); it != sides.end()) side[i] = it->second;
  std::size_t first = 0;
  while (first < n && side[(first + n - 1) % n] == side[first]) ++first;
  first %= n;
  for (std::size_t k = 0; k < n;) {
    RimStretch stretch;
    const OtherSide here = side[(first + k) % n];
    stretch.beyond = here.beyond, stretch.neighbour = here.neighbour;
    if (here.neighbour) stretch.number = number_of(*p.wall, here.neighbour);
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
  return g.name.empty() ? fmt::format("giornata {}", g.number) : fmt::format("giornata {} ({})", g.number, g.name);
}

}  // namespace

std::vector<std::vector<Ring>> split_parts(const std::vector<Ring>& rings) {
  std::vector<std::vector<Ring>> parts;
  for (const Ring& ring : rings)
    if (twice_area(ring) > 0) parts.push_back({ring});
  for (const Ring& hole : rings) {
    if (twice_area(hole) > 0) continue;
    std::vector<Ring>* home = nullptr;
    for (auto& part : parts) {
      const bool holds =
          std::all_of(hole.begin(), hole.end(), [&](LatticePoint p) { return point_in_ring(part[0], p) >= 0; });
      if (holds && (!home || twice_area(part[0]) < twice_area((*home)[0]))) home = &part;
    }
    if (home) home->push_back(hole);
  }
  return parts;
}

Result<std::vector<Pattern>> make_patterns(const CartoonWall& wall, const CartoonGiornata& giornata,
                                           Progress* progress) {
  const auto parts = split_parts(giornata.rings);
  const OtherSides sides = other_sides(wall, giornata);
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
    for (std::size_t r = 0; r < rings.size(); ++r) add_stretches(p, r, rings[r], sides);
    out.push_back(std::move(p));
  }
  if (out.empty()) return Problem{"it has no outline", named(giornata), "Draw it again."};
  return out;
}

}  // namespace pontata
