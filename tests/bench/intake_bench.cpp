// What a scan of one million triangles costs from its file to a wall one can paint on, phase by phase, with the memory
// it takes; and what a ray of the mouse costs on one and on five million triangles.
// Arguments: millions of triangles of the scan (1), then any of "barrel", "dome", "windows", "tower", "picking" (all).
#include <sys/resource.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <numbers>
#include <string>
#include <vector>

#include "engine/chart/charted_wall.h"
#include "engine/chart/cut_line.h"
#include "engine/chart/parameterise.h"
#include "tests/fixtures/glb_writer.h"
#include "tests/fixtures/mesh_files.h"
#include "tests/fixtures/scans.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;

double wall_clock() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}
double processor_clock() {
  rusage use{};
  getrusage(RUSAGE_SELF, &use);
  const auto seconds = [](const timeval& t) { return double(t.tv_sec) + 1e-6 * double(t.tv_usec); };
  return seconds(use.ru_utime) + seconds(use.ru_stime);
}
double peak_megabytes() {
  rusage use{};
  getrusage(RUSAGE_SELF, &use);
  return double(use.ru_maxrss) / 1024;
}

struct Phase {
  std::string name;
  double elapsed, processor, peak;
};

class Phases {
 public:
  template <class F>
  auto run(const std::string& name, F f) {
    const double wall = wall_clock(), processor = processor_clock();
    auto result = f();
    phases_.push_back({name, wall_clock() - wall, processor_clock() - processor, peak_megabytes()});
    return result;
  }
  void print() const {
    double wall = 0, processor = 0;
    std::printf("  %-28s %10s %10s %14s\n", "phase", "elapsed s", "CPU s", "peak so far MB");
    for (const Phase& p : phases_) {
      std::printf("  %-28s %10.2f %10.2f %14.0f\n", p.name.c_str(), p.elapsed, p.processor, p.peak);
      wall += p.elapsed, processor += p.processor;
    }
    std::printf("  %-28s %10.2f %10.2f\n", "all", wall, processor);
  }

 private:
  std::vector<Phase> phases_;
};

// Points 9 mm apart and off by 1 mm (standard deviation per coordinate; sum of twelve even draws, from memory).
Sheet rough(Sheet sheet) {
  Dice dice(7);
  const auto normal = [&] {
    double sum = -6;
    for (int i = 0; i < 12; ++i) sum += dice.unit();
    return 0.001 * sum;
  };
  for (Vec3& p : sheet.points) p += Vec3{normal(), normal(), normal()};
  return sheet;
}

// A barrel of radius 2 m with hollows and bulges of 3 cm.
Sheet barrel(double millions) {
  const int n = static_cast<int>(std::sqrt(5e5 * millions));
  return rough(grid_sheet(n, n, [](double s, double t) {
    const double r = 2 + 0.03 * std::sin(9 * s) * std::sin(11 * t);
    return Vec3{6.6 * s, -r * std::cos(kPi * t), r * std::sin(kPi * t)};
  }));
}

Sheet dome(double millions) { return rough(cap_sheet(3, 0.5 * kPi, static_cast<int>(std::sqrt(1e6 * millions / 6)))); }

// A wall with nine windows and a doorway.
Sheet windows(double millions) {
  const int n = static_cast<int>(std::sqrt(5.6e5 * millions));
  Sheet sheet = flat_sheet(6.6, 6.6, n, n);
  std::erase_if(sheet.triangles, [&](const Triangle& t) {
    const Vec3 c = (sheet.points[t[0]] + sheet.points[t[1]] + sheet.points[t[2]]) / 3.0;
    const auto away = [](double x) { return std::abs(x - 2 * std::round((x - 1.3) / 2) - 1.3); };
    return (away(c.x) < 0.3 && away(c.z) < 0.4) || (c.z < 0.5 && std::abs(c.x - 2.3) < 0.25);
  });
  return rough(std::move(sheet));
}

// A round tower of radius 1.5 m, closed all round.
Sheet tower(double millions) {
  const int n = static_cast<int>(std::sqrt(5e5 * millions)), row = n + 1;
  Sheet sheet = rough(grid_sheet(n, n, [](double s, double t) {
    return Vec3{-1.5 * std::cos(2 * kPi * s), 1.5 * std::sin(2 * kPi * s), 4.5 * t};
  }));
  for (Triangle& t : sheet.triangles)
    for (auto& corner : t)
      if (static_cast<int>(corner) % row == n) corner -= static_cast<std::uint32_t>(n);  // sewn up
  return sheet;
}

void intake(const std::string& name, const Sheet& sheet) {
  const TestFolder folder;
  const Sheet turned = y_up(sheet);
  const auto path = write_glb(folder.file("scan.glb"), {{turned.points, turned.triangles, {}, {}, {}, {}, {}}});
  std::printf("%s, %zu triangles (%.0f MB before it begins)\n", name.c_str(), sheet.triangles.size(), peak_megabytes());
  ScanOptions options;
  options.weld_m = 1e-4;
  Phases phases;
  auto scan = phases.run("reading and mending", [&] { return read_scan(path, options); });
  if (!scan) return void(std::printf("  %s\n", scan.problem().message().c_str()));
  const auto cuts = phases.run("cutting open", [&] { return cut_round_walls(scan->mesh, name, {}); });
  if (!cuts) return void(std::printf("  %s\n", cuts.problem().message().c_str()));
  auto mesh = std::make_shared<const SurfaceMesh>(std::move(scan->mesh));
  const auto places = phases.run("laying out flat", [&] { return parameterise(*mesh, name); });
  if (!places) return void(std::printf("  %s\n", places.problem().message().c_str()));
  auto chart = phases.run("certifying the chart", [&] { return Chart::certify(mesh, *places, name); });
  if (!chart) return void(std::printf("  %s\n", chart.problem().message().c_str()));
  const auto shared = std::make_shared<const Chart>(std::move(*chart));
  const auto metric = phases.run("metric", [&] { return Metric(shared, true); });
  const auto tree = phases.run("pick tree", [&] { return PickTree(mesh); });
  phases.print();
  std::printf("  stretch %.3f to %.3f, area %.4f m2, raw %.4f m2, %zu borders\n", shared->stretch().least,
              shared->stretch().greatest, metric.area(), metric.raw_area(), shared->border_loops().size());
  for (const auto& line : cuts->says()) std::printf("  %s\n", line.c_str());
  std::uint64_t bytes = 1469598103934665603u;  // FNV-1a over the places: the same on every run
  for (const LatticePoint& p : shared->places())
    for (const auto x : {p.x, p.y}) bytes = (bytes ^ static_cast<std::uint64_t>(x)) * 1099511628211u;
  std::printf("  places %016llx\n\n", static_cast<unsigned long long>(bytes));
}

void picking(double millions) {
  const ShapeMesh shape = tessellate(dome_spec(6, 3), {}, 9.3e-6 / millions);
  const auto mesh = std::make_shared<const SurfaceMesh>(shape.mesh);
  const PickTree tree(mesh);
  Dice dice(3);
  std::vector<double> took;
  for (int i = 0; i < 100'000; ++i) {
    const Vec3 from{dice.between(-1, 1), dice.between(-1, 1), dice.between(0, 1)};
    const Vec3 along{dice.between(-1, 1), dice.between(-1, 1), dice.between(0, 1)};
    const double before = wall_clock();
    const auto hit = tree.cast(from, along);
    took.push_back(wall_clock() - before);
    if (hit && hit->distance > 7) std::abort();
  }
  double mean = 0;
  for (const double t : took) mean += t / double(took.size());
  std::sort(took.begin(), took.end());
  std::printf("picking on %zu triangles: mean %.4f ms, p99 %.4f ms, worst %.4f ms\n", mesh->triangles.size(),
              1e3 * mean, 1e3 * took[took.size() * 99 / 100], 1e3 * took.back());
}

}  // namespace

int main(int count, char** arguments) {
  const double millions = count > 1 ? std::atof(arguments[1]) : 1;
  const std::vector<std::string> chosen(arguments + std::min(count, 2), arguments + count);
  const auto wanted = [&](const char* name) {
    return chosen.empty() || std::find(chosen.begin(), chosen.end(), name) != chosen.end();
  };
  if (wanted("barrel")) intake("rough barrel", barrel(millions));
  if (wanted("dome")) intake("rough dome", dome(millions));
  if (wanted("windows")) intake("rough wall with windows", windows(millions));
  if (wanted("tower")) intake("rough round tower", tower(millions));
  if (wanted("picking")) picking(1), picking(5);
  return 0;
}
