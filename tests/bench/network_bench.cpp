// One edit in a network of 20,000 seams: 400 giornate of 50 seams, either tight beside each other or as islands in one
// rest face whose rim has all 20,000.
#include <benchmark/benchmark.h>

#include <cmath>
#include <set>

#include "engine/seams/network_codec.h"
#include "engine/seams/outline_edit.h"
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
BENCHMARK(check)->Unit(benchmark::kMillisecond);
BENCHMARK(save)->Unit(benchmark::kMillisecond);
BENCHMARK(load)->Unit(benchmark::kMillisecond);
BENCHMARK(face_at)->Unit(benchmark::kMicrosecond);
BENCHMARK(all_sums)->Unit(benchmark::kMillisecond);

}  // namespace
