#include "engine/proposal/tangles.h"

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/strong_components.hpp>
#include <cmath>
#include <map>

namespace pontata {

namespace {

constexpr double kStrict = 0.7;    // of kRunsOnto
constexpr double kSloping = 0.75;  // of its length, that water runs over a border that plainly slopes

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
  // From group to group, m: what borders that plainly slope make, and what is left of all when rises are set against
  // falls. Ragged rims of atoms along an upright seam make neither.
  struct Runs {
    double plain = 0, net = 0;
  };
  std::map<std::pair<std::uint32_t, std::uint32_t>, Runs> runs;
  for (const AtomBorder& b : graph.borders) {
    const std::uint32_t one = gathering.group[b.a], other = gathering.group[b.b];
    const double net = b.falls_m - b.rises_m;
    if (one == other || net == 0) continue;
    Runs &with = runs[{one, other}], &against = runs[{other, one}];
    with.net += net, against.net -= net;
    if (std::abs(net) > kSloping * b.length_m) (net > 0 ? with : against).plain += std::abs(net);
  }
  std::vector<MustPrecede> pairs;
  for (const auto& [pair, made] : runs) {
    if (std::max(made.plain, made.net) <= kStrict * kRunsOnto) continue;
    const auto& [upper, lower] = pair;
    pairs.push_back({upper, lower});
    // The deck of the lower is worked first: both can't be.
    if (gathering.deck[upper] < gathering.deck[lower]) pairs.push_back({lower, upper});
  }
  return on_circles(gathering.deck.size(), pairs);
}

}  // namespace pontata
