// What undo costs in a project whose wall has 20,000 seams: keeping a step, undoing and redoing it, and the bytes of
// it.
#include <benchmark/benchmark.h>

#include "engine/document/edits.h"
#include "engine/document/history.h"
#include "engine/document/seam_edits.h"
#include "tests/bench/busy_network.h"
#include "tests/bench/busy_project.h"

namespace {

using namespace pontata;

DocumentRef busy_project() {
  static const DocumentRef kept = busy::project({.kind = ShapeKind::flat, .width = 10, .height = 10},
                                                [](const EdgeMeter& meter) { return busy::build(false, meter); });
  return kept;
}

std::vector<ChartPoint> chart(const Ring& ring) {
  std::vector<ChartPoint> points;
  for (const auto& p : ring) points.push_back(to_chart(p));
  return points;
}

Edited drawn(const Document& doc) {
  return *draw_outline(doc, doc.walls[0]->id, chart(busy::drawn(5.15, 5.25, 0.2, 100)), false, "");
}
Edited taken_away(const Document& doc) { return *remove_giornata(doc, GiornataId{100}); }
Edited nudged(const Document& doc) {
  const Network& n = doc.walls[0]->network;
  const FaceId f = n.faces_of({106})[0];
  return *nudge(doc, doc.walls[0]->id, to_chart(n.origin(n.cycle(n.face(f).outer)[12])), {0.01, 0.01}, 0.2);
}
Edited renamed(const Document& doc) { return *rename_giornata(doc, GiornataId{3}, "a name of some length"); }

void push(benchmark::State& state, Edited (*edit)(const Document&)) {
  const auto doc = busy_project();
  const Edited made = edit(*doc);
  for (auto _ : state) {
    History history(doc);
    history.push(made);
    benchmark::DoNotOptimize(history);
  }
}
void undo_and_redo(benchmark::State& state, Edited (*edit)(const Document&)) {
  // A document of its own, so that nobody else holds it and each step is truly unpacked.
  History history(std::make_shared<const Document>(*busy_project()));
  history.push(edit(*history.current()));
  for (auto _ : state) {
    history.undo();
    history.redo();
  }
  state.counters["bytes_step"] = static_cast<double>(history.step_bytes(0));
}

BENCHMARK_CAPTURE(push, outline_of_100, drawn)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(push, taken_away, taken_away)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(push, nudged, nudged)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(push, renamed, renamed)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(undo_and_redo, outline_of_100, drawn)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(undo_and_redo, taken_away, taken_away)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(undo_and_redo, nudged, nudged)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(undo_and_redo, renamed, renamed)->Unit(benchmark::kMillisecond);

}  // namespace
