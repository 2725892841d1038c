#include <algorithm>
#include <catch2/catch.hpp>
#include <random>

#include "tests/fixtures/layouts.h"

using namespace pontata;
using namespace pontata::layouts;

namespace {

constexpr double kPi = std::numbers::pi;

const GiornataMeasure& of(const WallMeasure& m, std::uint32_t id) {
  const auto it = std::find_if(m.giornate.begin(), m.giornate.end(), [id](const auto& g) { return g.id.value == id; });
  REQUIRE(it != m.giornate.end());
  return *it;
}

std::vector<std::uint32_t> ids(const std::vector<GiornataId>& list) {
  std::vector<std::uint32_t> values;
  for (const GiornataId id : list) values.push_back(id.value);
  return values;
}

}  // namespace

TEST_CASE("a box on a flat wall has its school-book figures") {
  Layout l = on(flat(6, 4), 0.002, {{10, 20, 30}, 40});
  add_box(l, 1, 0.5, 3, 2);
  const WallMeasure m = l.measure();
  const GiornataMeasure& g = of(m, 1);
  // Places of the wall's corners are rounded to 3.7 nm pitches: 1e-9 m2 per metre of rim.
  CHECK(g.area_m2 == Approx(3).margin(7e-9));
  CHECK(g.chart_area_m2 == Approx(3).epsilon(1e-12));
  CHECK(g.perimeter_m == Approx(7).margin(2e-8));
  CHECK(g.bend_m == Approx(0).margin(1e-12));
  CHECK(g.gauss == Approx(0).margin(1e-12));
  CHECK(g.lowest_m == Approx(30.5));
  CHECK(g.highest_m == Approx(32));
  CHECK(g.inside_m == Approx(31.25).margin(0.03));
  CHECK(g.neighbours.empty());
  CHECK(std::isinf(g.least_concave_radius_m));
  CHECK(m.area_m2 == Approx(24).margin(20e-9));
  CHECK(m.unassigned_m2 == Approx(21).margin(27e-9));
  CHECK(m.residual_m2 == 0);
}

TEST_CASE("a giornata with another inside it has a hole") {
  Layout l = on(flat(4, 4));
  add_box(l, 1.5, 1.5, 2.5, 2.5);
  add_box(l, 1, 1, 3, 3);
  const WallMeasure m = l.measure();
  CHECK(of(m, 2).area_m2 == Approx(3).epsilon(1e-12));
  CHECK(of(m, 2).perimeter_m == Approx(12).epsilon(1e-12));
  CHECK(ids(of(m, 1).neighbours) == std::vector<std::uint32_t>{2});
  CHECK(ids(of(m, 2).neighbours) == std::vector<std::uint32_t>{1});
  CHECK(l.network.owner_at(to_lattice(of(m, 2).inside)) == GiornataId{2});
}

TEST_CASE("giornate that touch at a corner only are no neighbours") {
  Layout l = on(flat(4, 4));
  add_box(l, 1, 1, 2, 2);
  add_box(l, 2, 2, 3, 3);
  add_box(l, 2, 1, 3, 2);
  const WallMeasure m = l.measure();
  CHECK(ids(of(m, 1).neighbours) == std::vector<std::uint32_t>{3});
  CHECK(ids(of(m, 2).neighbours) == std::vector<std::uint32_t>{3});
  CHECK(ids(of(m, 3).neighbours) == std::vector<std::uint32_t>{1, 2});
}

TEST_CASE("water runs over a seam from the upper to the lower giornata") {
  Layout l = on(flat(4, 4));
  add_box(l, 1, 1, 2, 2);
  add_box(l, 1, 2, 2, 3);
  add_box(l, 2, 1, 3, 2);
  const WallMeasure m = l.measure();
  REQUIRE(of(m, 2).runs_onto.size() == 1);
  CHECK(of(m, 2).runs_onto[0].id == GiornataId{1});
  CHECK(of(m, 2).runs_onto[0].width_m == Approx(1));
  CHECK(of(m, 2).runs_onto[0].crown_m == 0);
  CHECK(of(m, 1).runs_onto.empty());
  CHECK(of(m, 3).runs_onto.empty());  // a plumb seam
}

TEST_CASE("what runs over a seam within 30 degrees of a barrel's crown may as well drop") {
  // A half circle of 2 m radius: the surface is `angle` from level at 2 m * angle of arc from the crown.
  const double crown = kPi, one = 2 * kPi / 180;
  for (const double angle : {10.0, 25.0, 35.0, 60.0}) {
    INFO("degrees " << angle);
    Layout l = on(barrel(4, 3, 2));
    add_box(l, 0, crown - one * (angle + 10), 2, crown - one * angle);
    add_box(l, 0, crown - one * angle, 2, crown - one * (angle - 5));
    const WallMeasure m = l.measure();
    CHECK(of(m, 1).runs_onto.empty());
    REQUIRE(of(m, 2).runs_onto.size() == 1);
    CHECK(of(m, 2).runs_onto[0].width_m == Approx(2).epsilon(1e-3));
    CHECK(of(m, 2).runs_onto[0].crown_m == Approx(angle < 30 ? 2 : 0).margin(2e-3));
  }
}

TEST_CASE("giornate and rest make up the wall exactly, on every shape") {
  for (const ShapeSpec& spec :
       {flat(5, 3), barrel(4, 5, 2), barrel(4, 5, 0.8), dome(5, 2.5), dome(6, 1), apse(4, 1.5)}) {
    INFO(shape_name(spec.kind));
    Layout l = on(spec);
    const ChartBox box = l.wall->chart->box();
    std::mt19937 random(5);
    std::uniform_real_distribution<double> share(0.3, 0.7), size(0.08, 0.22);
    for (int k = 0; k < 6; ++k) {
      const auto outline = blob({share(random) * box.width, share(random) * box.height},
                                size(random) * std::min(box.width, box.height), 0.25, 40, k);
      Ring ring;
      for (const ChartPoint& p : outline) ring.push_back(to_lattice(p));
      (void)try_add(l, ring);  // one wholly on earlier ones is refused, which is well
    }
    REQUIRE(l.giornate.size() >= 3);
    const WallMeasure m = l.measure();
    CHECK(m.residual_m2 == 0);
    double sum = m.unassigned_m2;
    for (const auto& g : m.giornate) sum += g.area_m2;
    CHECK(sum == Approx(m.area_m2).epsilon(1e-12));
    CHECK(m.area_m2 == Approx(closed_form_area(spec)).epsilon(2e-3));
    for (const auto& g : m.giornate) {
      CHECK(l.network.owner_at(to_lattice(g.inside)) == g.id);
      CHECK(g.lowest_m <= g.inside_m);
      CHECK(g.highest_m >= g.inside_m);
      CHECK(g.area_m2 * 4 * kPi <= g.perimeter_m * g.perimeter_m * 1.35);  // isoperimetric, with room for curvature
    }
  }
}

TEST_CASE("every face measured again by clipping triangles agrees to a millionth of a square millimetre per metre") {
  for (const ShapeSpec& spec : {flat(5, 3), barrel(4, 5, 2), barrel(4, 5, 0.8), dome(5, 2.5), apse(4, 1.5)}) {
    INFO(shape_name(spec.kind));
    Layout l = on(spec, 0.001);
    const ChartBox box = l.wall->chart->box();
    const ChartPoint middle{0.5 * box.width, 0.5 * box.height};
    const double r = 0.2 * std::min(box.width, box.height);
    add(l, blob(middle, 0.5 * r, 0.2, 31));                          // an island
    add(l, blob(middle, r, 0.2, 57));                                // round it, with a hole
    add(l, blob({middle.u + 1.2 * r, middle.v}, 0.8 * r, 0.2, 43));  // beside, overlapping
    add(l, l.wall->chart->border_rings().front());                   // all the rest, along the whole border
    const WallMeasure m = l.measure();
    CHECK(m.residual_m2 == 0);
    for (const FaceId f : l.network.faces()) {
      const FaceSums sums = l.network.sums(f);
      const auto rings = l.network.rings(f);
      const Vec3 terms = terms_by_clipping(*l.wall, rings);
      const double area = static_cast<double>(sums.area) * kAreaUnit;
      INFO("area " << area << " perimeter " << sums.perimeter_m << " differs by " << terms.x - area);
      CHECK(std::abs(terms.x - area) <= 1e-9 * sums.perimeter_m);
      CHECK(terms.y == Approx(sums.bend_m).margin(1e-7));
      CHECK(terms.z == Approx(sums.gauss).margin(1e-7));
      CHECK(area_by_clipping(*l.wall, rings) == terms.x);
    }
  }
}

TEST_CASE("clipping sees no difference between a face and its parts") {
  Layout l = on(dome(5, 2.5));
  const std::vector<Ring> all = l.wall->chart->border_rings();
  CHECK(area_by_clipping(*l.wall, all) == Approx(l.wall->metric->area()).epsilon(1e-12));
  Ring backwards(all.front().rbegin(), all.front().rend());
  CHECK(area_by_clipping(*l.wall, std::vector<Ring>{backwards}) == Approx(-l.wall->metric->area()).epsilon(1e-12));
  CHECK(area_by_clipping(*l.wall, {}) == 0);
}

TEST_CASE("a ring inside one triangle is measured by that triangle") {
  Layout l = on(flat(4, 4));
  const Ring small{to_lattice({1.1, 0.3}), to_lattice({1.2, 0.3}), to_lattice({1.2, 0.4}), to_lattice({1.1, 0.4})};
  CHECK(area_by_clipping(*l.wall, std::vector<Ring>{small}) == Approx(0.01).epsilon(1e-7));
}

TEST_CASE("area on a barrel does not depend on where a strip lies, and heights follow the curve") {
  Layout l = on(barrel(4, 6, 2), 0.0002);
  const double arc = 2 * kPi;
  add_box(l, 1, 0.1 * arc, 2, 0.3 * arc);
  add_box(l, 3, 0.4 * arc, 4, 0.6 * arc);
  const WallMeasure m = l.measure();
  CHECK(of(m, 1).area_m2 == Approx(0.2 * arc).epsilon(1e-4));
  CHECK(of(m, 2).area_m2 == Approx(0.2 * arc).epsilon(1e-4));
  CHECK(of(m, 2).highest_m == Approx(2).margin(3e-4));
  CHECK(of(m, 2).lowest_m == Approx(2 * std::cos(0.1 * kPi)).margin(3e-4));
  CHECK(of(m, 1).lowest_m == Approx(2 * std::sin(0.1 * kPi)).margin(3e-4));
}

TEST_CASE("hollows know their radius") {
  CHECK(of(whole(dome(6, 3), 0.002).measure(), 1).least_concave_radius_m == Approx(3).epsilon(2e-3));
  CHECK(of(whole(barrel(1, 4, 0.5), 0.002).measure(), 1).least_concave_radius_m == Approx(0.5).epsilon(1e-6));
  CHECK(of(whole(apse(4, 2), 0.002).measure(), 1).least_concave_radius_m == Approx(2).epsilon(2e-3));
}

TEST_CASE("an unknown owner shows as a residual") {
  Layout l = on(flat(4, 4));
  add_box(l, 1, 1, 2, 2);
  const WallMeasure m = measure_wall(*l.wall, l.network, {});
  CHECK(m.giornate.empty());
  CHECK(m.residual_m2 == Approx(-1));
}
