// Costs of laying patches flat: a day's work, 20,000 triangles, 200,000 triangles; and of looking for thin places.
#include <benchmark/benchmark.h>

#include <cmath>
#include <numbers>

#include "engine/flatten/local_width.h"
#include "tests/fixtures/walls.h"

using namespace pontata;

namespace {

const WallRef& dome() {
  static const WallRef kWall = fixtures::dome_wall(6, 3);
  return kWall;
}

std::vector<Ring> outline(double radius) {
  Ring ring;
  const double c = dome()->chart->box().width / 2;
  for (int i = 0; i < 200; ++i) {
    const double a = 2 * std::numbers::pi * i / 200, s = radius * (1 + 0.2 * std::sin(5 * a));
    ring.push_back(to_lattice({c + 0.3 + s * std::cos(a), c + s * std::sin(a)}));
  }
  return {ring};
}

// Radius in mm and spacing in tenths of a mm.
Patch patch_of(const benchmark::State& state) {
  return make_patch(*dome(), outline(1e-3 * static_cast<double>(state.range(0))),
                    {1e-4 * static_cast<double>(state.range(1))})
      .value();
}

void divide_patch(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(patch_of(state).triangles.size());
}
BENCHMARK(divide_patch)->Args({560, 300})->Args({700, 140})->Unit(benchmark::kMillisecond);

void lay_flat(benchmark::State& state) {
  const Patch patch = patch_of(state);
  double strain = 0;
  for (auto _ : state) strain = flatten(patch).value().max_strain;
  state.counters["triangles"] = static_cast<double>(patch.triangles.size());
  state.counters["strain"] = strain;
}
BENCHMARK(lay_flat)->Args({560, 300})->Args({700, 140})->Args({700, 44})->Unit(benchmark::kMillisecond);

void find_thin_place(benchmark::State& state) {
  const Patch patch = patch_of(state);
  const Flattening flat = flatten(patch).value();
  for (auto _ : state) benchmark::DoNotOptimize(thin_place(patch, flat, 0.03, 30));
}
BENCHMARK(find_thin_place)->Args({560, 300})->Args({700, 140})->Unit(benchmark::kMillisecond);

}  // namespace
