#include <catch2/catch.hpp>

#include "tests/review/reviewed.h"

using namespace pontata;
using namespace pontata::layouts;

TEST_CASE("a row of giornate with room enough has no findings") {
  Reviewed r = rows(1, 4);
  r.calendar.rate_m2_per_h = 0.2;  // 5 h each of 7
  for (const Finding& f : r.findings()) FAIL_CHECK(f.rule << ": " << f.says);
}

TEST_CASE("a giornata over the window is to be decided, with how much too large it is") {
  Reviewed r = on_wall(on(flat(6, 4)));
  add_box(r.layout, 0, 0, 2, 2);  // 4 m2
  add_box(r.layout, 2, 0, 3, 2);  // 2 m2
  r.calendar.rate_m2_per_h = 0.4;
  const auto found = r.findings_of("too-large");
  REQUIRE(found.size() == 1);
  CHECK(found[0].severity == Severity::decide);
  CHECK(found[0].giornate == std::vector<GiornataId>{GiornataId{1}});
  CHECK(found[0].value == Approx(10));
  CHECK(found[0].limit == Approx(7));
  CHECK(found[0].says.find("Giornata 1") == 0);
  CHECK(found[0].says.find("1.20 m²") != std::string::npos);  // 3 h at 0.4 m2/h
  CHECK(found[0].at.x == Approx(found[0].chart.u).margin(1e-6));
  r.calendar.window_h = 2;
  CHECK(r.findings_of("too-large").size() == 2);
}

TEST_CASE("exactly the window fits") {
  Reviewed r = on_wall(on(flat(6, 4)));
  add_box(r.layout, 0, 0, 2, 2);
  r.calendar.rate_m2_per_h = 4.0 / 6.999;
  CHECK(r.findings_of("too-large").empty());
  r.calendar.rate_m2_per_h = 4.0 / 7.001;
  CHECK(r.findings_of("too-large").size() == 1);
}

TEST_CASE("without a rate nothing is called too large") {
  Reviewed r = on_wall(on(flat(9, 9)));
  add_box(r.layout, 0, 0, 9, 9);
  CHECK(r.findings_of("too-large").empty());
}

TEST_CASE("a small piece left over is noted, a large one is work to come") {
  Reviewed r = on_wall(on(flat(4, 4)));
  add_box(r.layout, 0, 0, 2, 4);
  add_box(r.layout, 2.005, 0, 4, 4);  // a gap 5 mm wide, 0.02 m2
  const auto found = r.findings_of("gap");
  REQUIRE(found.size() == 1);
  CHECK(found[0].severity == Severity::note);
  CHECK(found[0].value == Approx(0.02).epsilon(1e-5));
  CHECK(found[0].giornate == std::vector<GiornataId>{GiornataId{1}, GiornataId{2}});
  CHECK(found[0].chart.u == Approx(2.0025).margin(0.0025));
  Reviewed wide = on_wall(on(flat(4, 4)));
  add_box(wide.layout, 0, 0, 2, 4);
  add_box(wide.layout, 2.1, 0, 4, 4);
  CHECK(wide.findings_of("gap").empty());
  Reviewed strip = on_wall(on(flat(4, 4)));
  add_box(strip.layout, 0, 0, 2, 4);
  add_box(strip.layout, 2.05, 0, 4, 4);  // 0.2 m2, but no plasterer lays 50 mm by itself
  REQUIRE(strip.findings_of("gap").size() == 1);
  CHECK(strip.findings_of("gap")[0].says == "A strip of 0.20 m², only about 49 mm wide, belongs to no giornata.");
}

TEST_CASE("findings are sorted, the ones to be decided first, and the same every time") {
  Reviewed r = rows(2, 3, 2, 2);
  r.calendar.rate_m2_per_h = 0.2;
  r.zones.push_back(keep_whole(1, box(1.5, 1.5, 2.5, 2.5), "head"));
  r.order = {4, 5, 6, 1, 2, 3};
  const auto first = r.findings(), second = r.findings();
  REQUIRE(first.size() > 8);
  REQUIRE(first.size() == second.size());
  for (std::size_t i = 0; i < first.size(); ++i) {
    CHECK(first[i].says == second[i].says);
    CHECK(first[i].value == second[i].value);
    CHECK_FALSE(first[i].remedy.empty());
    if (i > 0) CHECK(first[i].severity <= first[i - 1].severity);
  }
}

TEST_CASE("a cancelled review ends early with what it has") {
  Reviewed r = rows(2, 3, 2, 2);
  r.calendar.rate_m2_per_h = 0.2;
  Progress progress;
  progress.cancelled = true;
  const auto found = r.findings(&progress);
  CHECK(std::ranges::count(found, "too-large", &Finding::rule) == 6);  // sizes come first
  CHECK(std::ranges::count(found, "thin-end", &Finding::rule) == 0);
}

TEST_CASE("severities have their words") {
  CHECK(severity_name(Severity::note) == "note");
  CHECK(severity_name(Severity::warn) == "warn");
  CHECK(severity_name(Severity::decide) == "decide");
}
