#include "engine/giornate/face_locator.h"

#include "engine/base/predicates.h"

namespace pontata {

namespace {

// Seams as upward edges; level ones are never crossed by a level ray and are left out.
void add_upward(const Network& network, SeamId s, std::vector<ChartEdge>& edges) {
  const HalfEdgeId h{s.value << 1};
  if (!network.alive(h)) return;
  const LatticePoint a = network.origin(h), b = network.target(h);
  if (a.y < b.y) edges.push_back({a, b, network.half_edge(Network::twin(h)).face.value});
  if (a.y > b.y) edges.push_back({b, a, network.half_edge(h).face.value});
}

std::vector<ChartEdge> upward_edges(const Network& network, std::span<const SeamId> seams) {
  std::vector<ChartEdge> edges;
  for (const SeamId s : seams) add_upward(network, s, edges);
  return edges;
}

std::vector<ChartEdge> upward_edges(const Network& network) {
  std::vector<ChartEdge> edges;
  for (std::uint32_t s = 0; 2 * s < network.half_edge_slots(); ++s) add_upward(network, {s}, edges);
  return edges;
}

// Where an upward edge passes just above p's height, from p.x: numerator over its height. Below 2^83.
Int128 passes(const ChartEdge& e, LatticePoint p) {
  return static_cast<Int128>(e.to.x - e.from.x) * (p.y - e.from.y) +
         static_cast<Int128>(e.from.x - p.x) * (e.to.y - e.from.y);
}

// a passes right of b just above p's height; where they meet there, a leans more to the right. Exact: below 2^125.
bool further_right(const ChartEdge& a, const ChartEdge& b, LatticePoint p) {
  const Int128 ah = a.to.y - a.from.y, bh = b.to.y - b.from.y;
  const Int128 at = passes(a, p) * bh, bt = passes(b, p) * ah;
  if (at != bt) return at > bt;
  return static_cast<Int128>(a.to.x - a.from.x) * bh > static_cast<Int128>(b.to.x - b.from.x) * ah;
}

}  // namespace

FaceLocator::FaceLocator(const Network& network) : rows_(upward_edges(network)) {}

FaceLocator::FaceLocator(const Network& network, std::span<const SeamId> seams) : rows_(upward_edges(network, seams)) {}

FaceId FaceLocator::face_at(LatticePoint p) const {
  const ChartEdge* nearest = nullptr;
  rows_.visit(p.y, p.y, [&](const ChartEdge& e) {
    if (p.y < e.from.y || p.y >= e.to.y || std::min(e.from.x, e.to.x) > p.x) return;
    if (nearest && std::max(e.from.x, e.to.x) < std::min(nearest->from.x, nearest->to.x)) return;
    if (passes(e, p) > 0) return;
    if (!nearest || further_right(e, *nearest, p)) nearest = &e;
  });
  return nearest ? FaceId{nearest->tag} : Network::kOutside;
}

}  // namespace pontata
