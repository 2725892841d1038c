// One edit in a network of 20,000 seams: 400 giornate of 50 seams, either tight beside each other or as islands in one
// rest face whose rim has all 20,000.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <cmath>
#include <ctime>
#include <random>
#include <set>

#include "engine/seams/network_codec.h"
#include "engine/seams/outline_edit.h"
#include "engine/seams/seam_moves.h"
#include "tests/bench/busy_network.h"

namespace {

using namespace pontata;

EdgeMeter meter() {
  return [](LatticePoint a, LatticePoint b) {
    const ChartPoint p = to_chart(a), q = to_chart(b);
    return EdgeMeasure{0.5 * (p.u * q.v - q.u * p.v), 0, 0, std::hypot(q.u - p.u, q.v - p.v)};
  };
}

const Network& tight() {
  static const Network n = busy::build(false, meter());
  return n;
}
const Network& islands() {
  static const Network n = busy::build(true, meter());
  return n;
}

void insert(benchmark::State& state, const Network& n, const Ring& ring) {
  for (auto _ : state) benchmark::DoNotOptimize(insert_outline(n, ring, {9999}, meter()));
  std::set<const void*> old;
  n.visit_nodes([&](const void* p, std::size_t) { old.insert(p); });
  double fresh = 0, all = 0;
  insert_outline(n, ring, {9999}, meter())->network.visit_nodes([&](const void* p, std::size_t bytes) {
    all += static_cast<double>(bytes);
    if (!old.count(p)) fresh += static_cast<double>(bytes);
  });
  state.counters["seams"] = static_cast<double>(n.live_seams());
  state.counters["kB_step"] = fresh / 1000;
  state.counters["kB_all"] = all / 1000;
}

void insert_tight(benchmark::State& s) { insert(s, tight(), busy::drawn(5.15, 5.25, 0.2, 100)); }
void insert_islands(benchmark::State& s) { insert(s, islands(), busy::drawn(5.25, 5.25, 0.6, 100)); }
void insert_islands_fine(benchmark::State& s) { insert(s, islands(), busy::drawn(5.25, 5.25, 0.6, 4000)); }
void remove(benchmark::State& s) {
  for (auto _ : s) benchmark::DoNotOptimize(remove_giornata(tight(), {100}, meter()));
}
void join(benchmark::State& s) {
  for (auto _ : s) benchmark::DoNotOptimize(join_giornate(tight(), {106}, {107}, meter()));
}
void divide(benchmark::State& s) {
  const auto middle = tight().place_inside(tight().faces_of({106})[0]);
  const std::vector<LatticePoint> line{to_lattice({middle.u, middle.v - 1}), to_lattice({middle.u, middle.v + 1})};
  for (auto _ : s) benchmark::DoNotOptimize(divide_giornata(tight(), {106}, line, {9999}, meter()));
}
const ChartedWall& wall() {
  static const WallRef wall =
      build_wall({.kind = ShapeKind::flat, .width = busy::kSide * busy::kCell, .height = busy::kSide * busy::kCell}, {},
                 "wall")
          .value();
  return *wall;
}
// The same networks measured by that wall.
const Network& tight_wall() {
  static const Network n = busy::build(false, wall().metric->meter());
  return n;
}
const Network& islands_wall() {
  static const Network n = busy::build(true, wall().metric->meter());
  return n;
}
// Of 997 moves at random places the slowest twentieth tells: p95.
template <class Move>
void moves(benchmark::State& state, const Network& n, const Move& move) {
  std::mt19937 rng(3);
  std::vector<double> ms;
  double made = 0;
  for (auto _ : state)
    for (int i = 0; i < 997; ++i) {
      std::uint32_t s = 0;
      do s = static_cast<std::uint32_t>(rng() % (n.half_edge_slots() / 2));
      while (!n.alive(SeamId{s}) || n.on_border({s}));
      const std::clock_t begin = std::clock();
      const auto result = move(rng, s);
      ms.push_back(1000.0 * static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC);
      made += result.ok();
    }
  std::sort(ms.begin(), ms.end());
  state.counters["p50_ms"] = ms[ms.size() / 2];
  state.counters["p95_ms"] = ms[ms.size() * 95 / 100];
  state.counters["made"] = made / static_cast<double>(ms.size());
}
double random(std::mt19937& rng, double most) { return std::uniform_real_distribution<double>(-most, most)(rng); }
void nudge(benchmark::State& state, const Network& n) {
  moves(state, n, [&](std::mt19937& rng, std::uint32_t s) {
    const Vec2 by(random(rng, 0.02), random(rng, 0.02));
    return nudge_seam(wall(), n, to_chart(n.origin({s << 1})), by, 0.15);
  });
}
void nudge_tight(benchmark::State& s) { nudge(s, tight_wall()); }
void nudge_islands(benchmark::State& s) { nudge(s, islands_wall()); }
void move_nodes(benchmark::State& state) {
  moves(state, tight_wall(), [&](std::mt19937& rng, std::uint32_t s) {
    const ChartPoint p = to_chart(tight_wall().origin({s << 1}));
    return move_node(wall(), tight_wall(), p, {p.u + random(rng, 0.01), p.v + random(rng, 0.01)});
  });
}
void redraw(benchmark::State& state, const Network& n) {
  moves(state, n, [&](std::mt19937& rng, std::uint32_t s) {
    HalfEdgeId h{s << 1};
    std::vector<ChartPoint> line{to_chart(n.origin(h))};
    for (int i = 0; i < 20; ++i) h = n.half_edge(h).next;
    const ChartPoint a = line[0], b = to_chart(n.origin(h));
    const double bend = random(rng, 0.03);
    for (int i = 1; i < 100; ++i) {
      const double t = i / 100.0, off = bend * std::sin(M_PI * t) / std::hypot(b.u - a.u, b.v - a.v);
      line.push_back({a.u + t * (b.u - a.u) - off * (b.v - a.v), a.v + t * (b.v - a.v) + off * (b.u - a.u)});
    }
    line.push_back(b);
    return redraw_seam(wall(), n, line);
  });
}
void redraw_tight(benchmark::State& s) { redraw(s, tight_wall()); }
void redraw_islands(benchmark::State& s) { redraw(s, islands_wall()); }
void check(benchmark::State& s) {
  for (auto _ : s) benchmark::DoNotOptimize(tight().check());
}
void save(benchmark::State& s) {
  for (auto _ : s) benchmark::DoNotOptimize(NetworkCodec::to_json(tight()).dump());
}
void load(benchmark::State& s) {
  const auto json = NetworkCodec::to_json(tight());
  for (auto _ : s) benchmark::DoNotOptimize(NetworkCodec::from_json(json));
}
void face_at(benchmark::State& s) {
  int i = 0;
  for (auto _ : s) {
    ++i;
    benchmark::DoNotOptimize(tight().face_at(to_lattice({0.0123 * (i % 800), 0.0117 * (i % 839)})));
  }
}
void all_sums(benchmark::State& s) {
  for (auto _ : s)
    for (const FaceId f : tight().faces()) benchmark::DoNotOptimize(tight().sums(f));
}

BENCHMARK(insert_tight)->Unit(benchmark::kMillisecond);
BENCHMARK(insert_islands)->Unit(benchmark::kMillisecond);
BENCHMARK(insert_islands_fine)->Unit(benchmark::kMillisecond);
BENCHMARK(remove)->Unit(benchmark::kMillisecond);
BENCHMARK(join)->Unit(benchmark::kMillisecond);
BENCHMARK(divide)->Unit(benchmark::kMillisecond);
BENCHMARK(nudge_tight)->Unit(benchmark::kMillisecond)->Iterations(1);
BENCHMARK(nudge_islands)->Unit(benchmark::kMillisecond)->Iterations(1);
BENCHMARK(move_nodes)->Unit(benchmark::kMillisecond)->Iterations(1);
BENCHMARK(redraw_tight)->Unit(benchmark::kMillisecond)->Iterations(1);
BENCHMARK(redraw_islands)->Unit(benchmark::kMillisecond)->Iterations(1);
BENCHMARK(check)->Unit(benchmark::kMillisecond);
BENCHMARK(save)->Unit(benchmark::kMillisecond);
BENCHMARK(load)->Unit(benchmark::kMillisecond);
BENCHMARK(face_at)->Unit(benchmark::kMicrosecond);
BENCHMARK(all_sums)->Unit(benchmark::kMillisecond);

}  // namespace
