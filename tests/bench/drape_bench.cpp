// A picture of 200 megapixels draped on a wall of 16 million samples, and one of three pictures moved by a step.
#include <benchmark/benchmark.h>
#include <sys/resource.h>

#include <atomic>
#include <thread>

#include "engine/picture/contours.h"

namespace {

using namespace pontata;

// Made tile by tile when asked for, as a file of this size would be read: nothing of it is whole in memory.
class Invented final : public PictureSource {
 public:
  Invented(PictureSize size, unsigned seed) : PictureSource(size), seed_(seed) {}
  std::shared_ptr<const PictureTile> tile(int level, int i, int j) const override {
    constexpr int n = PictureTile::kSide;
    ++made;
    auto out = std::make_shared<PictureTile>();
    out->rgba.resize(4 * n * n);
    for (int y = 0; y < n; ++y)
      for (int x = 0; x < n; ++x) {
        const auto u = static_cast<unsigned>(((i * n + x) << level) / 37),
                   v = static_cast<unsigned>(((j * n + y) << level) / 41);
        const unsigned h = (u * 2654435761u) ^ (v * 40503u * seed_);
        std::uint8_t* p = out->rgba.data() + 4 * (y * n + x);
        for (int c = 0; c < 3; ++c) p[c] = static_cast<std::uint8_t>(h >> (8 + 8 * c));
        p[3] = 255;
      }
    return out;
  }
  mutable std::atomic<int> made{0};

 private:
  unsigned seed_;
};

WallRef barrel() {
  static const auto wall =
      build_wall(ShapeSpec{.kind = ShapeKind::barrel, .span = 2.6, .length = 4.05, .rise = 1.3}, {}, "bench").value();
  return wall;
}

PlacedRef placed(PictureRef pixels, Lay lay) {
  auto out = std::make_shared<PlacedPicture>();
  out->size = pixels->size();
  out->pixels = std::move(pixels);
  out->lay = std::move(lay);
  return out;
}

PlacedRef unrolled() {
  const auto box = barrel()->chart->box();
  return placed(std::make_shared<Invented>(PictureSize{14200, 14200}, 3),
                PictureFrame{{0, 0}, box.width, box.height, 0});
}
PlacedRef turned() {
  const auto box = barrel()->chart->box();
  return placed(std::make_shared<Invented>(PictureSize{14200, 14200}, 3),
                PictureFrame{{0.5 * box.width, -0.2 * box.height}, box.width, box.height, 45});
}
// From the floor, below one end of the vault: all of it is seen.
PlacedRef seen() {
  const PictureSize size{14200, 14200};
  const auto middle = *barrel()->position({0.5 * barrel()->chart->box().width, 0.5 * barrel()->chart->box().height});
  const Vec3 eye(middle.x, middle.y, middle.z - 4);
  return placed(std::make_shared<Invented>(size, 5), CameraLay{eye_camera(eye, middle, {0, 1, 0}, 80, size).value()});
}

// All tiles, two threads taking them in turn.
int make_tiles(const Draped& draped) {
  std::atomic<int> next{0}, made{0};
  const int count = draped.tiles_across() * draped.tiles_up();
  const auto run = [&] {
    for (int n = next++; n < count; n = next++)
      made += draped.tile(n % draped.tiles_across(), n / draped.tiles_across()) != nullptr;
  };
  std::jthread second(run);
  run();
  second.join();
  return made;
}

double peak_mb() {
  rusage use{};
  getrusage(RUSAGE_SELF, &use);
  return static_cast<double>(use.ru_maxrss) / 1024;
}

void all_tiles(benchmark::State& state, PlacedRef (*picture)()) {
  const auto on = picture();
  for (auto _ : state) {
    const auto draped = Draped::make({barrel(), {on}, {}});
    state.counters["tiles"] = make_tiles(*draped);
    state.counters["megasamples"] = 1e-6 * draped->columns() * draped->rows();
  }
  state.counters["read"] =
      static_cast<const Invented&>(*on->pixels).made.load() / static_cast<double>(state.iterations());
  state.counters["peak_mb"] = peak_mb();
}
BENCHMARK_CAPTURE(all_tiles, unrolled, unrolled)
    ->Unit(benchmark::kMillisecond)
    ->Iterations(2)
    ->UseRealTime()
    ->MeasureProcessCPUTime();
BENCHMARK_CAPTURE(all_tiles, turned, turned)
    ->Unit(benchmark::kMillisecond)
    ->Iterations(2)
    ->UseRealTime()
    ->MeasureProcessCPUTime();
BENCHMARK_CAPTURE(all_tiles, seen, seen)
    ->Unit(benchmark::kMillisecond)
    ->Iterations(2)
    ->UseRealTime()
    ->MeasureProcessCPUTime();

void draw_4096(benchmark::State& state, PlacedRef (*picture)()) {
  const auto draped = Draped::make({barrel(), {picture()}, {}});
  for (auto _ : state) benchmark::DoNotOptimize(draw_whole(*draped, 4096).rgba.data());
}
BENCHMARK_CAPTURE(draw_4096, unrolled, unrolled)
    ->Unit(benchmark::kMillisecond)
    ->Iterations(1)
    ->UseRealTime()
    ->MeasureProcessCPUTime();

void make_alone(benchmark::State& state, PlacedRef (*picture)()) {
  const auto on = picture();
  for (auto _ : state) benchmark::DoNotOptimize(Draped::make({barrel(), {on}, {}}));
}
BENCHMARK_CAPTURE(make_alone, unrolled, unrolled)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(make_alone, seen, seen)->Unit(benchmark::kMillisecond);

// A small picture between two large ones goes 20 mm aside.
void moved_a_step(benchmark::State& state) {
  const auto pixels = std::make_shared<Invented>(PictureSize{2000, 2000}, 7);
  const auto low = unrolled(), high = seen();
  auto before = Draped::make({barrel(), {low, placed(pixels, PictureFrame{{1, 1}, 0.8, 0.8, 0}), high}, {}});
  make_tiles(*before);
  double u = 1;
  for (auto _ : state) {
    const auto after =
        Draped::make({barrel(), {low, placed(pixels, PictureFrame{{u += 0.02, 1}, 0.8, 0.8, 0}), high}, {}}, before);
    make_tiles(*after);
    int anew = 0;
    for (int b = 0; b < after->tiles_up(); ++b)
      for (int a = 0; a < after->tiles_across(); ++a) anew += after->tile(a, b) != before->tile(a, b);
    state.counters["tiles_anew"] = anew;
    before = after;
  }
  state.counters["peak_mb"] = peak_mb();
}
BENCHMARK(moved_a_step)->Unit(benchmark::kMillisecond)->Iterations(5)->UseRealTime()->MeasureProcessCPUTime();

// The same with the contours of all of it.
void contours_ready(benchmark::State& state, PlacedRef (*picture)()) {
  for (auto _ : state) {
    const auto draped = Draped::make({barrel(), {picture()}, {}});
    benchmark::DoNotOptimize(contour_field(*draped).columns);
  }
  state.counters["peak_mb"] = peak_mb();
}
BENCHMARK_CAPTURE(contours_ready, unrolled, unrolled)
    ->Unit(benchmark::kMillisecond)
    ->Iterations(1)
    ->UseRealTime()
    ->MeasureProcessCPUTime();
BENCHMARK_CAPTURE(contours_ready, seen, seen)
    ->Unit(benchmark::kMillisecond)
    ->Iterations(1)
    ->UseRealTime()
    ->MeasureProcessCPUTime();

void contours_after_a_step(benchmark::State& state) {
  const auto pixels = std::make_shared<Invented>(PictureSize{2000, 2000}, 7);
  const auto low = unrolled(), high = seen();
  auto before = Draped::make({barrel(), {low, placed(pixels, PictureFrame{{1, 1}, 0.8, 0.8, 0}), high}, {}});
  auto field = contour_field(*before);
  double u = 1;
  for (auto _ : state) {
    before =
        Draped::make({barrel(), {low, placed(pixels, PictureFrame{{u += 0.02, 1}, 0.8, 0.8, 0}), high}, {}}, before);
    field = contour_field(*before, {}, &field);
  }
  state.counters["peak_mb"] = peak_mb();
}
BENCHMARK(contours_after_a_step)->Unit(benchmark::kMillisecond)->Iterations(5)->UseRealTime()->MeasureProcessCPUTime();

void covers(benchmark::State& state, PlacedRef (*picture)()) {
  const auto draped = Draped::make({barrel(), {picture()}, {}});
  const auto box = barrel()->chart->box();
  double t = 0;
  for (auto _ : state) {
    t += 0.01;
    benchmark::DoNotOptimize(draped->covers({std::fmod(t, box.width), std::fmod(0.3 * t, box.height)}));
  }
}
BENCHMARK_CAPTURE(covers, unrolled, unrolled);
BENCHMARK_CAPTURE(covers, seen, seen);

}  // namespace
