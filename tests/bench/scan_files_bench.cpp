// What it costs to read one million triangles from each kind of file, checks included. Peak memory is that of the whole
// program so far: run one kind alone with --benchmark_filter to see its own.
#include <benchmark/benchmark.h>
#include <sys/resource.h>

#include <filesystem>

#include "engine/wall/scan_files.h"
#include "tests/fixtures/glb_writer.h"
#include "tests/fixtures/plain_scans.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

void read_million(benchmark::State& state, PlainKind kind) {
  const TestFolder folder;
  const std::string path = folder.file(std::string("million") + ending(kind));
  {
    const Sheet sheet = grid_sheet(707, 707, [](double s, double t) {
      return Vec3{4 * s, 0.05 * std::sin(9 * s) * std::cos(7 * t), 3 * t};
    });
    std::ofstream(path, std::ios::binary) << plain_bytes(sheet, kind);
  }
  std::size_t triangles = 0;
  for (auto _ : state) {
    const auto raw = read_any(path);
    if (!raw) return state.SkipWithError(raw.problem().message().c_str());
    triangles = raw->triangles.size();
  }
  rusage use{};
  getrusage(RUSAGE_SELF, &use);
  state.counters["triangles"] = static_cast<double>(triangles);
  state.counters["file_MB"] = static_cast<double>(std::filesystem::file_size(path)) / 1e6;
  state.counters["peak_MB"] = static_cast<double>(use.ru_maxrss) / 1024;
}

}  // namespace

BENCHMARK_CAPTURE(read_million, obj, PlainKind::obj)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(read_million, ply_text, PlainKind::ply_text)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(read_million, ply_binary, PlainKind::ply_little)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(read_million, stl_text, PlainKind::stl_text)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(read_million, stl_binary, PlainKind::stl_binary)->Unit(benchmark::kMillisecond);
