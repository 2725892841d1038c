// What an eye sees: queries of sight, the view from an eye, the map of a picture's stretch.
#include <benchmark/benchmark.h>

#include <filesystem>

#include "engine/cartoon/stretch_map.h"
#include "engine/picture/eye_view.h"
#include "engine/picture/sight.h"
#include "tests/picture/eye_scenes.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

const EyeScene& scene() {
  static const EyeScene one = barrel_scene();
  return one;
}

std::vector<std::pair<Vec3, Vec3>> places(const WallRef& wall, bool scattered) {
  std::vector<std::pair<Vec3, Vec3>> out;
  Random random(1);
  const auto box = wall->chart->box();
  for (int k = 0; out.size() < 100'000; ++k) {
    const ChartPoint p = scattered ? ChartPoint{random.uniform(0, box.width), random.uniform(0, box.height)}
                                   : ChartPoint{box.width * (k % 1000) / 1000, box.height * (k / 1000) / 101};
    if (const auto on = wall->chart->locate(p))
      out.emplace_back(position(wall->mesh(), *on), normal(wall->mesh(), *on));
  }
  return out;
}

void sight(benchmark::State& state) {
  const Sight asked(scene().wall, {scene().screen}, scene().eye);
  const auto all = places(scene().wall, state.range(0) == 1);
  std::size_t k = 0;
  for (auto _ : state) {
    const auto& [place, normal] = all[k++ % all.size()];
    benchmark::DoNotOptimize(asked.sees(place, normal));
  }
}
BENCHMARK(sight)->ArgName("scattered")->Arg(0)->Arg(1);

void view(benchmark::State& state) {
  std::vector<Vec2> middles;
  for (int j = 0; j < 29; ++j)
    for (int i = 0; i < 39; ++i) middles.push_back({50.0 + 100 * i, 50.0 + 100 * j});
  const Image design = dots({4000, 3000}, middles, 12);
  const auto camera = eye_camera(scene().eye, scene().look, scene().up, 60, design).value();
  const auto draped = Draped::make({scene().wall, {placed(design, CameraLay{camera})}, {scene().screen}});
  const std::vector<SeenWall> walls{{scene().wall, draped}, {scene().screen, nullptr}};
  const PictureSize size{1600, 1200};
  const auto eye = eye_camera(scene().eye, scene().look, scene().up, 66, size).value();
  for (auto _ : state) benchmark::DoNotOptimize(eye_view(walls, eye, size).value().rgb.data());
}
BENCHMARK(view)->Unit(benchmark::kMillisecond);

void stretch(benchmark::State& state) {
  const Image design(dots({400, 300}, {}, 1));
  const auto camera = eye_camera(scene().eye, scene().look, scene().up, 60, design).value();
  const StretchMap map{"bench", "barrel", scene().wall, placed(design, CameraLay{camera}), {scene().screen}};
  const auto path = (std::filesystem::temp_directory_path() / "pontata-bench-stretch.png").string();
  for (auto _ : state) benchmark::DoNotOptimize(write_stretch_map(map, path).value().area_m2);
  std::filesystem::remove(path);
}
BENCHMARK(stretch)->Unit(benchmark::kMillisecond);

}  // namespace
