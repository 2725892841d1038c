// The order of a proposal: top down by pontata, no circle in what must be before what.
#include <catch2/catch.hpp>
#include <functional>
#include <map>
#include <set>

#include "tests/proposal/layout_fixtures.h"

using namespace pontata;

namespace {

using Graph = std::map<std::uint32_t, std::set<std::uint32_t>>;

// A node from which a way leads back to it. Independent of the product: plain depth-first search.
bool has_circle(const Graph& graph) {
  std::map<std::uint32_t, int> state;  // 1: on the way, 2: done
  const std::function<bool(std::uint32_t)> visit = [&](std::uint32_t n) {
    if (state[n] == 1) return true;
    if (state[n] == 2) return false;
    state[n] = 1;
    if (const auto it = graph.find(n); it != graph.end())
      for (const std::uint32_t next : it->second)
        if (visit(next)) return true;
    state[n] = 2;
    return false;
  };
  for (const auto& [n, after] : graph)
    if (visit(n)) return true;
  return false;
}

}  // namespace

TEST_CASE("giornate of a proposal can be painted in its order: no circle of water and decks, top down") {
  struct Kind {
    const char* name;
    ShapeSpec spec;
  };
  for (const Kind& kind : {Kind{"flat", layouts::flat(5, 5)}, Kind{"barrel", layouts::barrel(4, 5, 2)},
                           Kind{"dome", layouts::dome(5, 2.5)}, Kind{"apse", layouts::apse(3, 2.5)}}) {
    SECTION(kind.name) {
      Proposed on(kind.spec);
      on.lay_picture(7, 6);
      on.input.calendar.start = {2027, 5, 3};
      ProposalSettings settings;
      settings.atoms = 1200;
      const auto proposal = on.propose(settings);
      REQUIRE(proposal.ok());
      const WallMeasure measure = on.measure(*proposal);
      std::vector<PlanInput> inputs;
      for (const GiornataMeasure& m : measure.giornate)
        inputs.push_back({m, painting_hours(*on.layout.wall, proposal->network, m, {}, on.input.calendar)});
      const Plan plan = make_plan(inputs, on.input.calendar);
      REQUIRE(plan.days.size() == proposal->fresh.size());

      // What must be before what: water that runs from one onto another where the wall is steep, and decks.
      constexpr double kDab = 0.05;  // m, as the plan
      std::map<std::uint32_t, int> deck;
      for (std::size_t k = 0; k < proposal->fresh.size(); ++k) deck[proposal->fresh[k].value] = proposal->deck[k];
      Graph graph;
      std::size_t runs = 0;
      for (const GiornataMeasure& m : measure.giornate) {
        for (const auto& run : m.runs_onto)
          if (run.width_m - run.crown_m > kDab) graph[m.id.value].insert(run.id.value), ++runs;
        for (const GiornataMeasure& below : measure.giornate)
          if (deck[m.id.value] > deck[below.id.value]) graph[m.id.value].insert(below.id.value);
      }
      CHECK(runs > 0);
      CHECK_FALSE(has_circle(graph));
      for (const PlanIssue& issue : plan.issues) {
        INFO(issue.says);
        CHECK(issue.rule != "circle");
        CHECK((issue.rule != "drips" || issue.advice));
      }
      // The plan is a topological order of it.
      std::map<std::uint32_t, std::size_t> place;
      for (std::size_t k = 0; k < plan.days.size(); ++k) place[plan.days[k].id.value] = k;
      for (const auto& [before, after] : graph)
        for (const std::uint32_t n : after) CHECK(place[before] < place[n]);
    }
  }
}
