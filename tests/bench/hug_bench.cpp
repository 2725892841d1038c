// Costs of hugging on a picture of 4096 x 4096 pixels over four metres of wall: a pointer move, a jump of the pointer,
// and a whole outline.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <cmath>
#include <ctime>
#include <random>
#include <vector>

#include "engine/seams/hug.h"
#include "tests/bench/busy_picture.h"
#include "tests/fixtures/pictures.h"
#include "tests/fixtures/walls.h"

using namespace pontata;

namespace {

constexpr double kWall = 4.096;  // m

const Image& picture() {
  static const Image kPicture = bench::busy_picture(4096);
  return kPicture;
}

PictureFrame whole() { return {{0, 0}, kWall, kWall, 0}; }

const Image& plain() {
  static const Image kPlain{4096, 4096, std::vector<std::uint8_t>(3u * 4096 * 4096, 200)};
  return kPlain;
}

std::shared_ptr<const HugGround> ground_of(const Image& image) {
  auto ground = std::make_shared<HugGround>();
  ground->wall = fixtures::flat_wall(kWall, kWall);
  ground->contours = std::make_shared<ContourField>(contour_field(*fixtures::draped(ground->wall, image, whole())));
  ground->network = Network::from_border(ground->wall->chart->border_rings(), ground->wall->metric->meter()).value();
  return ground;
}

const std::shared_ptr<const HugGround>& busy() {
  static const auto kGround = ground_of(picture());
  return kGround;
}
const std::shared_ptr<const HugGround>& smooth() {
  static const auto kGround = ground_of(plain());
  return kGround;
}

// Of this thread's own work, so that other programs do not count.
double now_ms() {
  timespec t{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
  return 1e3 * static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_nsec);
}

// A hand draws outward for 0.8 m in steps of 3 mm, wavering, from many anchors; every move is timed.
void pointer_moves(benchmark::State& state, const std::shared_ptr<const HugGround>& ground) {
  std::vector<double> times;
  std::mt19937 rng(3);
  const auto random = [&](double a, double b) { return a + (b - a) * static_cast<double>(rng()) / 4294967295.0; };
  double hugged = 0, length = 0;
  for (auto _ : state) {
    const ChartPoint anchor{random(0.5, kWall - 0.5), random(0.5, kWall - 0.5)};
    double heading = random(0, 6.28);
    HugStroke stroke(ground, anchor, {});
    ChartPoint p = anchor;
    for (int move = 0; move < 260; ++move) {
      heading += random(-0.08, 0.08);
      p = {std::clamp(p.u + 0.003 * std::cos(heading), 0.1, kWall - 0.1),
           std::clamp(p.v + 0.003 * std::sin(heading), 0.1, kWall - 0.1)};
      const double start = now_ms();
      const auto line = stroke.preview(p);
      times.push_back(now_ms() - start);
      hugged += line.hugged_m;
      length += line.length_m;
    }
  }
  std::sort(times.begin(), times.end());
  const auto at = [&](double share) {
    return times[static_cast<std::size_t>(share * static_cast<double>(times.size() - 1))];
  };
  state.counters["move_p50_ms"] = at(0.5);
  state.counters["move_p95_ms"] = at(0.95);
  state.counters["move_p99_ms"] = at(0.99);
  state.counters["move_max_ms"] = at(1);
  state.counters["hugged_share"] = hugged / length;
}
BENCHMARK_CAPTURE(pointer_moves, busy, busy())->Unit(benchmark::kMillisecond)->Iterations(12);
BENCHMARK_CAPTURE(pointer_moves, smooth, smooth())->Unit(benchmark::kMillisecond)->Iterations(12);

// The pointer jumps a metre at once from a new anchor: nothing has been searched before.
void pointer_jump(benchmark::State& state, const std::shared_ptr<const HugGround>& ground) {
  for (auto _ : state) {
    HugStroke stroke(ground, {1.1, 1.3}, {});
    benchmark::DoNotOptimize(stroke.preview({1.9, 1.9}).length_m);
  }
}
BENCHMARK_CAPTURE(pointer_jump, busy, busy())->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(pointer_jump, smooth, smooth())->Unit(benchmark::kMillisecond);

// And rests there: the line that a click draws.
void pointer_rests(benchmark::State& state, const std::shared_ptr<const HugGround>& ground) {
  for (auto _ : state) {
    HugStroke stroke(ground, {1.1, 1.3}, {});
    benchmark::DoNotOptimize(stroke.to({1.9, 1.9}).length_m);
  }
}
BENCHMARK_CAPTURE(pointer_rests, busy, busy())->Unit(benchmark::kMillisecond);

void whole_outline(benchmark::State& state) {
  std::vector<ChartPoint> points;
  for (int k = 0; k < 24; ++k) {
    const double a = 2 * M_PI * k / 24;
    points.push_back({2 + 0.7 * std::cos(a), 2 + 0.7 * std::sin(a)});
  }
  for (auto _ : state) benchmark::DoNotOptimize(hug(busy(), points, true).ok());
}
BENCHMARK(whole_outline)->Unit(benchmark::kMillisecond);

}  // namespace
