// The line that a click draws costs what a plain search over every cell says is the least. Dijkstra, "A note on two
// problems in connexion with graphs", 1959, with a heap, in double precision, over the whole grid: no tiles, no
// buckets, no levels. Only what a step costs is read from the same cells.
#include <catch2/catch.hpp>
#include <limits>
#include <queue>

#include "engine/seams/hug_cost.h"
#include "tests/seams/hug_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

struct PlainSearch {
  HugCost& cost;
  std::vector<double> least;
  std::size_t number(HugCell c) const {
    return static_cast<std::size_t>(c.j) * static_cast<std::size_t>(cost.columns()) + static_cast<std::size_t>(c.i);
  }

  // Surface metres from p to the stroke from a to b, by the form of the tile that p lies in.
  static double off_stroke(const Metric::FirstForm& g, Vec2 a, Vec2 b, Vec2 p) {
    const auto inner = [&](Vec2 x, Vec2 y) {
      return g.E * x.x * y.x + g.F * (x.x * y.y + x.y * y.x) + g.G * x.y * y.y;
    };
    const Vec2 d = b - a;
    const double t = std::clamp(inner(p - a, d) / inner(d, d), 0.0, 1.0);
    const Vec2 off = p - a - t * d;
    return std::sqrt(inner(off, off));
  }

  double from(ChartPoint a, ChartPoint b, double reach) {
    least.assign(static_cast<std::size_t>(cost.columns()) * static_cast<std::size_t>(cost.rows()),
                 std::numeric_limits<double>::infinity());
    using Entry = std::pair<double, std::pair<int, int>>;
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open;
    const HugCell start = cost.cell_at(to_vec(a)), goal = cost.cell_at(to_vec(b));
    least[number(start)] = 0;
    open.push({0, {start.i, start.j}});
    while (!open.empty()) {
      const auto [sum, at] = open.top();
      open.pop();
      const HugCell c{at.first, at.second};
      if (sum > least[number(c)]) continue;
      const HugTile& own = cost.tile_of(c);
      for (std::size_t d = 0; d < 8; ++d) {
        const HugCell n{c.i + kHugSteps[d].i, c.j + kHugSteps[d].j};
        if (n.i < 0 || n.j < 0 || n.i >= cost.columns() || n.j >= cost.rows()) continue;
        const HugTile& other = cost.tile_of(n);
        const auto m = HugCost::index_in_tile(n);
        if (!other.on_wall[m] || off_stroke(other.form, to_vec(a), to_vec(b), cost.centre(n)) > reach) continue;
        const double factor = (own.factor[HugCost::index_in_tile(c)][d % 4] + other.factor[m][d % 4]) / 510.0;
        const double next = sum + static_cast<double>(own.length[d % 4]) * factor;
        if (next >= least[number(n)]) continue;
        least[number(n)] = next;
        open.push({next, {n.i, n.j}});
      }
    }
    return least[number(goal)];
  }
};

struct Place {
  const char* name;
  WallRef wall;
  Vec2 middle;
};

std::vector<Place> places() {
  const auto dome = dome_wall(2.4, 1.2);
  const double crown = dome->chart->box().width / 2;
  return {{"flat", flat_wall(1.2, 1), {0.6, 0.5}},
          {"barrel", barrel_wall(1.4, 1.5, 0.7), {0.75, 1.0}},
          {"dome at the crown", dome, {crown, crown}},
          {"dome near the rim", dome, {crown, 0.45}}};
}

}  // namespace

TEST_CASE("a click's line costs the least of a plain search over every cell") {
  for (const auto& place : places()) {
    const auto ground = busy_ground(place.wall, place.middle, 0.8, 3);
    HugOptions options;
    options.snap_m = options.seam_reach_m = 0;  // ends exactly where they are asked for
    HugCost cost(*place.wall, ground->contours.get(), options.strength);
    PlainSearch plain{cost, {}};
    std::mt19937 rng(17);
    std::uniform_real_distribution<double> spread(-0.38, 0.38);
    CAPTURE(place.name);
    int cheaper = 0;
    double share = 0;
    for (int k = 0; k < 25; ++k) {
      const auto random = [&] { return to_chart(place.middle + Vec2(spread(rng), spread(rng))); };
      const ChartPoint a = random(), b = random();
      options.reach_m = k % 3 == 0 ? 0.05 : 0.1;
      const double least = plain.from(a, b, options.reach_m);
      HugStroke stroke(ground, a, options);
      const double shown = stroke.preview(b).cost_m;
      const auto line = stroke.to(b);
      CHECK(line.cost_m == Approx(least).epsilon(1e-5));
      CHECK(hug(ground, std::vector<ChartPoint>{a, b}, false, options)->cost_m == Approx(least).epsilon(1e-5));
      CHECK(shown >= least * (1 - 1e-5));  // no way beats it
      cheaper += shown <= 1.05 * least;
      share += line.share() / 25;
    }
    CHECK(cheaper >= 23);  // and the one shown while the pointer moves is mostly about as good
    CHECK(share > 0.3);    // there were contours to follow
  }
}

TEST_CASE("a line keeps within its tolerance of the way found, and uncrossed, whatever the tolerance") {
  const auto wall = flat_wall(1, 1);
  const auto ground = busy_ground(wall, {0.5, 0.5}, 0.96, 5);
  std::mt19937 rng(23);
  std::uniform_real_distribution<double> spread(0.05, 0.95);
  HugOptions exact;
  exact.simplify_mm = 0;
  for (int round = 0; round < 12; ++round) {
    std::vector<ChartPoint> points;
    for (int k = 0; k < 2 + round % 3; ++k) points.push_back({spread(rng), spread(rng)});
    const auto dense = hug(ground, points, false, exact).value();
    std::size_t before = dense.line.size();
    for (const double mm : {0.1, 0.5, 2.0, 6.0}) {
      HugOptions options;
      options.simplify_mm = mm;
      const auto line = hug(ground, points, false, options).value();
      CAPTURE(round, mm, line.line.size(), before);
      CHECK(simple_line(line.line));
      if (points.size() == 2) CHECK(apart(dense.line, line.line) < 1e-3 * mm + 1e-6);
      CHECK(line.line.size() <= before + 2);
      before = line.line.size();
    }
  }
}
