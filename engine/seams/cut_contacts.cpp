#include "engine/seams/cut_contacts.h"

#include <algorithm>
#include <unordered_map>

#include "engine/chart/cut_runs.h"

namespace pontata {

namespace {

// A half-edge's part of one border edge of the chart, as fractions along that edge.
struct Lying {
  HalfEdgeId half_edge;
  double from = 0, to = 1;
};

// Half-edges of the wall's faces along each border edge, in its direction.
std::vector<std::vector<Lying>> along_border(const Network& network, const Chart& chart) {
  const auto count = static_cast<std::uint32_t>(chart.border_edges().size());
  std::unordered_map<LatticePoint, std::uint32_t> edge_from;
  for (std::uint32_t e = 0; e < count; ++e) edge_from.emplace(chart.border_start(e), e);
  std::vector<std::vector<Lying>> lying(count);
  for (const HalfEdgeId start : network.face(Network::kOutside).inner) {
    std::vector<HalfEdgeId> inner;
    for (const HalfEdgeId h : network.cycle(start)) inner.push_back(Network::twin(h));
    std::reverse(inner.begin(), inner.end());
    const auto first =
        std::find_if(inner.begin(), inner.end(), [&](HalfEdgeId h) { return edge_from.contains(network.origin(h)); });
    std::rotate(inner.begin(), first, inner.end());
    std::uint32_t edge = Chart::kNoTriangle;
    for (const HalfEdgeId h : inner) {
      const LatticePoint a = network.origin(h), b = network.target(h);
      const auto begins = edge_from.find(a);
      if (begins != edge_from.end()) edge = begins->second;
      if (edge == Chart::kNoTriangle || chart.across_cut(edge) == Chart::kNoTriangle) continue;
      const double from = begins != edge_from.end() ? 0 : share_along(chart, edge, a);
      const double to = edge_from.contains(b) ? 1 : share_along(chart, edge, b);
      if (to > from) lying[edge].push_back({h, from, to});
    }
  }
  return lying;
}

double part(double x, double from, double to) { return std::clamp((x - from) / (to - from), 0.0, 1.0); }

CutContact contact_of(const Network& network, const Lying& a, const Lying& b, double from, double to) {
  CutContact c;
  c.here = a.half_edge, c.there = b.half_edge;
  c.from_here = part(from, a.from, a.to), c.to_here = part(to, a.from, a.to);
  c.from_there = part(1 - to, b.from, b.to), c.to_there = part(1 - from, b.from, b.to);
  const double here = network.seam(Network::seam_of(c.here)).length_m * (c.to_here - c.from_here);
  const double there = network.seam(Network::seam_of(c.there)).length_m * (c.to_there - c.from_there);
  c.length_m = 0.5 * (here + there);
  return c;
}

}  // namespace

std::vector<CutContact> cut_contacts(const Network& network, const Chart& chart) {
  std::vector<CutContact> found;
  if (!chart.has_cuts() || network.face_slots() == 0) return found;
  const auto lying = along_border(network, chart);
  for (std::uint32_t e = 0; e < lying.size(); ++e) {
    const auto other = chart.across_cut(e);
    if (other == Chart::kNoTriangle || other < e) continue;
    const auto& near = lying[e];
    const auto& far = lying[other];
    std::size_t j = far.size();  // far ones from their last: the same way as near ones
    for (std::size_t i = 0; i < near.size() && j > 0;) {
      const double begin = std::max(near[i].from, 1 - far[j - 1].to), end = std::min(near[i].to, 1 - far[j - 1].from);
      if (end > begin)
        if (const CutContact c = contact_of(network, near[i], far[j - 1], begin, end); c.length_m > kLeastContact)
          found.push_back(c);
      if (near[i].to <= 1 - far[j - 1].from)
        ++i;
      else
        --j;
    }
  }
  return found;
}

CutContact turned(const CutContact& c) {
  return {c.there, c.here, c.from_there, c.to_there, c.from_here, c.to_here, c.length_m};
}

std::multimap<HalfEdgeId, CutContact> contacts_by_half_edge(std::span<const CutContact> contacts) {
  std::multimap<HalfEdgeId, CutContact> by;
  for (const CutContact& c : contacts) {
    by.emplace(c.here, c);
    by.emplace(c.there, turned(c));
  }
  return by;
}

std::vector<std::vector<FaceId>> joined_across(const Network& network, std::span<const FaceId> faces,
                                               std::span<const CutContact> contacts) {
  std::map<FaceId, FaceId> leader;
  for (const FaceId f : faces) leader[f] = f;
  const auto root = [&](FaceId f) {
    while (leader.at(f) != f) f = leader.at(f);
    return f;
  };
  const auto unite = [&](FaceId a, FaceId b) {
    if (!leader.contains(a) || !leader.contains(b)) return;
    const FaceId x = root(a), y = root(b);
    leader[std::max(x, y)] = std::min(x, y);
  };
  for (const CutContact& c : contacts) unite(network.half_edge(c.here).face, network.half_edge(c.there).face);
  std::map<FaceId, std::vector<FaceId>> groups;
  for (const auto& [f, l] : leader) groups[root(f)].push_back(f);
  std::vector<std::vector<FaceId>> found;
  for (auto& [l, group] : groups) found.push_back(std::move(group));
  return found;
}

}  // namespace pontata
