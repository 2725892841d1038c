// Faults put into layouts on purpose, one rule after another: each is found where it was put, and layouts without any
// are let pass.
#include <catch2/catch.hpp>
#include <set>

#include "tests/fixtures/pictures.h"
#include "tests/review/reviewed.h"

using namespace pontata;
using namespace pontata::layouts;

namespace {

Finding only(const std::vector<Finding>& found) {
  REQUIRE(found.size() == 1);
  return found[0];
}

void check_near(const Finding& f, double u, double v, double within = 0.02) {
  CHECK(std::hypot(f.chart.u - u, f.chart.v - v) <= within);
}

// Brickwork whose courses wander by 160 mm up and down: nothing lies in line, crosses or is thin.
Reviewed brickwork(const ShapeSpec& spec, double width, double height) {
  Reviewed r = on_wall(on(spec));
  const ChartBox chart = r.layout.wall->chart->box();
  const auto wavy = [&](double u, double v) {
    return ChartPoint{u, v + 0.16 * std::sin(2.9 * u + 0.9 * v)};
  };
  int row = 0;
  for (double v = -height; v < chart.height + height; v += height, ++row)
    for (double u = -2 * width + (row % 2 ? 0.45 * width : 0); u < chart.width + width; u += width) {
      std::vector<ChartPoint> outline;
      const std::vector<ChartPoint> corners{{u, v},
                                            {u + 0.45 * width, v},
                                            {u + width, v},
                                            {u + width, v + height},
                                            {u + 0.45 * width, v + height},
                                            {u, v + height}};
      for (std::size_t k = 0; k < corners.size(); ++k) {
        const ChartPoint a = corners[k], b = corners[(k + 1) % corners.size()];
        for (int s = 0; s < 24; ++s) outline.push_back(wavy(a.u + (b.u - a.u) * s / 24, a.v + (b.v - a.v) * s / 24));
      }
      bool inside = true;  // only what lies wholly on the wall
      for (const ChartPoint& p : outline)
        inside = inside && fits_lattice(p) && r.layout.wall->chart->triangle_at(to_lattice(p));
      if (inside) add(r.layout, outline);
    }
  return r;
}

}  // namespace

TEST_CASE("layouts without a fault are let pass: at most one finding in twenty giornate") {
  std::size_t giornate = 0, found = 0;
  std::string told;
  for (const auto& [spec, width, height] :
       {std::tuple{flat(8, 6), 1.3, 1.1},
        {barrel(4, 6, 2), 1.4, 1.2},
        {dome(5, 2), 1.3, 1.2},
        {ShapeSpec{.kind = ShapeKind::drum, .height = 4, .span = 5, .angle_deg = 200}, 1.4, 1.1}}) {
    Reviewed r = brickwork(spec, width, height);
    r.calendar.rate_m2_per_h = 0.3;
    giornate += r.layout.giornate.size();
    for (const Finding& f : r.findings())
      if (f.severity != Severity::note) {
        ++found;
        told += "\n" + f.rule + ": " + f.says;
      }
  }
  CHECK(giornate > 40);
  INFO(found << " findings on " << giornate << " giornate" << told);
  CHECK(static_cast<double>(found) <= 0.05 * static_cast<double>(giornate));
}

TEST_CASE("four giornate in a point are found, staggered ones are not") {
  Reviewed r = rows(2, 2, 1.2, 1.0);
  const Finding f = only(r.findings_of("four-meet"));
  check_near(f, 1.2, 1.0);
  CHECK(f.value == 4);
  CHECK(f.giornate.size() == 4);
  for (const double shift : {0.015, 0.05}) {
    Reviewed staggered = on_wall(on(flat(2.4, 2)));
    add_box(staggered.layout, 0, 0, 1.2, 1);
    add_box(staggered.layout, 1.2, 0, 2.4, 1);
    add_box(staggered.layout, 0, 1, 1.2 + shift, 2);
    add_box(staggered.layout, 1.2 + shift, 1, 2.4, 2);
    CHECK(staggered.findings_of("four-meet").size() == (shift < 0.02 ? 1u : 0u));
  }
}

TEST_CASE("seams in line past others are found; bent ones and short ones are not") {
  const auto wall = [](double bend, double length) {
    Reviewed r = on_wall(on(flat(4, 2)));
    const double end = length;
    for (int k = 0; k < 4; ++k) {
      const double u0 = k * end / 4, u1 = (k + 1) * end / 4, v0 = 1 + (k % 2 ? bend : 0), v1 = 1 + (k % 2 ? 0 : bend);
      add(r.layout, std::vector<ChartPoint>{{u0, 0}, {u1, 0}, {u1, v1}, {u0, v0}});
    }
    for (int k = 0; k < 4; ++k) {
      const double u0 = k * end / 4 + 0.2, u1 = (k + 1) * end / 4 + 0.2;
      if (u1 < 4) add(r.layout, std::vector<ChartPoint>{{u0, 0.5}, {u1, 0.5}, {u1, 2}, {u0, 2}});
    }
    return r.findings_of("in-line");
  };
  const Finding f = only(wall(0, 3.6));
  CHECK(f.value > 3);
  CHECK(f.limit == 1.5);
  CHECK(std::abs(f.chart.v - 1) < 0.02);
  CHECK_FALSE(f.stretches.empty());
  CHECK(wall(0.35, 3.6).empty());  // 21 degrees to and fro
  CHECK(wall(0, 1.2).empty());     // in line, but short
}

TEST_CASE("a kink is found; a bend, and one that the picture's contour makes, are not") {
  const auto zigzag = [](double depth) {
    Reviewed r = on_wall(on(flat(3, 2)));
    add(r.layout, std::vector<ChartPoint>{{0, 0}, {3, 0}, {3, 1}, {1.6, 1}, {1.5, 1 + depth}, {1.4, 1}, {0, 1}});
    add(r.layout, std::vector<ChartPoint>{{0, 0.5}, {3, 0.5}, {3, 2}, {0, 2}});
    return r;
  };
  Reviewed r = zigzag(0.2);
  const auto found = r.findings_of("kink");
  REQUIRE_FALSE(found.empty());
  // At the tip: a turn of 180 less twice the half angle, atan(0.1 / 0.2).
  const auto tip = std::ranges::max_element(found, {}, &Finding::value);
  check_near(*tip, 1.5, 1.2);
  CHECK(tip->value == Approx(180 - 2 * std::atan(0.5) * 180 / std::numbers::pi).margin(0.5));
  CHECK(zigzag(0.03).findings_of("kink").empty());
}

TEST_CASE("a seam across smooth ground is found, among faces to be decided; along a contour it is not") {
  // A field of sky with one edge at u = 2.
  Image image;
  image.width = 400;
  image.height = 200;
  for (int y = 0; y < 200; ++y)
    for (int x = 0; x < 400; ++x)
      for (const int c : x < 200 ? std::array{120, 170, 220} : std::array{90, 70, 60})
        image.rgb.push_back(static_cast<std::uint8_t>(c));
  Reviewed r = on_wall(on(flat(4, 2)));
  add_box(r.layout, 0, 0, 1, 2);
  add_box(r.layout, 1, 0, 2, 2);
  add_box(r.layout, 2, 0, 4, 2);
  r.draped = fixtures::draped(r.layout.wall, image, PictureFrame{{0, 0}, 4, 2, 0});
  r.contours = std::make_shared<const ContourField>(contour_field(*r.draped));
  Finding f = only(r.findings_of("across-smooth"));
  check_near(f, 1, 1, 0.05);
  CHECK(f.value == Approx(2).margin(0.05));
  CHECK(f.severity == Severity::warn);
  Zone faces = keep_whole(1, box(0.5, 0.5, 1.5, 1.5));
  faces.kind = ZoneKind::detail;
  faces.subject = Subject::faces;
  r.zones = {faces};
  CHECK(only(r.findings_of("across-smooth")).severity == Severity::decide);
}

TEST_CASE("too small, too wide") {
  Reviewed r = on_wall(on(flat(6, 2)));
  add_box(r.layout, 0, 0, 4, 1);
  add_box(r.layout, 4, 0, 4.4, 1);
  r.calendar.rate_m2_per_h = 0.6;  // 6.7 h and 0.67 h of 7
  const Finding small = only(r.findings_of("too-small"));
  CHECK(small.giornate == std::vector{GiornataId{2}});
  CHECK(small.value == Approx(0.4 / 0.6));
  CHECK(small.limit == Approx(0.25 * 7));
  const Finding wide = only(r.findings_of("too-wide"));
  CHECK(wide.giornate == std::vector{GiornataId{1}});
  CHECK(wide.value == Approx(4).margin(0.02));
}

TEST_CASE("beyond the deck's reach, and on above the next deck") {
  Reviewed r = on_wall(on(flat(4, 6)));
  add_box(r.layout, 0, 0, 1, 3.2);    // from the deck at 0: reach 2.3, slack 0.3
  add_box(r.layout, 1, 0, 2, 2.2);    // within reach
  add_box(r.layout, 2, 2, 3, 4.2);    // from the deck at 2
  add_box(r.layout, 3, 0.2, 4, 2.5);  // 0.5 m above the deck at 2, within reach
  r.calendar.levels_m = {0, 2, 4};
  const Finding reach = only(r.findings_of("out-of-reach"));
  CHECK(reach.giornate == std::vector{GiornataId{1}});
  CHECK(reach.value == Approx(3.2 - 2.6));
  const Finding deck = only(r.findings_of("crosses-deck"));
  CHECK(deck.giornate == std::vector{GiornataId{4}});
  CHECK(deck.value == Approx(0.5));
  r.calendar.levels_m.clear();
  CHECK(r.findings_of("out-of-reach").empty());
}

TEST_CASE("a lower one before the upper one above it") {
  Reviewed r = rows(2, 1);  // 1 above, 2 below
  r.order = {2, 1};
  const Finding f = only(r.findings_of("lower-before-upper"));
  CHECK(f.giornate == std::vector{GiornataId{2}, GiornataId{1}});
  CHECK(f.value == Approx(1).margin(0.1));
  r.order = {1, 2};
  CHECK(r.findings_of("lower-before-upper").empty());
}

TEST_CASE("seams along and across an arris") {
  // A groin's arrises run from corner to corner over the middle.
  Reviewed r = on_wall(on({.kind = ShapeKind::groin, .span = 4, .length = 4, .rise = 2}));
  const ChartBox chart = r.layout.wall->chart->box();
  const double h = chart.height;
  add(r.layout, std::vector<ChartPoint>{{0.6, 0.6}, {0.5 * h, 0.5 * h}, {0.4, 1.4}});  // one side along an arris
  add(r.layout, std::vector<ChartPoint>{{0.9, 0.3}, {0.5 * h + 0.2, 0.5 * h - 0.4}, {0.5 * h, 0.5 * h}, {0.6, 0.6}});
  add_box(r.layout, 0.5 * h + 0.4, 0.5 * h + 0.2, 0.5 * h + 0.9, 0.5 * h + 1.1);  // across
  std::set<std::string> rules;
  for (const Finding& f : r.findings()) rules.insert(f.rule);
  CHECK(rules.contains("along-rib"));
  CHECK(rules.contains("across-rib"));
  for (const Finding& f : r.findings_of("along-rib"))
    CHECK(std::abs(f.chart.u - f.chart.v) < 0.05);  // the arris is the diagonal of the chart
}
