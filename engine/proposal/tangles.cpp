#include "engine/proposal/tangles.h"

#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/strong_components.hpp>
#include <map>

namespace pontata {

namespace {

constexpr double kStrict = 0.7;  // of kRunsOnto

}  // namespace

std::size_t on_circles(std::size_t count, std::span<const MustPrecede> pairs) {
  boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS> graph(count);
  for (const MustPrecede& p : pairs) boost::add_edge(p.before, p.after, graph);
  std::vector<std::size_t> component(count);
  const std::size_t components = boost::strong_components(
      graph, boost::make_iterator_property_map(component.begin(), boost::get(boost::vertex_index, graph)));
  std::vector<std::size_t> size(components, 0);
  for (const std::size_t c : component) ++size[c];
  std::size_t tangled = 0;
  for (const std::size_t n : size)
    if (n > 1) tangled += n;
  return tangled;
}

std::size_t tangled(const AtomGraph& graph, const Gathering& gathering) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, double> runs;  // from group to group, m
  for (const AtomBorder& b : graph.borders) {
    const std::uint32_t one = gathering.group[b.a], other = gathering.group[b.b];
    if (one == other) continue;
    if (b.falls_m > 0) runs[{one, other}] += b.falls_m;
    if (b.rises_m > 0) runs[{other, one}] += b.rises_m;
  }
  std::vector<MustPrecede> pairs;
  for (const auto& [pair, metres] : runs) {
    if (metres <= kStrict * kRunsOnto) continue;
    const auto& [upper, lower] = pair;
    pairs.push_back({upper, lower});
    // The deck of the lower is worked first: both can't be.
    if (gathering.deck[upper] < gathering.deck[lower]) pairs.push_back({lower, upper});
  }
  return on_circles(gathering.deck.size(), pairs);
}

}  // namespace pontata
