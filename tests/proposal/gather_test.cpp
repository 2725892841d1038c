// Atoms gathered into groups: what must hold of every gathering, and the best one where every one can be tried.
#include "engine/proposal/gather.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <limits>
#include <map>
#include <random>
#include <set>

#include "engine/proposal/coarsen.h"
#include "engine/proposal/tangles.h"
#include "tests/fixtures/graph_peer.h"

using namespace pontata;

namespace {

// A field of atoms side by side, borders dear but for some lines of cheap ones.
AtomGraph field(int columns, int rows, std::uint32_t seed, int decks = 1) {
  AtomGraph graph;
  std::mt19937 chance(seed);
  const auto any = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(chance()) / static_cast<double>(std::mt19937::max());
  };
  for (int j = 0; j < rows; ++j)
    for (int i = 0; i < columns; ++i) {
      Atom atom;
      atom.hours = any(0.05, 0.15);
      atom.area_m2 = 0.01;
      atom.place = {0.1 * i, 0.1 * j};
      atom.deck_low = atom.deck_high = j * decks / rows;
      if (j * decks / rows != (j + 1) * decks / rows && j + 1 < rows) ++atom.deck_high;  // either deck reaches it
      graph.atoms.push_back(atom);
    }
  const auto at = [&](int i, int j) { return static_cast<std::uint32_t>(j * columns + i); };
  for (int j = 0; j < rows; ++j)
    for (int i = 0; i < columns; ++i) {
      if (i + 1 < columns) graph.borders.push_back({at(i, j), at(i + 1, j), 0.1, any(0, 1) < 0.2 ? 0.02 : 0.1});
      if (j + 1 < rows) graph.borders.push_back({at(i, j), at(i, j + 1), 0.1, any(0, 1) < 0.2 ? 0.02 : 0.1});
    }
  return graph;
}

// A field with plain patches drawn on it (the places nearest to each of some seeds): borders between patches cost
// little. Ten days of seven hours in all.
AtomGraph patched_field(int columns, int rows, int patches, std::uint32_t seed) {
  AtomGraph graph = field(columns, rows, seed);
  std::mt19937 chance(seed);
  const auto any = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(chance()) / static_cast<double>(std::mt19937::max());
  };
  std::vector<Vec2> seeds;
  for (int k = 0; k < patches; ++k) seeds.emplace_back(any(0, 0.1 * columns), any(0, 0.1 * rows));
  const auto patch = [&](std::uint32_t a) {
    return std::ranges::min_element(seeds, {}, [&](const Vec2& s) { return glm::distance(s, graph.atoms[a].place); });
  };
  for (AtomBorder& b : graph.borders) b.cost = patch(b.a) == patch(b.b) ? any(0.07, 0.13) : any(0.002, 0.012);
  double hours = 0;
  for (const Atom& atom : graph.atoms) hours += atom.hours;
  for (Atom& atom : graph.atoms) atom.hours *= 70 / hours;
  return graph;
}

double cost_of(const AtomGraph& graph, const std::vector<std::uint32_t>& group) {
  double sum = 0;
  for (const AtomBorder& b : graph.borders)
    if (group[b.a] != group[b.b]) sum += b.cost;
  return sum;
}

// Groups in more than one piece. Independent of the product: a plain flood.
int broken(const AtomGraph& graph, const std::vector<std::uint32_t>& group) {
  std::vector<std::vector<std::uint32_t>> beside(graph.atoms.size());
  for (const AtomBorder& b : graph.borders) beside[b.a].push_back(b.b), beside[b.b].push_back(b.a);
  std::vector<char> seen(graph.atoms.size(), 0);
  std::map<std::uint32_t, int> pieces;
  for (std::uint32_t a = 0; a < graph.atoms.size(); ++a) {
    if (seen[a]) continue;
    ++pieces[group[a]];
    std::vector<std::uint32_t> stack{a};
    seen[a] = 1;
    while (!stack.empty()) {
      const auto b = stack.back();
      stack.pop_back();
      for (const auto c : beside[b])
        if (!seen[c] && group[c] == group[a]) seen[c] = 1, stack.push_back(c);
    }
  }
  int n = 0;
  for (const auto& [g, count] : pieces) n += count > 1;
  return n;
}

std::vector<double> loads(const AtomGraph& graph, const Gathering& made) {
  std::vector<double> load(made.deck.size(), 0);
  for (std::size_t a = 0; a < graph.atoms.size(); ++a) load[made.group[a]] += graph.atoms[a].hours;
  return load;
}

}  // namespace

TEST_CASE("groups are in one piece, within their hours, and of one deck") {
  for (const std::uint32_t seed : {1u, 2u, 3u}) {
    const AtomGraph graph = field(24, 20, seed, 2);
    GatherOptions options;
    options.hours = 5;
    options.seed = seed;
    const Gathering made = gather(graph, options);
    CHECK(broken(graph, made.group) == 0);
    for (const double load : loads(graph, made)) CHECK(load <= options.hours);
    for (std::size_t a = 0; a < graph.atoms.size(); ++a) {
      CHECK(made.deck[made.group[a]] >= graph.atoms[a].deck_low);
      CHECK(made.deck[made.group[a]] <= graph.atoms[a].deck_high);
    }
    CHECK(made.cost == Approx(cost_of(graph, made.group)));
    double hours = 0;
    for (const Atom& atom : graph.atoms) hours += atom.hours;
    CHECK(static_cast<double>(made.deck.size()) <= 1.15 * std::ceil(hours / options.hours) + 1);
    // The same again.
    CHECK(gather(graph, options).group == made.group);
  }
}

TEST_CASE("an atom that alone needs more than the hours is a group of its own") {
  AtomGraph graph = field(8, 8, 4);
  graph.atoms[27].hours = 9;
  GatherOptions options;
  options.hours = 3;
  const Gathering made = gather(graph, options);
  CHECK(broken(graph, made.group) == 0);
  for (std::size_t a = 0; a < graph.atoms.size(); ++a)
    if (a != 27) CHECK(made.group[a] != made.group[27]);
  const auto load = loads(graph, made);
  for (std::size_t g = 0; g < load.size(); ++g)
    if (g != made.group[27]) CHECK(load[g] <= 3);
}

TEST_CASE("on small fields no grouping at all costs less") {
  // Every way to part 12 atoms into connected groups within the hours, as few as possible, by trying them all.
  for (const std::uint32_t seed : {5u, 6u, 7u, 8u}) {
    const AtomGraph graph = field(4, 3, seed);
    double hours = 0;
    for (const Atom& atom : graph.atoms) hours += atom.hours;
    GatherOptions options;
    options.hours = 0.55 * hours;
    const Gathering made = gather(graph, options);
    double best = std::numeric_limits<double>::infinity();
    for (std::uint32_t mask = 1; mask < (1u << 12) - 1; ++mask) {
      std::vector<std::uint32_t> group(12);
      std::array<double, 2> load{0, 0};
      for (std::uint32_t a = 0; a < 12; ++a) group[a] = (mask >> a) & 1u, load[group[a]] += graph.atoms[a].hours;
      if (load[0] > options.hours || load[1] > options.hours || broken(graph, group)) continue;
      best = std::min(best, cost_of(graph, group));
    }
    REQUIRE(std::isfinite(best));
    if (made.deck.size() == 2) CHECK(made.cost <= best + 1e-9);
    CHECK(made.deck.size() <= 3);
  }
}

TEST_CASE("seams cost less than those of a general graph partitioner on the same atoms") {
  // METIS, with as many groups, asked to be connected and within the same hours.
  for (const int patches : {20, 35, 80, 192})
    for (const std::uint32_t seed : {1u, 2u}) {
      const AtomGraph graph = patched_field(50, 40, patches, seed);
      GatherOptions options;
      options.hours = 7;
      const Gathering made = gather(graph, options);
      const auto peer = fixtures::graph_peer(graph, made.deck.size(), options.hours);
      CAPTURE(patches, seed, made.deck.size(), peer.over, peer.broken);
      CHECK(peer.cost > 0);
      CHECK(made.cost < peer.cost);
    }
}

TEST_CASE("a gathering to begin with is improved, never broken") {
  const AtomGraph graph = field(20, 10, 9);
  GatherOptions options;
  options.hours = 6;
  options.start.resize(graph.atoms.size());
  for (std::size_t a = 0; a < graph.atoms.size(); ++a)
    options.start[a] = static_cast<std::uint32_t>(a % 20 / 5);  // upright strips, 5 columns each
  const double before = cost_of(graph, options.start);
  const Gathering made = gather(graph, options);
  CHECK(broken(graph, made.group) == 0);
  CHECK(made.cost < before);
  for (const double load : loads(graph, made)) CHECK(load <= options.hours);
}

TEST_CASE("things on circles are counted") {
  const std::vector<MustPrecede> chain{{0, 1}, {1, 2}, {0, 2}};
  CHECK(on_circles(3, chain) == 0);
  const std::vector<MustPrecede> circle{{0, 1}, {1, 2}, {2, 0}, {2, 3}, {4, 3}};
  CHECK(on_circles(5, circle) == 3);
  const std::vector<MustPrecede> two{{0, 1}, {1, 0}, {2, 3}, {3, 2}, {1, 2}};
  CHECK(on_circles(4, two) == 4);
}

TEST_CASE("groups that lie above each other by turns are tangled") {
  // Four atoms in a square, 0 1 above 2 3; groups {0, 3} and {1, 2} lie above each other by turns, {0, 1} and {2, 3}
  // do not.
  AtomGraph graph;
  graph.atoms.resize(4);
  graph.borders = {{0, 1, 0.1, 0.1}, {0, 2, 0.1, 0.1, 0.1, 0}, {1, 3, 0.1, 0.1, 0.1, 0}, {2, 3, 0.1, 0.1}};
  CHECK(tangled(graph, {{0, 1, 1, 0}, {0, 0}, 0}) == 2);
  CHECK(tangled(graph, {{0, 0, 1, 1}, {0, 0}, 0}) == 0);
  // The lower pair belongs to a higher deck: it would be first.
  CHECK(tangled(graph, {{0, 0, 1, 1}, {0, 1}, 0}) == 2);
}

TEST_CASE("ragged rims of atoms along an upright seam make no circle, an edge that overhangs does") {
  // Two columns of two atoms: rims of 0.1 m that run up, their cells stepping 20 mm to and fro.
  AtomGraph graph;
  graph.atoms.resize(4);
  graph.borders = {{0, 1, 0.14, 0.1, 0.02, 0.02}, {0, 2, 0.1, 0.1}, {1, 3, 0.1, 0.1}, {2, 3, 0.14, 0.1, 0.02, 0.02}};
  const Gathering columns{{0, 1, 0, 1}, {0, 0}, 0};
  CHECK(tangled(graph, columns) == 0);
  // One rim slopes plainly to the right, the other to the left: each lies over the other.
  graph.borders[0] = {0, 1, 0.11, 0.1, 0.1, 0};
  graph.borders[3] = {2, 3, 0.11, 0.1, 0, 0.1};
  CHECK(tangled(graph, columns) == 2);
  // Both to the right: one way only.
  graph.borders[3] = {2, 3, 0.11, 0.1, 0.1, 0};
  CHECK(tangled(graph, columns) == 0);
}

TEST_CASE("atoms joined in pairs keep hours, borders and costs") {
  const AtomGraph graph = field(15, 15, 10, 3);
  const Coarsened made = coarsen(graph, 1.0, 1);
  CHECK(made.graph.atoms.size() < 0.65 * static_cast<double>(graph.atoms.size()));
  CHECK(broken(graph, made.of) == 0);
  double hours = 0, coarse_hours = 0, coarse_cost = 0;
  for (const Atom& atom : graph.atoms) hours += atom.hours;
  for (const Atom& atom : made.graph.atoms) {
    coarse_hours += atom.hours;
    CHECK(atom.hours <= 1.0);
    CHECK(atom.deck_low <= atom.deck_high);
  }
  for (const AtomBorder& b : made.graph.borders) coarse_cost += b.cost;
  CHECK(coarse_hours == Approx(hours));
  CHECK(coarse_cost == Approx(cost_of(graph, made.of)));
}
