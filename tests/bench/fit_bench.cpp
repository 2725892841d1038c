// Cost of setting a picture by control points, every left-out point foretold by a setting of its own.
#include <benchmark/benchmark.h>

#include "tests/fixtures/marked_photographs.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

void set_by_itself(benchmark::State& state, const Photo& photo, bool thin_plate) {
  Dice dice(5);
  const auto points = marks(photo, static_cast<std::size_t>(state.range(0)), 1, dice);
  for (auto _ : state) {
    const auto fit = fit_picture(*photo.wall, photo.picture, points, {.thin_plate = thin_plate});
    if (!fit) return state.SkipWithError("not set");
    benchmark::DoNotOptimize(fit->report.likely);
  }
}

void photograph_of_a_dome(benchmark::State& state) {
  Dice dice(6);
  set_by_itself(state, dome_photo(dome_wall(5, 2), dice), false);
}
void photograph_of_a_flat_wall_with_thin_plate(benchmark::State& state) {
  Dice dice(7);
  set_by_itself(state, flat_photo(flat_wall(5, 3.5), dice), true);
}

}  // namespace

BENCHMARK(photograph_of_a_dome)->Arg(6)->Arg(12)->Arg(24)->Unit(benchmark::kMillisecond);
BENCHMARK(photograph_of_a_flat_wall_with_thin_plate)->Arg(12)->Arg(24)->Unit(benchmark::kMillisecond);
