// Cost of the levelling coat of a scanned barrel of a million triangles (edges 14 mm, 100 m2), of sharing it out over
// 100 giornate, of its depth map, and of looking for ribs there.
#include <benchmark/benchmark.h>

#include <filesystem>

#include "engine/cartoon/level_map.h"
#include "engine/chart/ribs.h"
#include "engine/seams/outline_edit.h"
#include "tests/fixtures/level_walls.h"

using namespace pontata;

namespace {

WallRef uneven_barrel() {
  fixtures::UnevenWall of = fixtures::cylinder_wall(3, 11.8, 8.5);
  of.edge = 0.01416;
  of.noise = 0.001;
  of.rise = [](double u, double v) { return 0.006 * std::cos(9 * u) * std::cos(7 * v + u); };
  return fixtures::uneven(of);
}

struct Case {
  WallRef wall = uneven_barrel();
  LevelCoat coat = level_wall(*wall, {}, "bench").value();
};
const Case& the_case() {
  static const Case c;
  return c;
}

void level_a_million(benchmark::State& state) {
  const WallRef wall = the_case().wall;
  for (auto _ : state) benchmark::DoNotOptimize(level_wall(*wall, {}, "bench").value().total_m3);
  state.counters["triangles"] = static_cast<double>(wall->mesh().triangles.size());
}
BENCHMARK(level_a_million)->Unit(benchmark::kMillisecond)->Iterations(1);

// What every verb that hugs on such a wall looks for first; the window keeps it.
void ribs_of_a_million(benchmark::State& state) {
  const WallRef wall = the_case().wall;
  for (auto _ : state) benchmark::DoNotOptimize(find_ribs(*wall)->lines.size());
}
BENCHMARK(ribs_of_a_million)->Unit(benchmark::kMillisecond)->Iterations(3);

void share_over_100_giornate(benchmark::State& state) {
  const Case& c = the_case();
  Network network = Network::from_border(c.wall->chart->border_rings(), c.wall->metric->meter()).value();
  std::vector<Giornata> giornate;
  for (int k = 0; k < 100; ++k) {
    const double u = 0.3 + 1.1 * (k % 10), v = 0.2 + 0.8 * (k / 10);
    Ring ring;
    for (const ChartPoint p : {ChartPoint{u, v}, {u + 1, v + 0.05}, {u + 1.05, v + 0.7}, {u, v + 0.75}})
      ring.push_back(to_lattice(p));
    Giornata g;
    g.id = GiornataId{static_cast<std::uint32_t>(k) + 1};
    giornate.push_back(g);
    network = insert_outline(network, ring, g.id, c.wall->metric->meter()).value().network;
  }
  double residual = 0;
  for (auto _ : state) residual = level_shares(*c.wall, c.coat, network, giornate).residual_m3;
  state.counters["residual_m3"] = residual;
}
BENCHMARK(share_over_100_giornate)->Unit(benchmark::kMillisecond)->Iterations(1);

void draw_the_map(benchmark::State& state) {
  const Case& c = the_case();
  const std::string path = (std::filesystem::temp_directory_path() / "pontata-level-bench.png").string();
  LevelMap map;
  map.project = "bench", map.wall_name = "barrel", map.wall = c.wall.get(), map.coat = &c.coat;
  for (auto _ : state) benchmark::DoNotOptimize(write_level_map(map, path, 2000, 1500).ok());
  std::filesystem::remove(path);
}
BENCHMARK(draw_the_map)->Unit(benchmark::kMillisecond)->Iterations(1);

}  // namespace
