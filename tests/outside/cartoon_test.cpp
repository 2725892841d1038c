// Cartoons against what is known from elsewhere: how flat a ball's piece can be laid, sizes of paper, limits of PDF.

#include "engine/cartoon/cartoon.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "tests/cartoon/reader.h"
#include "tests/fixtures/cartoons.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;

// A geodesic disc about the crown of a hemisphere, of this area: the dome's chart keeps distances from the crown.
struct Disc {
  double alpha = 0;  // angular radius
  Ring ring;
};
Disc disc_on(const ChartedWall& dome, double radius, double area) {
  Disc out;
  out.alpha = std::acos(1 - area / (2 * kPi * radius * radius));  // spherical cap 2 pi R h
  const double c = dome.chart->box().width / 2;
  for (int i = 0; i < 240; ++i) {
    const double a = 2 * kPi * i / 240, s = radius * out.alpha;
    out.ring.push_back(to_lattice({c + s * std::cos(a), c + s * std::sin(a)}));
  }
  return out;
}

}  // namespace

TEST_CASE("discs of a ball are laid flat nearly as well as can be") {
  // Milnor, "A problem in cartography", Amer. Math. Monthly 76 (1969), theorem from memory: largest to smallest scale
  // at least alpha / sin alpha. Values computed: R 3 m, 1 m2: +-0.30 %; 2 m2: +-0.59 %; R 8 m, 1 m2: +-0.04 %.
  struct Row {
    double radius, area, strain, shorter_mm;
  };
  // The same discs: the outline on the wall is shorter than the flat disc's by 2 pi R (alpha - sin alpha).
  for (const Row& row : {Row{3, 1, 0.0030, 21}, Row{3, 2, 0.0059, 59}, Row{8, 1, 0.0004, 2.9}}) {
    const WallRef dome = dome_wall(2 * row.radius, row.radius);
    const Disc disc = disc_on(*dome, row.radius, row.area);
    CAPTURE(row.radius, row.area);
    double rim = 0;
    for (std::size_t i = 0; i < disc.ring.size(); ++i)
      rim += dome->metric->measure(disc.ring[i], disc.ring[(i + 1) % disc.ring.size()]).length_m;
    CHECK(1000 * (2 * kPi * row.radius * disc.alpha - rim) ==
          Approx(row.shorter_mm).margin(0.04 * row.shorter_mm + 0.5));
    const auto patch = make_patch(*dome, std::vector<Ring>{disc.ring});
    REQUIRE(patch);
    const auto flat = flatten(*patch);
    REQUIRE(flat);
    REQUIRE(flat->least_strain);
    CHECK(*flat->least_strain == Approx(row.strain).margin(0.00006));
    CHECK(flat->max_strain < 1.15 * row.strain);
    CHECK(flat->max_strain > 0.9 * row.strain);
  }
}

TEST_CASE("pages are ISO 216 sheets or trade rolls, within what PDF allows") {
  // ISO 216: A0 841 x 1189, A1 594 x 841, A2 420 x 594, A3 297 x 420, A4 210 x 297 mm. Rolls: 610 and 914 mm, trade
  // sizes. ISO 32000-1, 8.3.2.3 and implementation limits: unit 1/72 in, a side at most 14,400 units.
  auto layout = layouts::on(layouts::flat(9, 3), 0);
  layouts::add_box(layout, 0.5, 0.5, 8.2, 0.8);
  const auto input = cartoon_input(layout);
  const std::vector<std::pair<std::string, Vec2>> sizes{{"A0", {841, 1189}},  {"A1", {594, 841}}, {"A2", {420, 594}},
                                                        {"A3", {297, 420}},   {"A4", {210, 297}}, {"roll610", {610, 0}},
                                                        {"roll914", {914, 0}}};
  for (const auto& [name, size] : sizes) {
    CAPTURE(name);
    const TempFolder folder;
    const auto report = write_cartoon(input, folder.path(), {*paper_named(name)});
    REQUIRE(report);
    const auto boxes = page_boxes_mm(folder.file("cartoon.pdf"));
    CHECK(boxes.size() == static_cast<std::size_t>(report->sheets));
    for (const Vec2& b : boxes) {
      const bool lying = size.y > 0 && b.x > b.y;  // sheets may lie either way round
      CHECK(b.x == Approx(lying ? size.y : size.x).margin(0.1));
      if (size.y > 0) CHECK(b.y == Approx(lying ? size.x : size.y).margin(0.1));
      CHECK(b.y / 25.4 * 72 <= 14400);
    }
    CHECK(output_of("qpdf --qdf " + folder.file("cartoon.pdf") + " -").find("UserUnit") == std::string::npos);
  }
}

TEST_CASE("a barrel's pattern, cut out and bent back, covers the giornata") {
  // The half cylinder of radius r unrolls to a rectangle: pi r wide (any table of geometric shapes). A giornata over a
  // quarter of it, 1.2 m long, is pi r / 2 x 1.2 m on paper, r = 1.1 m.
  auto layout = layouts::on(layouts::barrel(2.2, 3, 1.1), 0);
  layouts::add_box(layout, 0.4, kPi * 1.1 / 4, 1.6, kPi * 1.1 * 3 / 4);
  const TempFolder folder;
  REQUIRE(write_cartoon(cartoon_input(layout), folder.path(), {*paper_named("A0")}));
  double widest = 0, highest = 0;
  for (const DrawnPath& p : drawn_paths(folder.file("cartoon.pdf"), 1)) {
    if (!p.closed || std::abs(p.width_mm - 0.4) > 0.01) continue;
    Vec2 lo = p.points[0], hi = lo;
    for (const Vec2& q : p.points) lo = glm::min(lo, q), hi = glm::max(hi, q);
    widest = std::max(widest, hi.x - lo.x), highest = std::max(highest, hi.y - lo.y);
  }
  CHECK(std::min(widest, highest) == Approx(1200).margin(0.12));
  CHECK(std::max(widest, highest) == Approx(1000 * kPi * 1.1 / 2).margin(0.17));
}
