#include "engine/document/plan_and_fact.h"

#include "engine/document/seam_edits.h"
#include "tests/document/full_job.h"

using namespace pontata;

namespace {

const PlanAndFact& of(const std::vector<PlanAndFact>& rows, std::uint32_t id) {
  const auto there = std::ranges::find(rows, GiornataId{id}, &PlanAndFact::id);
  REQUIRE(there != rows.end());
  return *there;
}

bool is_left_of(const RecordSeam& seam, Vec2 place) {
  const Vec2 a = to_vec(seam.course.front()), b = to_vec(seam.course.back());
  return (b.x - a.x) * (place.y - a.y) - (b.y - a.y) * (place.x - a.x) > 0;
}

}  // namespace

TEST_CASE("plan and fact stand side by side, each attempt with its own") {
  const auto doc = full_job();
  Flow flow;
  const auto rows = plan_and_facts(*doc, flow);
  REQUIRE(rows.size() == 3);
  // Giornata 1 was planned at 1 m2, half of it was painted: a quarter along u, the rest is giornata 3.
  const PlanAndFact& one = of(rows, 1);
  REQUIRE(one.facts.size() == 1);
  const AttemptFact& first = one.facts[0];
  CHECK(first.from == Date{2027, 5, 4});
  CHECK(first.hours == 6.5);
  CHECK(first.lay_hours == 1.25);
  CHECK(first.area_m2 == Approx(0.5).margin(1e-9));
  CHECK(first.laid_m2 == Approx(1).margin(1e-9));
  CHECK(first.planned_on.has_value());
  CHECK(first.planned_hours.value() == Approx(0.91 / 0.35 + 0.09 / 0.06));
  CHECK(one.area_m2 == Approx(1).margin(1e-9));
  CHECK(one.date == first.planned_on);
  // Plaster was laid for twice what was painted.
  REQUIRE(first.litres);
  CHECK(*first.litres == Approx(one.litres.value()));
  const PlanAndFact& two = of(rows, 2);
  REQUIRE(two.facts.size() == 2);
  CHECK(two.facts[0].failed);
  CHECK_FALSE(two.facts[1].failed);
  CHECK(two.facts[0].planned_on.has_value());
  CHECK(two.facts[1].from == Date{2027, 5, 12});
  const PlanAndFact& rest = of(rows, 3);
  CHECK(rest.facts.empty());
  CHECK(rest.date.has_value());
}

TEST_CASE("the later giornata lies against the earlier, whichever was drawn first") {
  for (const bool first_is_one : {true, false}) {
    auto doc = small_project();
    doc = done(write_diary(*doc, entry_of(1, first_is_one ? Date{2027, 5, 4} : Date{2027, 5, 9})));
    doc = done(write_diary(*doc, entry_of(2, {2027, 5, 6})));
    const auto found = overlaps(*doc, doc->walls[0]->id);
    REQUIRE(found.size() == 1);
    CHECK(found[0].earlier == GiornataId{first_is_one ? 1u : 2u});
    CHECK(found[0].length_m == Approx(1));
    CHECK_FALSE(found[0].same_day);
    const auto walls = record_walls(*doc);
    REQUIRE(walls.at(0).seams.size() == 1);
    // Their seam stands at u = 1.5; giornata 1 lies at lesser u.
    CHECK(is_left_of(walls[0].seams[0], {first_is_one ? 1.0 : 2.0, 1.0}));
  }
}

TEST_CASE("done again, a giornata lies over its neighbour that was later before") {
  auto doc = small_project();
  doc = done(write_diary(*doc, entry_of(1, {2027, 5, 4})));
  doc = done(write_diary(*doc, entry_of(2, {2027, 5, 6})));
  doc = done(fail_giornata(*doc, GiornataId{1}, {2027, 5, 7}, ""));
  CHECK(overlaps(*doc, doc->walls[0]->id).empty());  // one of them is not painted now
  doc = done(write_diary(*doc, entry_of(1, {2027, 5, 10})));
  REQUIRE(overlaps(*doc, doc->walls[0]->id).size() == 1);
  CHECK(overlaps(*doc, doc->walls[0]->id)[0].earlier == GiornataId{2});
}

TEST_CASE("on one day neither is known to be earlier") {
  auto doc = small_project();
  doc = done(write_diary(*doc, entry_of(1, {2027, 5, 4})));
  doc = done(write_diary(*doc, entry_of(2, {2027, 5, 4})));
  CHECK(overlaps(*doc, doc->walls[0]->id).at(0).same_day);
  CHECK(record_walls(*doc).at(0).seams.at(0).same_day);
}

TEST_CASE("the drawing tells numbers, days as written, and planned lines where they differ") {
  const auto doc = full_job();
  const auto walls = record_walls(*doc);
  REQUIRE(walls.at(0).patches.size() == 3);
  const RecordPatch& one = walls[0].patches[0];
  CHECK(one.painted);
  CHECK_FALSE(one.planned.empty());
  CHECK(one.dates == std::vector<std::string>{"2027-05-04"});
  const auto two = std::ranges::find_if(walls[0].patches, [](const auto& p) { return p.dates.size() == 2; });
  REQUIRE(two != walls[0].patches.end());
  CHECK(two->dates == std::vector<std::string>{"2027-05-06 failed", "2027-05-12 again"});
  CHECK(two->planned.empty());
}
