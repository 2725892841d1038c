// Costs of a wall of one million triangles: certifying its chart, its metric, picking, and a metre of seam.
#include <benchmark/benchmark.h>

#include <cmath>
#include <random>

#include "engine/chart/geodesic.h"
#include "tests/fixtures/walls.h"

using namespace pontata;

namespace {

const ShapeMesh& million() {
  static const ShapeMesh kShape = tessellate(fixtures::dome_spec(6, 3), {}, 9.3e-6);
  return kShape;
}

std::shared_ptr<const SurfaceMesh> shared_million() {
  static const auto kMesh = std::make_shared<const SurfaceMesh>(million().mesh);
  return kMesh;
}

const WallRef& wall() {
  static const WallRef kWall = chart_wall(shared_million(), million().address, "dome", false).value();
  return kWall;
}

void certify(benchmark::State& state) {
  const auto mesh = shared_million();
  for (auto _ : state) benchmark::DoNotOptimize(Chart::certify(mesh, million().address, "dome").ok());
  state.counters["triangles"] = static_cast<double>(mesh->triangles.size());
}
BENCHMARK(certify)->Unit(benchmark::kMillisecond);

void build_metric(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(Metric(wall()->chart, false).area());
}
BENCHMARK(build_metric)->Unit(benchmark::kMillisecond);

void build_pick_tree(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(PickTree(shared_million()));
}
BENCHMARK(build_pick_tree)->Unit(benchmark::kMillisecond);

// A place in the middle third of the dome's chart and one a metre away.
void measure_one_metre(benchmark::State& state) {
  std::mt19937_64 rng(1);
  std::uniform_real_distribution<double> turn(0, 6.283), reach(0, 2);
  const double c = wall()->chart->box().width / 2;
  for (auto _ : state) {
    const double a = turn(rng), b = turn(rng), r = reach(rng);
    const ChartPoint p{c + r * std::cos(a), c + r * std::sin(a)};
    benchmark::DoNotOptimize(
        wall()->metric->measure(to_lattice(p), to_lattice({p.u + std::cos(b), p.v + std::sin(b)})).area_m2);
  }
}
BENCHMARK(measure_one_metre)->Unit(benchmark::kMicrosecond);

// Shortest ways between any two places of the dome: A* and pulling straight.
void stretch_the_tape(benchmark::State& state) {
  std::mt19937_64 rng(6);
  std::uniform_real_distribution<double> turn(0, 6.283), reach(0, 4.6);
  const double c = wall()->chart->box().width / 2;
  const auto place = [&] {
    const double a = turn(rng), r = reach(rng);
    return ChartPoint{c + r * std::cos(a), c + r * std::sin(a)};
  };
  for (auto _ : state) {
    const ChartPoint a = place(), b = place();
    benchmark::DoNotOptimize(stretch_tape(*wall(), a, b).value().over_m);
  }
}
BENCHMARK(stretch_the_tape)->Unit(benchmark::kMillisecond);

void locate_place(benchmark::State& state) {
  std::mt19937_64 rng(2);
  std::uniform_real_distribution<double> turn(0, 6.283), reach(0, 4.7);
  const double c = wall()->chart->box().width / 2;
  for (auto _ : state) {
    const double a = turn(rng), r = reach(rng);
    benchmark::DoNotOptimize(wall()->chart->locate({c + r * std::cos(a), c + r * std::sin(a)}));
  }
}
BENCHMARK(locate_place)->Unit(benchmark::kNanosecond);

void cast_ray(benchmark::State& state) {
  std::mt19937_64 rng(3);
  std::uniform_real_distribution<double> uniform(-1, 1);
  for (auto _ : state)
    benchmark::DoNotOptimize(wall()->pick.cast({0, 0, 0}, {uniform(rng), uniform(rng), 1 + uniform(rng)}));
}
BENCHMARK(cast_ray)->Unit(benchmark::kNanosecond);

void nearest_point(benchmark::State& state) {
  std::mt19937_64 rng(4);
  std::uniform_real_distribution<double> uniform(-2, 2);
  for (auto _ : state) {
    const Vec3 on = 2.99 * glm::normalize(Vec3{uniform(rng), uniform(rng), 1});
    benchmark::DoNotOptimize(wall()->pick.nearest(on));
  }
}
BENCHMARK(nearest_point)->Unit(benchmark::kNanosecond);

void clamp_from_outside(benchmark::State& state) {
  std::mt19937_64 rng(5);
  std::uniform_real_distribution<double> turn(0, 6.283);
  const double c = wall()->chart->box().width / 2;
  for (auto _ : state) {
    const double a = turn(rng);
    benchmark::DoNotOptimize(wall()->chart->clamp({c + 1.001 * c * std::cos(a), c + 1.001 * c * std::sin(a)}));
  }
}
BENCHMARK(clamp_from_outside)->Unit(benchmark::kMicrosecond);

}  // namespace
