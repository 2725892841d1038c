// No giornata of a proposal has an end that the review calls thin.
#include <catch2/catch.hpp>

#include "engine/review/findings.h"
#include "tests/proposal/layout_fixtures.h"

using namespace pontata;

TEST_CASE("no giornata of a proposal ends thin, by the review's own rule") {
  struct Kind {
    const char* name;
    ShapeSpec spec;
  };
  for (const Kind& kind : {Kind{"flat", layouts::flat(5, 3.2)}, Kind{"barrel", layouts::barrel(4, 5, 2)},
                           Kind{"dome", layouts::dome(5, 2.5)}, Kind{"apse", layouts::apse(3, 2.5)},
                           Kind{"lunette", {.kind = ShapeKind::lunette, .span = 5, .rise = 2.5}}}) {
    SECTION(kind.name) {
      Proposed on(kind.spec);
      on.lay_picture(7, 6);
      ProposalSettings settings;
      settings.atoms = 1200;
      const auto proposal = on.propose(settings);
      REQUIRE(proposal.ok());
      const WallMeasure measure = on.measure(*proposal);
      std::vector<Giornata> records;
      for (const GiornataId id : proposal->fresh) {
        Giornata g;
        g.id = id;
        g.number = static_cast<int>(id.value);
        records.push_back(g);
      }
      ReviewInput input;
      input.wall = on.layout.wall;
      input.network = &proposal->network;
      input.giornate = records;
      input.measure = &measure;
      std::size_t thin = 0;
      for (const Finding& f : review(input, {})) {
        if (f.rule != "thin-end") continue;
        ++thin;
        UNSCOPED_INFO(f.says << " at " << f.chart.u << "," << f.chart.v);
      }
      CHECK(thin == 0);
    }
  }
}
