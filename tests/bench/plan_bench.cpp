// Cost of the plan of 500 giornate in a barrel with all that can be told of a job: pairs, days off, arriccio, weather
// of every day, days set by hand, patches behind ties and standards, loads of decks; two painters.
#include <benchmark/benchmark.h>

#include <cmath>
#include <numbers>
#include <random>

#include "engine/document/flow.h"
#include "engine/seams/outline_edit.h"
#include "tests/bench/busy_project.h"

using namespace pontata;

namespace {

constexpr int kColumns = 25, kRows = 20;
constexpr double kCell = 0.8;  // m

const ShapeSpec kBarrel{.kind = ShapeKind::barrel,
                        .span = 2 * kRows * kCell / std::numbers::pi,
                        .length = kColumns * kCell,
                        .rise = kRows * kCell / std::numbers::pi};

// A corner of the grid, shaken inside the wall.
LatticePoint corner(int column, int row) {
  const auto inside = [](int i, int most) { return i > 0 && i < most ? 0.2 * kCell : 0.0; };
  return to_lattice({column * kCell + inside(column, kColumns) * std::sin(3.0 * column + 5.0 * row),
                     row * kCell + inside(row, kRows) * std::cos(2.0 * column + 7.0 * row)});
}

Network cells(const EdgeMeter& meter) {
  const auto all = [](int column, int row) { return corner(column * kColumns, row * kRows); };
  const std::vector<Ring> border{{all(0, 0), all(1, 0), all(1, 1), all(0, 1)}};
  Network network = Network::from_border(border, meter).value();
  std::uint32_t id = 0;
  for (int row = 0; row < kRows; ++row)
    for (int column = 0; column < kColumns; ++column) {
      const Ring ring{corner(column, row), corner(column + 1, row), corner(column + 1, row + 1),
                      corner(column, row + 1)};
      network = insert_outline(network, ring, {++id}, meter)->network;
    }
  return network;
}

std::shared_ptr<const Job> job_of(const WallId wall) {
  std::mt19937 random(9);
  constexpr std::uint32_t kCount = kColumns * kRows;
  Job job;
  const auto any = [&] { return GiornataId{static_cast<std::uint32_t>(1 + random() % kCount)}; };
  for (int k = 0; k < 60; ++k) job.pairs.push_back({any(), any(), static_cast<PairKind>(k % 3)});
  for (int k = 0; k < 1500; ++k)
    job.weather.push_back({add_days({2027, 1, 1}, k), {15 + 10 * std::sin(k / 58.0), 60, 3}, 4.0});
  for (int k = 0; k < 50; ++k)
    job.days_off.push_back({add_days({2027, 5, 1}, 14 * k), add_days({2027, 5, 1}, 14 * k), DayOffWhy::rest, ""});
  job.ground.push_back({wall, 0, {2027, 4, 10}, {}, "", false, false, false, ""});
  for (std::uint32_t id = 1; id <= kCount; id += 9)
    job.giornate.push_back(
        {{id}, id % 2 ? std::optional(add_days({2027, 6, 1}, static_cast<int>(id))) : std::nullopt, id % 4 == 0, {}});
  return std::make_shared<const Job>(std::move(job));
}

DocumentRef with_start(const Document& doc, Date start) {
  auto next = std::make_shared<Document>(doc);
  next->settings.calendar.start = start;
  return next;
}

const Document& the_project() {
  static const DocumentRef project = [] {
    auto doc = std::make_shared<Document>(*busy::project(kBarrel, cells));
    doc->settings.calendar.rate_m2_per_h = 0.12;
    doc->settings.calendar.painters = 2;
    doc->settings.calendar.load_kg = {600};
    doc->written = job_of(doc->walls[0]->id);
    return doc;
  }();
  return *project;
}

// Measures of the wall are kept; hours, plan and edges are made again.
void plan_of_500(benchmark::State& state) {
  Flow flow;
  flow.giornate(the_project());
  int days = 0;
  std::size_t issues = 0;
  for (auto _ : state) {
    const DocumentRef doc = with_start(the_project(), add_days({2027, 5, 3}, ++days));
    benchmark::DoNotOptimize(flow.giornate(*doc)->size());
    issues = flow.plan(*doc)->issues.size();
  }
  state.counters["issues"] = static_cast<double>(issues);
}
BENCHMARK(plan_of_500)->Unit(benchmark::kMillisecond);

// Order and days alone, as they are made again with each edit; what a project is that has only a rate.
void order_and_days(benchmark::State& state) {
  Flow flow;
  Document doc = the_project();
  if (state.range(0) == 0) doc.written = nullptr, doc.settings.calendar.load_kg.clear();
  const auto figures = flow.figures(doc, doc.walls[0]->id);
  std::vector<PlanInput> inputs;
  for (std::size_t i = 0; i < figures->measure.giornate.size(); ++i)
    inputs.push_back({.measure = figures->measure.giornate[i],
                      .hours = figures->hours[i],
                      .number = static_cast<int>(i) + 1,
                      .wall = doc.walls[0]->id,
                      .mortar_kg = 30});
  const Job& job = doc.job();
  const PlanFacts facts{.pairs = job.pairs, .days_off = job.days_off, .ground = job.ground, .weather = job.weather};
  for (auto _ : state) benchmark::DoNotOptimize(make_plan(inputs, doc.settings.calendar, facts).days.size());
}
BENCHMARK(order_and_days)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

// Drips, circles and pairs in a tangle: a thousand giornate, five thousand precedences at random.
void order_of_a_tangle(benchmark::State& state) {
  std::mt19937 random(4);
  std::vector<GiornataId> list;
  for (std::uint32_t id = 1; id <= 1000; ++id) list.push_back({id});
  std::vector<Precedence> all;
  const auto any = [&] { return GiornataId{static_cast<std::uint32_t>(1 + random() % 1000)}; };
  for (int k = 0; k < 5000; ++k)
    all.push_back({any(), any(), static_cast<PrecedenceWhy>(random() % 4), 0.01 * static_cast<double>(random() % 100)});
  for (auto _ : state) benchmark::DoNotOptimize(order_by(list, all).order.size());
}
BENCHMARK(order_of_a_tangle)->Unit(benchmark::kMillisecond);

}  // namespace
