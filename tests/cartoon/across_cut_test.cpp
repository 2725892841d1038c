// A giornata that crosses the cut of a wall that closes round itself prints as one pattern.
#include <catch2/catch.hpp>

#include "engine/cartoon/pattern.h"
#include "engine/cartoon/pattern_picture.h"
#include "engine/cartoon/seam_index.h"
#include "engine/cartoon/sheets.h"
#include "tests/fixtures/cartoons.h"
#include "tests/fixtures/rounds.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

std::vector<Pattern> patterns_of(const CartoonInput& input, std::size_t giornata) {
  auto made = make_patterns(input.walls[0], input.walls[0].giornate.at(giornata), nullptr);
  if (!made) FAIL(made.problem().message());
  return std::move(*made);
}

double flat_area(const Pattern& p) {
  double sum = 0;
  for (const Triangle& t : p.patch.triangles)
    sum += 0.5 * cross2(p.flat.flat[t[1]] - p.flat.flat[t[0]], p.flat.flat[t[2]] - p.flat.flat[t[0]]);
  return sum;
}
double rim_length(const Pattern& p) {
  double sum = 0;
  for (const auto& line : p.outline)
    for (std::size_t i = 0; i < line.size(); ++i) sum += glm::distance(line[i], line[(i + 1) % line.size()]) / 1000;
  return sum;
}

const Outline kNotched{{7.2, 0.5}, {8.4, 0.4}, {8.9, 0.9}, {8.3, 1.1}, {8.8, 1.6}, {7.4, 1.5}, {7.9, 1.0}};

}  // namespace

TEST_CASE("a pattern across the cut is one piece, as the same giornata away from it") {
  Round plain(Turn{}), cut(Turn{.cut = 32});
  plain.add(kNotched);
  cut.add(shifted(kNotched, -8));
  REQUIRE(cut.network.faces_of({1}).size() == 2);
  const auto one = cartoon_input(plain), two = cartoon_input(cut);
  const auto a = patterns_of(one, 0), b = patterns_of(two, 0);
  REQUIRE(a.size() == 1);
  REQUIRE(b.size() == 1);
  CHECK(b[0].patch.rims.size() == 1);
  CHECK(b[0].parts == 1);
  CHECK(flat_area(a[0]) == Approx(flat_area(b[0])).epsilon(1e-6));
  CHECK(rim_length(a[0]) == Approx(rim_length(b[0])).epsilon(1e-6));
  CHECK(rim_length(b[0]) == Approx(cut.measure().giornate[0].perimeter_m).epsilon(1e-4));
  CHECK(a[0].flat.max_strain < 1e-6);  // a drum unrolls
  CHECK(b[0].flat.max_strain < 1e-6);
  CHECK(b[0].flat.misfit_mm < 1e-3);
  // All of its rim borders rest: the cut is none of it.
  REQUIRE(b[0].stretches.size() == 1);
  CHECK(b[0].stretches[0].beyond == Beyond::rest);
  // Corner by corner the two prints are one figure.
  std::vector<Vec2> here, there;
  const auto corner = [](const Pattern& p, ChartPoint at) {
    for (std::size_t k = 0; k < p.patch.outlines[0].size(); ++k)
      if (p.patch.outlines[0][k] == to_lattice(at)) return p.flat.flat[p.patch.rims[0][p.patch.corners[0][k]]];
    FAIL("no such corner");
    return Vec2{0, 0};
  };
  for (const ChartPoint p : kNotched) {
    here.push_back(corner(a[0], p));
    there.push_back(corner(b[0], {p.u < 8 ? p.u + 8 : p.u - 8, p.v}));
  }
  CHECK(fit_rigid(here, there).worst < 1e-6);
}

TEST_CASE("a ring round a hole across the cut is one pattern with two rims") {
  Round r(Turn{});
  r.add(rectangle_of(15.75, 0.75, 16.25, 1.25));
  r.add(rectangle_of(15.25, 0.25, 16.75, 1.75));  // what is left is a ring of two faces
  REQUIRE(r.network.faces_of({2}).size() == 2);
  const auto input = cartoon_input(r);
  const auto patterns = patterns_of(input, 1);
  REQUIRE(patterns.size() == 1);
  CHECK(patterns[0].patch.rims.size() == 2);
  CHECK(flat_area(patterns[0]) == Approx(r.measure().giornate[1].area_m2).epsilon(1e-5));
  CHECK(patterns[0].flat.max_strain < 1e-6);
  const auto inner = patterns_of(input, 0);
  SeamIndex seams;
  seams.add(patterns[0]);
  seams.add(inner[0]);
  CHECK(seams.mismatch(inner[0]) < 1e-3);
  CHECK(inner[0].stretches.size() == 1);
  CHECK(inner[0].stretches[0].neighbour == GiornataId{2});
}

TEST_CASE("what lies over the cut is named on the pattern") {
  Round r(Turn{});
  r.add(rectangle_of(15, 0.5, 16, 1.5));
  r.add(rectangle_of(0, 0.75, 1, 1.25));
  const auto input = cartoon_input(r);
  const auto left = patterns_of(input, 0);
  REQUIRE(left.size() == 1);
  double beside = 0, edge = 0;
  for (const RimStretch& s : left[0].stretches) {
    double length = 0;
    for (std::size_t i = 0; i + 1 < s.line.size(); ++i) length += glm::distance(s.line[i], s.line[i + 1]);
    if (s.neighbour == GiornataId{2}) beside += length;
    if (s.beyond == Beyond::border) edge += length;
  }
  CHECK(beside == Approx(500).epsilon(1e-3));  // mm
  CHECK(edge == 0);                            // nowhere does the wall end
}

TEST_CASE("a giornata all round the wall prints as one open strip") {
  Round r(Turn{});
  r.add(rectangle_of(1, 0.5, 8.9, 1.5));
  r.add(rectangle_of(8.9, 0.5, 13, 1.5));
  r.add(rectangle_of(13, 0.5, 17, 1.5));
  for (const GiornataId other : {GiornataId{2}, GiornataId{3}}) {
    const auto joined = join_giornate(r.network, {1}, other, r.meter(), r.wall->chart.get());
    REQUIRE(joined);
    r.network = *joined;
    r.giornate.pop_back();
  }
  CHECK(r.measure().giornate[0].perimeter_m == Approx(2 * 16).epsilon(1e-3));  // its upper and lower edge alone
  const auto input = cartoon_input(r);
  const auto patterns = patterns_of(input, 0);
  REQUIRE(patterns.size() == 1);
  CHECK(patterns[0].patch.rims.size() == 1);
  CHECK(patterns[0].flat.max_strain < 1e-6);
}

TEST_CASE("each side of the cut takes the picture from its own side") {
  Round r(Turn{});
  r.add(rectangle_of(15.5, 0.5, 16.5, 1.5));
  // Light on the left half of the wall, dark on the right: the pattern's own left half lies on the right of the chart.
  auto image = std::make_shared<Image>();
  image->width = 1600, image->height = 200;
  for (int y = 0; y < image->height; ++y)
    for (int x = 0; x < image->width; ++x)
      for (int c = 0; c < 3; ++c) image->rgb.push_back(x < 800 ? 230 : 40);
  const auto input = cartoon_input(r, image);
  const auto patterns = patterns_of(input, 0);
  const auto tiling = tile(pattern_corners(patterns[0]), paper_named("A0").value(), 15);
  REQUIRE(tiling);
  int light = 0, dark = 0, between = 0;
  for (const Tile& t : tiling->tiles) {
    ChartPicture picture(input.walls[0].draped, 20);
    auto page = PdfPages::create_image(100);
    page->begin_page(tiling->page.x, tiling->page.y);
    draw_sheet_picture(*page, patterns[0], picture, *tiling, t, 20, nullptr);
    const Image sheet = page->image().value();
    for (std::size_t i = 0; i < sheet.rgb.size(); i += 3) {
      if (sheet.rgb[i] == 255) continue;  // paper
      (sheet.rgb[i] > 200 ? light : sheet.rgb[i] < 70 ? dark : between)++;
    }
  }
  CHECK(light > 1000);
  CHECK(std::abs(light - dark) < 0.1 * (light + dark));
  CHECK(between < 0.03 * (light + dark));  // no triangle stretches the picture from one side to the other
}
