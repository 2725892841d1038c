// Cost of measuring a wall of a million triangles with 100 giornate, of the independent check of all its faces, and of
// a whole seam review there (without a picture), first and again.
#include <benchmark/benchmark.h>

#include <cmath>
#include <numbers>

#include "engine/giornate/measures_again.h"
#include "engine/review/findings.h"
#include "engine/seams/outline_edit.h"

using namespace pontata;

namespace {

constexpr int kSide = 10;

// A dome of 8 m: the tolerance is searched so that it has about a million triangles.
WallRef million_triangles() {
  const ShapeSpec spec{.kind = ShapeKind::dome, .span = 8, .rise = 4};
  double tolerance = 1e-4;
  auto wall = build_wall(spec, {}, "bench", tolerance);
  for (int i = 0; i < 4; ++i) {  // triangles fall in inverse proportion to the tolerance
    const double triangles = static_cast<double>(wall.value()->mesh().triangles.size());
    if (std::abs(triangles / 1e6 - 1) < 0.1) break;
    tolerance *= triangles / 1e6;
    wall = build_wall(spec, {}, "bench", tolerance);
  }
  return wall.value();
}

// Wavy line from a to b, ends included; the same points whichever neighbour asks.
void add_wave(Ring& ring, Vec2 a, Vec2 b, int steps) {
  const bool turned = b.x < a.x - 1e-9 || b.y < a.y - 1e-9;
  if (turned) std::swap(a, b);
  const Vec2 across = 0.06 * Vec2(-(b - a).y, (b - a).x);
  std::vector<LatticePoint> line;
  for (int k = 0; k <= steps; ++k) {
    const double s = static_cast<double>(k) / steps;
    line.push_back(to_lattice(to_chart(a + s * (b - a) + std::sin(2 * std::numbers::pi * s * 3) * across)));
  }
  if (turned) std::reverse(line.begin(), line.end());
  ring.insert(ring.end(), line.begin(), line.end() - 1);
}

struct Case {
  WallRef wall = million_triangles();
  Network network;
  std::vector<Giornata> giornate;

  Case() {
    network = Network::from_border(wall->chart->border_rings(), wall->metric->meter()).value();
    const ChartBox box = wall->chart->box();
    const double cell = std::min(box.width, box.height) * 0.68 / kSide;
    const Vec2 origin = 0.5 * Vec2(box.width, box.height) - 0.5 * kSide * Vec2(cell);
    for (int row = 0; row < kSide; ++row)
      for (int column = 0; column < kSide; ++column) {
        const Vec2 low = origin + cell * Vec2(column, row);
        Ring ring;
        add_wave(ring, low, low + Vec2(cell, 0), 60);
        add_wave(ring, low + Vec2(cell, 0), low + Vec2(cell), 60);
        add_wave(ring, low + Vec2(cell), low + Vec2(0, cell), 60);
        add_wave(ring, low + Vec2(0, cell), low, 60);
        Giornata g;
        g.id = GiornataId{static_cast<std::uint32_t>(giornate.size()) + 1};
        giornate.push_back(g);
        network = insert_outline(network, ring, g.id, wall->metric->meter()).value().network;
      }
  }
};

const Case& the_case() {
  static const Case c;
  return c;
}

void measure(benchmark::State& state) {
  const Case& c = the_case();
  for (auto _ : state) benchmark::DoNotOptimize(measure_wall(*c.wall, c.network, c.giornate).residual_m2);
  state.counters["triangles"] = static_cast<double>(c.wall->mesh().triangles.size());
  state.counters["seams"] = static_cast<double>(c.network.live_seams());
}
BENCHMARK(measure)->Unit(benchmark::kMillisecond);

// One giornata in the middle taken away.
void measure_after_an_edit(benchmark::State& state) {
  const Case& c = the_case();
  const WallMeasure before = measure_wall(*c.wall, c.network, c.giornate);
  const Network after = remove_giornata(c.network, {45}, c.wall->metric->meter()).value();
  for (auto _ : state) {
    const auto changed = measures_changed(*c.wall, c.network, after);
    benchmark::DoNotOptimize(measure_again(*c.wall, after, c.giornate, before, changed).residual_m2);
  }
}
BENCHMARK(measure_after_an_edit)->Unit(benchmark::kMillisecond);

void check_by_clipping(benchmark::State& state) {
  const Case& c = the_case();
  double worst = 0;
  for (auto _ : state)
    for (const FaceId f : c.network.faces()) {
      const FaceSums sums = c.network.sums(f);
      const double off = area_by_clipping(*c.wall, c.network.rings(f)) - static_cast<double>(sums.area) * kAreaUnit;
      worst = std::max(worst, std::abs(off) / sums.perimeter_m);
    }
  state.counters["worst_m2_per_m"] = worst;
}
BENCHMARK(check_by_clipping)->Unit(benchmark::kMillisecond)->Iterations(1);

// Worst case for drips: the giornate are worked from the bottom up.
std::size_t review_once(const std::shared_ptr<ReviewCache>& cache) {
  const Case& c = the_case();
  const WallMeasure measure = measure_wall(*c.wall, c.network, c.giornate);
  Plan plan;
  for (const Giornata& g : c.giornate) {
    PlannedDay day;
    day.id = g.id;
    day.date = add_days({2027, 5, 3}, static_cast<int>(plan.days.size()));
    plan.days.push_back(day);
  }
  ReviewInput input;
  input.wall = c.wall;
  input.network = &c.network;
  input.giornate = c.giornate;
  input.measure = &measure;
  input.plan = &plan;
  input.cache = cache;
  return review(input, {}).size();
}

void review_first(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(review_once(nullptr));
}
BENCHMARK(review_first)->Unit(benchmark::kMillisecond)->Iterations(1);

void review_again(benchmark::State& state) {
  const auto cache = std::make_shared<ReviewCache>();
  std::size_t findings = review_once(cache);
  for (auto _ : state) benchmark::DoNotOptimize(findings = review_once(cache));
  state.counters["findings"] = static_cast<double>(findings);
}
BENCHMARK(review_again)->Unit(benchmark::kMillisecond);

}  // namespace
