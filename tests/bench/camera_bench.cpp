// Cost of finding a photograph's camera: from nothing, and from a camera known to be near.
#include <benchmark/benchmark.h>

#include "tests/fixtures/photographs.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr std::size_t kMany = 64;

std::vector<Photograph> photographs(Surface surface, std::size_t points, bool distorted) {
  Random random(1);
  std::vector<Photograph> out;
  while (out.size() < kMany) out.push_back(next_photograph(surface, points, 1, random, distorted));
  return out;
}

void find(benchmark::State& state, Surface surface, bool distorted, bool near) {
  const auto all = photographs(surface, static_cast<std::size_t>(state.range(0)), distorted);
  std::size_t next = 0;
  for (auto _ : state) {
    const Photograph& p = all[next++ % kMany];
    CameraFitOptions options;
    if (near) options.start = p.camera;
    benchmark::DoNotOptimize(fit_camera(kPhotograph, p.points, options));
  }
}

}  // namespace

BENCHMARK_CAPTURE(find, apse, Surface::apse, false, false)->Arg(5)->Arg(12)->Arg(40)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(find, apse_distorted, Surface::apse, true, false)->Arg(12)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(find, flat, Surface::flat, false, false)->Arg(12)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(find, apse_from_near, Surface::apse, false, true)->Arg(12)->Unit(benchmark::kMillisecond);
