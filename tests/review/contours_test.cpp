#include <catch2/catch.hpp>

#include "tests/fixtures/pictures.h"
#include "tests/review/reviewed.h"

using namespace pontata;
using namespace pontata::layouts;

namespace {

// A flat wall of 4 m by 2 m whose picture is dark left of u = 2 and light right of it.
Reviewed half_dark() {
  Reviewed r = on_wall(on(flat(4, 2)));
  Image image{.width = 800, .height = 400, .rgb = {}};
  for (int y = 0; y < 400; ++y)
    for (int x = 0; x < 800; ++x)
      for (int k = 0; k < 3; ++k) image.rgb.push_back(x < 400 ? 40 : 210);
  const PictureFrame frame{.at = {0, 0}, .width = 4, .height = 2, .turn_deg = 0};
  r.contours = std::make_shared<ContourField>(contour_field(*fixtures::draped(r.layout.wall, image, frame)));
  return r;
}

}  // namespace

TEST_CASE("a seam on a contour is well hidden, one beside it is not") {
  Reviewed good = half_dark();
  add_box(good.layout, 0, 0, 2.002, 2);
  add_box(good.layout, 2.002, 0, 4, 2);
  CHECK(good.findings_of("off-contour").empty());
  Reviewed bad = half_dark();
  add_box(bad.layout, 0, 0, 2.05, 2);
  add_box(bad.layout, 2.05, 0, 4, 2);
  const auto found = bad.findings_of("off-contour");
  REQUIRE(found.size() == 1);
  CHECK(found[0].severity == Severity::warn);
  CHECK(found[0].value == Approx(1).margin(0.02));
  CHECK(found[0].giornate == std::vector<GiornataId>{GiornataId{1}, GiornataId{2}});
  CHECK(found[0].chart.u == Approx(2.05).margin(1e-3));
}

TEST_CASE("the share is of the seam's length") {
  Reviewed r = half_dark();
  // 1.2 m of the seam on the contour, then a jog of 0.3 m and 0.8 m beside it.
  add(r.layout, std::vector<ChartPoint>{{0, 0}, {2, 0}, {2, 1.2}, {2.3, 1.2}, {2.3, 2}, {0, 2}});
  add_box(r.layout, 0, 0, 4, 2);
  const auto found = r.findings_of("off-contour");
  REQUIRE(found.size() == 1);
  CHECK(found[0].value == Approx(1.1 / 2.3).margin(0.02));
  CHECK(found[0].chart.v > 1.2 - 1e-6);
  r.settings.off_contour_share = 0.6;
  CHECK(r.findings_of("off-contour").empty());
}

TEST_CASE("the wall's border needs no contour, a seam against the rest does") {
  Reviewed r = half_dark();
  add_box(r.layout, 0, 0, 4, 2);
  CHECK(r.findings_of("off-contour").empty());
  Reviewed alone = half_dark();
  add_box(alone.layout, 0, 0, 1, 2);
  const auto found = alone.findings_of("off-contour");
  REQUIRE(found.size() == 1);
  CHECK(found[0].giornate == std::vector<GiornataId>{GiornataId{1}});
  CHECK(found[0].says.find("2.00 of 2.00 m") != std::string::npos);
}

TEST_CASE("a finger's length of seam is left alone, and so is everything without a picture") {
  Reviewed r = half_dark();
  add_box(r.layout, 0, 0, 1, 2);
  add_box(r.layout, 1, 0, 4, 0.05);
  for (const Finding& f : r.findings_of("off-contour"))
    CHECK(f.giornate != std::vector<GiornataId>{GiornataId{1}, GiornataId{2}});
  r.contours = nullptr;
  CHECK(r.findings_of("off-contour").empty());
}

TEST_CASE("seams beyond the picture are not judged by it") {
  Reviewed r = half_dark();
  add_box(r.layout, 0, 0, 1, 2);
  add_box(r.layout, 1, 0, 4, 2);
  CHECK(r.findings_of("off-contour").size() == 1);
  const Image grey{250, 200, std::vector<std::uint8_t>(150000, 90)};
  r.draped =
      fixtures::draped(r.layout.wall, grey, PictureFrame{.at = {1.5, 0}, .width = 2.5, .height = 2, .turn_deg = 0});
  CHECK(r.findings_of("off-contour").empty());
}

TEST_CASE("a hair between two outlines counts as their common seam") {
  Reviewed r = half_dark();
  add_box(r.layout, 0, 0, 1, 2);
  add(r.layout, std::vector<ChartPoint>{{1 + 4e-8, 0}, {4, 0}, {4, 2}, {1 + 4e-8, 2}});
  REQUIRE(r.layout.network.faces_of(GiornataId{}).size() == 1);
  CHECK(r.findings_of("gap").empty());
  CHECK(r.findings_of("across-smooth").size() == 1);
  const auto found = r.findings_of("off-contour");
  REQUIRE(found.size() == 1);  // the seam once
  CHECK(found[0].giornate == std::vector<GiornataId>{GiornataId{1}, GiornataId{2}});
  r.zones = {keep_whole(1, box(0.8, 0.5, 1.2, 1.5))};
  const auto crossed = r.findings_of("crosses-keep-whole");
  REQUIRE(crossed.size() == 1);
  CHECK(crossed[0].value == Approx(1).epsilon(1e-6));
}
