// What the flow takes over from before an edit is, bit for bit, what it would make anew.
#include <catch2/catch.hpp>

#include "engine/document/flow.h"
#include "tests/document/folders.h"
#include "tests/fixtures/storm/storm_apply.h"
#include "tests/fixtures/storm/storm_draw.h"
#include "tests/fixtures/storm/storm_walls.h"
#include "tests/fixtures/told.h"

using namespace pontata;
using namespace pontata::storm;

namespace {

void check_same(const WallFigures& again, const WallFigures& anew) {
  CHECK(again.measure.unassigned_m2 == anew.measure.unassigned_m2);
  CHECK(again.measure.residual_m2 == anew.measure.residual_m2);
  REQUIRE(again.measure.giornate.size() == anew.measure.giornate.size());
  REQUIRE(again.hours.size() == anew.hours.size());
  for (std::size_t i = 0; i < again.hours.size(); ++i) {
    INFO("giornata " << anew.measure.giornate[i].id.value);
    CHECK(fixtures::told(again.measure.giornate[i]) == fixtures::told(anew.measure.giornate[i]));
    CHECK(again.hours[i].id == anew.hours[i].id);
    CHECK(again.hours[i].hours == anew.hours[i].hours);
    CHECK(again.hours[i].fits == anew.hours[i].fits);
  }
}

}  // namespace

TEST_CASE("figures after edits of all kinds, and after steps back, are those of a fresh start") {
  for (const std::string& wall : wall_names()) {
    const TemporaryFolder folder;
    Generator generator(21, {25, 500});
    Applier applier;
    Flow flow;
    std::vector<DocumentRef> past{bare_project(wall, folder.path())};
    for (int tried = 0; past.size() < 90 && tried < 900; ++tried) {
      const Op op = generator.next(*past.back());
      if (op.kind == OpKind::undo && past.size() > 9) past.resize(past.size() - 1 - past.size() % 8);
      if (op.kind == OpKind::undo || op.kind == OpKind::redo || op.kind == OpKind::reload) continue;
      const auto made = applier.apply(past.back(), op);
      if (!made) continue;
      past.push_back(made->document);
      if (past.size() % 3 == 0) continue;  // two or more edits at once
      INFO(wall << " after " << op_text(op));
      Flow fresh;
      for (const auto& item : past.back()->walls)
        check_same(*flow.figures(*past.back(), item->id), *fresh.figures(*past.back(), item->id));
    }
    CHECK(past.size() >= 60);
  }
}
