#include <catch2/catch.hpp>
#include <cmath>

#include "tests/review/reviewed.h"

using namespace pontata;
using namespace pontata::layouts;

TEST_CASE("a sharp tip is warned of with its angle") {
  Reviewed r = on_wall(on(flat(4, 4)));
  add(r.layout, std::vector<ChartPoint>{{1, 1}, {3, 1.25}, {1, 1.5}});  // tip of 2 atan(0.25/2) = 14.25 degrees
  const auto found = r.findings_of("thin-end");
  REQUIRE(found.size() == 1);
  CHECK(found[0].severity == Severity::warn);
  CHECK(found[0].giornate == std::vector<GiornataId>{GiornataId{1}});
  CHECK(found[0].chart.u > 2.4);
  CHECK(found[0].says.find("Giornata 1") == 0);
  CHECK(found[0].value < found[0].limit);
}

TEST_CASE("a narrow tongue is warned of with its width") {
  Reviewed r = on_wall(on(flat(4, 4)));
  add(r.layout,
      std::vector<ChartPoint>{{1, 1}, {2, 1}, {2, 1.48}, {2.6, 1.48}, {2.6, 1.52}, {2, 1.52}, {2, 2}, {1, 2}});
  const auto found = r.findings_of("thin-end");
  REQUIRE(found.size() == 1);
  CHECK(found[0].value == Approx(40).margin(3));
  CHECK(found[0].limit == 60);
  CHECK(found[0].chart.u > 2);
}

TEST_CASE("a giornata that is small both ways is thin everywhere, by its widest disc") {
  Reviewed r = on_wall(on(flat(3, 2)));
  add_box(r.layout, 1, 1, 1.03, 1.03);               // a square's widest disc is as wide as its side
  add(r.layout, blob({2, 1}, 0.025, 0, 40));         // a round spot, 50 mm across
  add(r.layout, std::vector<ChartPoint>{{0.5, 0.5},  // even triangle of 60 mm: 2 r = 60 / sqrt(3) mm
                                        {0.56, 0.5},
                                        {0.53, 0.5 + 0.03 * std::sqrt(3.0)}});
  add_box(r.layout, 2.5, 1, 2.56, 1.06);  // just the limit: wide enough
  const auto found = r.findings_of("thin-end");
  REQUIRE(found.size() == 3);
  const double widths[] = {30, 50, 60 / std::sqrt(3.0)};
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK(found[i].giornate == std::vector<GiornataId>{GiornataId{static_cast<std::uint32_t>(i) + 1}});
    CHECK(found[i].severity == Severity::warn);
    CHECK(found[i].value == Approx(widths[i]).epsilon(0.02));
    CHECK(found[i].limit == 60);
    CHECK(found[i].says.find("at its widest") != std::string::npos);
  }
  CHECK(found[0].chart.u == Approx(1.015).margin(0.01));
  CHECK(found[0].chart.v == Approx(1.015).margin(0.01));
  r.cache = std::make_shared<ReviewCache>();
  (void)r.findings_of("thin-end");
  CHECK(r.findings_of("thin-end")[0].says == found[0].says);  // the same words from the cache
}

TEST_CASE("square and round giornate have no thin ends, also on a dome") {
  Reviewed r = on_wall(on(dome(5, 2.5)));
  const ChartBox b = r.layout.wall->chart->box();
  add(r.layout, blob({0.5 * b.width, 0.5 * b.height}, 0.5, 0.1, 60));
  add(r.layout, blob({0.25 * b.width, 0.5 * b.height}, 0.6, 0.1, 60));
  for (const Finding& f : r.findings_of("thin-end")) FAIL_CHECK(f.says);
}

TEST_CASE("what was laid flat once is not laid flat again, unless outline or limits changed") {
  Reviewed r = on_wall(on(flat(4, 4)));
  add_box(r.layout, 1, 1, 2, 2);
  r.cache = std::make_shared<ReviewCache>();
  CHECK(r.findings_of("thin-end").empty());
  REQUIRE(r.cache->thin.count(GiornataId{1}) == 1);
  r.cache->thin[GiornataId{1}].place =
      ThinPlace{0.03, 180, {0, 0}, {1.5, 1.5}};  // seen again only if the cache is used
  CHECK(r.findings_of("thin-end").size() == 1);
  r.settings.tip_mm = 50;
  CHECK(r.findings_of("thin-end").empty());
}
