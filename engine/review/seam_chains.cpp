#include "engine/review/seam_chains.h"

#include <algorithm>
#include <cmath>

namespace pontata {

namespace {

bool at_border(const Network& n, HalfEdgeId h) { return n.half_edge(Network::twin(h)).face == Network::kOutside; }

bool same_chain(const Case& c, HalfEdgeId a, HalfEdgeId b) {
  return at_border(c.network(), a) == at_border(c.network(), b) && c.owner_across(a) == c.owner_across(b);
}

}  // namespace

std::vector<SeamChain> seam_chains(const Case& c) {
  const Network& n = c.network();
  std::vector<SeamChain> list;
  for (const FaceId face : n.faces()) {
    const GiornataId owner = n.face(face).owner;
    if (!owner) continue;
    for (std::vector<HalfEdgeId> cycle : n.cycles(face)) {
      std::size_t first = 0;  // start where a chain starts
      while (first < cycle.size() && same_chain(c, cycle[first], cycle[(first + cycle.size() - 1) % cycle.size()]))
        ++first;
      if (first < cycle.size())
        std::rotate(cycle.begin(), cycle.begin() + static_cast<std::ptrdiff_t>(first), cycle.end());
      for (std::size_t i = 0; i < cycle.size(); ++i) {
        const GiornataId other = c.owner_across(cycle[i]);
        if (at_border(n, cycle[i]) || (other && other <= owner)) continue;
        if (i == 0 || !same_chain(c, cycle[i - 1], cycle[i])) list.push_back({owner, other, {}});
        list.back().seams.push_back(cycle[i]);
      }
    }
  }
  return list;
}

std::vector<ChainPiece> pieces_of_chain(const Network& network, const SeamChain& chain, double step_m) {
  std::vector<ChainPiece> pieces;
  for (const HalfEdgeId h : chain.seams) {
    const double length = network.seam(Network::seam_of(h)).length_m;
    const int parts = std::max(1, static_cast<int>(std::ceil(length / step_m)));
    const Vec2 a = to_vec(to_chart(network.origin(h))), step = to_vec(to_chart(network.target(h))) - a;
    for (int k = 0; k < parts; ++k)
      pieces.push_back({a + step * (static_cast<double>(k) / parts), a + step * (static_cast<double>(k + 1) / parts),
                        length / parts});
  }
  return pieces;
}

}  // namespace pontata
