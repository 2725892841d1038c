// Random moves of seams: the network stays sound, the wall's area exact, and what meets what as it was.
#include <algorithm>
#include <catch2/catch.hpp>
#include <map>

#include "engine/seams/network_codec.h"
#include "engine/seams/seam_moves.h"
#include "tests/fixtures/walls.h"
#include "tests/seams/network_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

using Rng = std::mt19937_64;

double uniform(Rng& rng, double lo, double hi) { return std::uniform_real_distribution<double>(lo, hi)(rng); }

// The giornate about each junction, counter-clockwise from the least, and how many junctions have them; the outside
// counts as id -1.
std::map<std::vector<std::int64_t>, int> junctions(const Network& n) {
  std::map<std::vector<std::int64_t>, int> found;
  for (std::uint32_t i = 0; i < n.vertex_slots(); ++i) {
    if (!n.alive(VertexId{i})) continue;
    std::vector<std::int64_t> about;
    HalfEdgeId h = n.vertex({i}).out;
    do {
      const FaceId f = n.half_edge(h).face;
      about.push_back(f == Network::kOutside ? -1 : static_cast<std::int64_t>(n.face(f).owner.value));
      h = n.turn(h);
    } while (h != n.vertex({i}).out);
    if (about.size() < 3) continue;
    std::vector<std::int64_t> least = about;
    for (std::size_t k = 0; k < about.size(); ++k) {
      std::rotate(about.begin(), about.begin() + 1, about.end());
      least = std::min(least, about);
    }
    ++found[least];
  }
  return found;
}

std::vector<GiornataId> owners(const Network& n) {
  std::vector<GiornataId> found;
  for (const FaceId f : n.faces()) found.push_back(n.face(f).owner);
  std::sort(found.begin(), found.end());
  return found;
}

// A place on a seam, or any.
ChartPoint place(Rng& rng, const ChartedWall& wall, const Network& n) {
  const auto box = wall.chart->box();
  if (uniform(rng, 0, 1) < 0.05) return {uniform(rng, 0, box.width), uniform(rng, 0, box.height)};
  for (;;) {
    const auto s = static_cast<std::uint32_t>(uniform(rng, 0, static_cast<double>(n.half_edge_slots() / 2) - 1e-9));
    if (!n.alive(SeamId{s}) || (n.on_border({s}) && uniform(rng, 0, 1) < 0.9)) continue;
    const ChartPoint a = to_chart(n.origin({s << 1})), b = to_chart(n.target({s << 1}));
    const double t = uniform(rng, 0, 1);
    return {a.u + t * (b.u - a.u), a.v + t * (b.v - a.v)};
  }
}

double perimeter(const Network& n, GiornataId id) {
  double sum = 0;
  for (const FaceId f : n.faces_of(id)) sum += n.sums(f).perimeter_m;
  return sum;
}

struct Tally {
  int made = 0, refused = 0;
  std::map<std::string, int> reasons;
};

Result<MovedSeams> move(Rng& rng, const ChartedWall& wall, const Network& n, double size, const SeamHold& hold) {
  const ChartPoint at = place(rng, wall, n);
  const Vec2 by(size * uniform(rng, -1, 1), size * uniform(rng, -1, 1));
  const double kind = uniform(rng, 0, 1);
  if (kind < 0.4) return nudge_seam(wall, n, at, by, size * std::exp(uniform(rng, -2, 2.5)), hold);
  if (kind < 0.55) return add_node(wall, n, at, hold);
  if (kind < 0.7) {
    const auto v = node_near(wall, n, at, 1);
    const ChartPoint p = v ? to_chart(n.vertex(*v).place) : at;
    return move_node(wall, n, p, {p.u + by.x, p.v + by.y}, hold);
  }
  if (kind < 0.8) {
    const auto v = node_near(wall, n, at, 1);
    return remove_node(wall, n, v ? to_chart(n.vertex(*v).place) : at, hold);
  }
  // A line from the place along nearby seams' neighbourhood to another.
  std::vector<ChartPoint> line{at};
  ChartPoint end = at;
  for (int tries = 0; tries < 200; ++tries) {
    end = place(rng, wall, n);
    if (std::hypot(end.u - at.u, end.v - at.v) < 6 * size) break;
  }
  const int inner = static_cast<int>(uniform(rng, 0, 4));
  for (int i = 1; i <= inner; ++i) {
    const double t = static_cast<double>(i) / (inner + 1);
    line.push_back({at.u + t * (end.u - at.u) + 0.5 * size * uniform(rng, -1, 1),
                    at.v + t * (end.v - at.v) + 0.5 * size * uniform(rng, -1, 1)});
  }
  line.push_back(end);
  return redraw_seam(wall, n, line, hold);
}

void storm(const ChartedWall& wall, const Network& start, std::uint64_t seed, int steps, double size, Tally& tally,
           std::uint32_t held = 0) {
  Rng rng(seed);
  Network n = start;
  const SeamHold hold = [&](GiornataId id) { return id.value <= held ? "it is painted" : ""; };
  for (int step = 0; step < steps; ++step) {
    INFO("seed " << seed << " step " << step);
    const std::string before = step % 20 == 0 ? NetworkCodec::to_json(n).dump() : "";
    const auto moved = move(rng, wall, n, size, hold);
    if (step % 20 == 0) REQUIRE(NetworkCodec::to_json(n).dump() == before);
    if (!moved) {
      ++tally.refused;
      ++tally.reasons[moved.problem().what.substr(0, 44)];
      REQUIRE_FALSE(moved.problem().what.empty());
      continue;
    }
    ++tally.made;
    const auto faults = moved->network.check();
    for (const auto& f : faults) UNSCOPED_INFO(f.message());
    REQUIRE(faults.empty());
    REQUIRE(moved->network.wall_area() == start.wall_area());
    REQUIRE(area_of_all(moved->network) == start.wall_area());
    REQUIRE(owners(moved->network) == owners(start));
    REQUIRE(junctions(moved->network) == junctions(start));
    for (std::uint32_t id = 1; id <= held; ++id) {
      REQUIRE(area_of(moved->network, {id}) == area_of(start, {id}));
      REQUIRE(perimeter(moved->network, {id}) == Approx(perimeter(start, {id})).margin(1e-7));
    }
    n = moved->network;
  }
}

Network grid(const ChartedWall& wall, double u, double v, double cell, int count, Rng& rng) {
  const EdgeMeter meter = wall.metric->meter();
  Network n = Network::from_border(wall.chart->border_rings(), meter).value();
  std::uint32_t id = 1;
  for (int i = 0; i < count; ++i)
    for (int j = 0; j < count; ++j) {
      if (uniform(rng, 0, 1) < 0.1) continue;
      const double a = u + i * cell, b = v + j * cell;
      std::vector<ChartPoint> outline;
      const double shift = 0.3 * cell * (i % 2);  // so that most junctions are of three
      for (const auto& [x, y] : std::vector<std::pair<double, double>>{{0, 0}, {1, 0}, {1, 1}, {0, 1}})
        outline.push_back({a + x * cell, b + shift + y * cell});
      const auto ring = bring_to_border(wall, outline, 10);
      if (const auto made = insert_outline(n, *ring, {id}, meter)) n = made->network, ++id;
    }
  // An island inside a giornata.
  if (const auto made = insert_outline(n, regular(u + 0.5 * cell, v + 0.5 * cell, 0.2 * cell, 7), {id}, meter))
    n = made->network;
  return n;
}

}  // namespace

TEST_CASE("a storm of moves on a flat wall with islands, junctions and border ends") {
  Tally tally;
  const auto wall = flat_wall(4, 3);
  Rng rng(5);
  Network n = grid(*wall, -0.2, -0.2, 0.7, 7, rng);
  const EdgeMeter meter = wall->metric->meter();
  Network islands = Network::from_border(wall->chart->border_rings(), meter).value();
  std::uint32_t id = 1;
  for (int i = 0; i < 7; ++i)
    for (int j = 0; j < 5; ++j)
      islands = insert_outline(islands, regular(0.4 + 0.5 * i, 0.4 + 0.5 * j, 0.2, 5 + i), {id++}, meter)->network;
  storm(*wall, n, 1, 400, 0.15, tally);
  storm(*wall, islands, 2, 200, 0.3, tally);
  for (const auto& [what, count] : tally.reasons) UNSCOPED_INFO(count << " " << what);
  CHECK(tally.made > 250);
  CHECK(tally.refused > 50);
}

TEST_CASE("a storm of moves of nanometres and of millimetres") {
  Tally tally;
  const auto wall = flat_wall(4, 3);
  Rng rng(8);
  const Network n = grid(*wall, 0.3, 0.3, 0.4, 6, rng);
  storm(*wall, n, 5, 100, 2e-8, tally);
  storm(*wall, n, 6, 100, 2e-3, tally);
  CHECK(tally.made > 100);
}

TEST_CASE("held giornate keep their rims in a storm of moves about them") {
  Tally tally;
  const auto wall = flat_wall(4, 3);
  Rng rng(9);
  storm(*wall, grid(*wall, 0.3, 0.3, 0.5, 6, rng), 10, 300, 0.1, tally, 9);
  CHECK(tally.made > 80);
  CHECK(tally.refused > 50);
}

TEST_CASE("a storm of moves on a dome") {
  Tally tally;
  const auto wall = dome_wall(4, 2, 5e-3);
  Rng rng(6);
  const double side = wall->chart->box().width;
  storm(*wall, grid(*wall, 0.2 * side, 0.2 * side, 0.13 * side, 6, rng), 3, 200, 0.15, tally);
  for (const auto& [what, count] : tally.reasons) UNSCOPED_INFO(count << " " << what);
  CHECK(tally.made > 80);
}

TEST_CASE("a storm of moves on a drum cut open, seams on both sides of the cut") {
  Tally tally;
  const auto wall = built({.kind = ShapeKind::drum, .height = 3, .span = 2, .angle_deg = 360}, 5e-3);
  Rng rng(7);
  storm(*wall, grid(*wall, -0.3, -0.2, 0.6, 12, rng), 4, 200, 0.15, tally);
  for (const auto& [what, count] : tally.reasons) UNSCOPED_INFO(count << " " << what);
  CHECK(tally.made > 80);
}

// Hidden: minutes long.
TEST_CASE("many storms of moves", "[.long]") {
  const auto flat = flat_wall(4, 3), dome = dome_wall(4, 2, 5e-3);
  const auto drum = built({.kind = ShapeKind::drum, .height = 3, .span = 2, .angle_deg = 360}, 5e-3);
  const auto cone = built({.kind = ShapeKind::cone, .height = 2, .span = 3, .top_span = 1, .angle_deg = 360}, 5e-3);
  const double side = dome->chart->box().width;
  for (std::uint64_t seed = 100; seed < 140; ++seed) {
    Tally tally;
    Rng rng(seed);
    const double cell = uniform(rng, 0.2, 0.8), size = 0.3 * std::exp(uniform(rng, -3, 0.5));
    const auto held = static_cast<std::uint32_t>(uniform(rng, 0, 6));
    storm(*flat, grid(*flat, -0.2, -0.2, cell, 6, rng), seed, 200, size, tally, held);
    storm(*dome, grid(*dome, 0.2 * side, 0.2 * side, 0.13 * side, 6, rng), seed, 100, size, tally, held);
    storm(*drum, grid(*drum, -0.3, -0.2, cell, 12, rng), seed, 150, size, tally, held);
    storm(*cone, grid(*cone, 0, 0, cell, 12, rng), seed, 150, size, tally, held);
    CHECK(tally.made > 100);
    for (const auto& [what, count] : tally.reasons) WARN(count << " " << what);
  }
}
