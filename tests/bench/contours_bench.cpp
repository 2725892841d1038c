// Contours of a field of 16 million samples: a busy picture over four metres of wall and a small one on it. Draping is
// timed beside it. "cpu_s" is the work of all threads together, which other programs do not change.
#include <benchmark/benchmark.h>

#include <ctime>

#include "engine/picture/contour_lines.h"
#include "tests/bench/busy_picture.h"
#include "tests/fixtures/pictures.h"
#include "tests/fixtures/walls.h"

using namespace pontata;

namespace {

constexpr double kWall = 4.096;  // m

// Of all threads.
double cpu_s() {
  timespec t{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

DrapeInput pictures(double small_at) {
  static const auto kWallRef = fixtures::flat_wall(kWall, kWall);
  static const PlacedRef kGround =
      fixtures::placed(bench::busy_picture(4096), PictureFrame{{0, 0}, kWall, kWall, 0}, 1);
  static const Image kSmall = bench::busy_picture(300);
  return {kWallRef, {kGround, fixtures::placed(kSmall, PictureFrame{{small_at, 2.1}, 0.3, 0.3, 0}, 2)}, {}};
}

void make_tiles(const Draped& draped) {
  for (int b = 0; b < draped.tiles_up(); ++b)
    for (int a = 0; a < draped.tiles_across(); ++a) benchmark::DoNotOptimize(draped.tile(a, b));
}

const DrapedRef& first() {
  static const DrapedRef kFirst = [] {
    auto draped = Draped::make(pictures(1.3));
    make_tiles(*draped);
    return draped;
  }();
  return kFirst;
}
const ContourField& found() {
  static const ContourField kFound = contour_field(*first());
  return kFound;
}

void whole_field(benchmark::State& state) {
  const double scale = static_cast<double>(state.range(0));
  first();
  const double start = cpu_s();
  std::size_t bytes = 0, ridges = 0;
  for (auto _ : state) {
    const auto field = contour_field(*first(), {.scale_mm = scale});
    bytes = field.bytes();
    ridges = 0;
    field.each_ridge([&](int, int, const Ridge&) { ++ridges; });
  }
  state.counters["cpu_s"] = (cpu_s() - start) / static_cast<double>(state.iterations());
  state.counters["MB"] = static_cast<double>(bytes) / 1e6;
  state.counters["ridges"] = static_cast<double>(ridges);
}
BENCHMARK(whole_field)->Arg(0)->Arg(5)->Arg(20)->Arg(100)->Unit(benchmark::kMillisecond)->UseRealTime()->Iterations(3);

void strength_changed(benchmark::State& state) {
  found();
  for (auto _ : state) benchmark::DoNotOptimize(contour_field(*first(), {.strength = 0.3}, &found()).columns);
}
BENCHMARK(strength_changed)->Unit(benchmark::kMillisecond)->UseRealTime()->Iterations(3);

// The small picture moves 12 mm: what the painter waits for, draping included.
void small_picture_moved(benchmark::State& state) {
  found();
  const double start = cpu_s();
  int made = 0;
  for (auto _ : state) {
    const auto moved = Draped::make(pictures(1.312), first());
    const auto field = contour_field(*moved, {}, &found());
    made = 0;
    for (int b = 0; b < field.tiles_up(); ++b)
      for (int a = 0; a < field.tiles_across(); ++a) made += field.tile(a, b) != found().tile(a, b);
  }
  state.counters["cpu_s"] = (cpu_s() - start) / static_cast<double>(state.iterations());
  state.counters["tiles_made"] = made;
}
BENCHMARK(small_picture_moved)->Unit(benchmark::kMillisecond)->UseRealTime()->Iterations(3);

void lines(benchmark::State& state) {
  found();
  std::size_t count = 0, points = 0;
  for (auto _ : state) {
    const auto all = contour_lines(found());
    count = all.size();
    points = 0;
    for (const auto& line : all) points += line.size();
  }
  state.counters["lines"] = static_cast<double>(count);
  state.counters["points"] = static_cast<double>(points);
}
BENCHMARK(lines)->Unit(benchmark::kMillisecond)->Iterations(3);

}  // namespace
