// Openings cut out of walls: closed forms where there are some, otherwise the opening's area on the wall without it,
// found by clipping triangles.
#include "engine/chart/openings_cut.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <random>

#include "engine/base/predicates.h"
#include "engine/giornate/measures.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using fixtures::barrel_spec;
using fixtures::dome_spec;
using fixtures::flat_spec;

namespace {

constexpr double kPi = std::numbers::pi;

Opening rect(double u, double v, double w, double h) { return {OpeningKind::rect, {u, v}, w, h, {}}; }
Opening arched(double u, double v, double w, double h) { return {OpeningKind::arched, {u, v}, w, h, {}}; }
Opening oculus(double u, double v, double d) { return {OpeningKind::round, {u, v}, d, 0, {}}; }
Opening outlined(std::vector<ChartPoint> points) { return {OpeningKind::free, {}, 0, 0, std::move(points)}; }

Result<WallRef> opened(const ShapeSpec& spec, const std::vector<Opening>& openings) {
  return build_wall(spec, {}, "wall", 0, openings);
}

double area(const ShapeSpec& spec, const std::vector<Opening>& openings) {
  return opened(spec, openings).value()->metric->area();
}

std::string refusal(const ShapeSpec& spec, const std::vector<Opening>& openings) {
  const auto wall = opened(spec, openings);
  return wall ? "" : wall.problem().message();
}

std::vector<ShapeSpec> some_of_every_shape() {
  std::vector<ShapeSpec> specs;
  for (const ShapeKind kind : all_shapes()) {
    ShapeSpec spec{.kind = kind,
                   .width = 4,
                   .height = 2,
                   .span = 3,
                   .length = 4,
                   .rise = 1.2,
                   .radius = 2.5,
                   .side = 4,
                   .top_span = 2,
                   .inner = 2,
                   .outer = 5,
                   .angle_deg = 200};
    if (validate(spec)) specs.push_back(spec);
  }
  return specs;
}

bool has(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

}  // namespace

TEST_CASE("a wall without openings is what it was") {
  const auto wall = opened(flat_spec(4, 3), {}).value();
  CHECK_FALSE(wall->places_before_openings);
  CHECK(wall->metric->area() == Approx(12));
}

TEST_CASE("a door with a round head takes its rectangle and half disc") {
  const double taken = 1.0 * 1.5 + kPi * 0.25 / 2;
  CHECK(12 - area(flat_spec(4, 3), {arched(1.2, 0.5, 1, 2)}) == Approx(taken).margin(1e-9));
  SECTION("also standing on the floor, where it notches the border") {
    const auto wall = opened(flat_spec(4, 3), {arched(1.2, 0, 1, 2)}).value();
    CHECK(12 - wall->metric->area() == Approx(taken).margin(1e-9));
    CHECK(wall->chart->border_loops().size() == 1);
  }
  SECTION("or let into the floor, of which only what lies in the wall counts") {
    CHECK(12 - area(flat_spec(4, 3), {arched(1.2, -0.25, 1, 2.25)}) == Approx(taken).margin(1e-9));
  }
}

TEST_CASE("places stay those of the wall without openings, also where its corner is gone") {
  const auto whole = opened(flat_spec(4, 3), {}).value();
  const auto wall = opened(flat_spec(4, 3), {rect(-0.5, -0.5, 1, 1.5)}).value();
  CHECK(*wall->places_before_openings == whole->chart->places());
  for (const ChartPoint p : {ChartPoint{0.7, 0.1}, ChartPoint{3.5, 2.5}})
    CHECK(glm::length(*wall->position(p) - *whole->position(p)) < 1e-12);
  CHECK_FALSE(wall->position({0.2, 0.2}));
  CHECK(wall->chart->box().width == 4);
}

TEST_CASE("an oculus at the crown of a hemisphere takes a cap") {
  const double radius = 3, reach = 0.4;  // arc radius of the oculus
  const double cap = 2 * kPi * radius * radius * (1 - std::cos(reach / radius));
  const double crown = radius * kPi / 2;
  const auto spec = dome_spec(2 * radius, radius);
  const double taken = area(spec, {}) - area(spec, {oculus(crown, crown, 2 * reach)});
  CHECK(taken == Approx(cap).epsilon(5e-5));  // the wall's own triangles lose some 3e-5
}

TEST_CASE("a window in a barrel takes width by arc length") {
  const auto spec = barrel_spec(4, 6, 2);
  const double lost = area(spec, {}) - area(spec, {rect(2, 1.5, 0.9, 1.3)});
  CHECK(lost == Approx(0.9 * 1.3).epsilon(2e-5));  // chords of the barrel itself
}

TEST_CASE("openings that overlap or touch are one") {
  CHECK(12 - area(flat_spec(4, 3), {rect(1, 1, 1, 1), rect(1.5, 1.5, 1, 1)}) == Approx(1.75).margin(1e-9));
  CHECK(12 - area(flat_spec(4, 3), {rect(1, 1, 1, 1), rect(2, 1, 0.5, 1)}) == Approx(1.5).margin(1e-9));
  CHECK(12 - area(flat_spec(4, 3), {rect(1, 1, 1, 1), rect(2, 1.25, 0.5, 0.5)}) == Approx(1.25).margin(1e-9));
  const auto cross = opened(flat_spec(4, 3), {rect(1, 1.4, 2, 0.2), rect(1.9, 0.5, 0.2, 2)}).value();
  CHECK(12 - cross->metric->area() == Approx(0.4 + 0.4 - 0.04).margin(1e-9));
  CHECK(cross->chart->border_loops().size() == 2);
}

TEST_CASE("an earlier opening inside a later one goes into it") {
  CHECK(12 - area(flat_spec(4, 3), {rect(1.2, 1.2, 0.5, 0.5), rect(1, 1, 1, 1)}) == Approx(1).margin(1e-9));
  CHECK(has(refusal(flat_spec(4, 3), {rect(1, 1, 1, 1), rect(1.2, 1.2, 0.5, 0.5)}), "opening 2"));
}

TEST_CASE("free outlines, also ones with edges on the wall's own lines") {
  CHECK(12 - area(flat_spec(4, 3), {outlined({{1, 1}, {2, 1}, {2, 2}, {1.5, 1.2}, {1, 2}})}) ==
        Approx(0.6).margin(1e-9));
  CHECK(12 - area(flat_spec(4, 3), {outlined({{0.5, 0.5}, {1, 0.5}, {1, 1}, {0.5, 1}})}) == Approx(0.25).margin(1e-9));
  // A hair's breadth off those lines.
  for (const double off : {1e-9, 4e-9, 1e-8, 1e-7, 1e-6, 1e-5})
    CHECK(12 - area(flat_spec(4, 3), {rect(0.5 + off, 0.5 - off, 0.5, 0.5)}) == Approx(0.25).margin(2e-6));
}

TEST_CASE("openings that leave no wall worth the name are refused in plain words") {
  const auto flat = flat_spec(4, 3);
  CHECK(has(refusal(flat, {rect(5, 1, 1, 1)}), "outside the wall"));
  CHECK(has(refusal(flat, {rect(-1, -1, 6, 5)}), "nothing of the wall"));
  CHECK(has(refusal(flat, {rect(0, 0, 4, 3)}), "nothing of the wall"));
  CHECK(has(refusal(flat, {rect(1, -1, 1, 5)}), "parts the wall in two"));
  CHECK(has(refusal(flat, {rect(1, 1, 0.005, 0.005)}), "1 cm²"));
  CHECK(has(refusal(flat, {rect(1, 1, 1, 1), rect(2, 2, 0.5, 0.5)}), "single point"));
  CHECK(has(refusal(flat, {arched(1, 1, 1, 0.2)}), "half circle"));
  CHECK(has(refusal(dome_spec(6, 3), {oculus(5, 5, 20)}), "nothing of the wall"));
}

TEST_CASE("an opening over both arrises at the crown of a groin vault") {
  // Over plan place (x, y) the surface is r / sqrt(r^2 - min(x, y)^2) of its plan; integrated over a square of half
  // side a about the crown: 8 r (a asin(a / r) - r + sqrt(r^2 - a^2)); a = r gives the whole vault, 4 (pi - 2) r^2.
  const double r = 2, a = 0.35;
  const ShapeSpec spec{.kind = ShapeKind::groin, .span = 2 * r, .length = 2 * r, .rise = r};
  const double taken = 8 * r * (a * std::asin(a / r) - r + std::sqrt(r * r - a * a));
  const auto whole = opened(spec, {}).value();
  const auto wall = opened(spec, {rect(r - a, r - a, 2 * a, 2 * a)}).value();
  CHECK(whole->metric->area() - wall->metric->area() == Approx(taken).epsilon(2e-5));
  // No triangle straddles an arris: the normals at its corners belong to one web.
  double least = 1;
  for (const auto& n : wall->mesh().corner_normals)
    for (std::size_t k = 0; k < 3; ++k)
      least = std::min(least, glm::dot(wall->mesh().normals[n[k]], wall->mesh().normals[n[(k + 1) % 3]]));
  CHECK(least > 0.99);
}

TEST_CASE("what an opening takes is what clipping finds there, on every shape, wherever it lies") {
  CHECK(some_of_every_shape().size() == all_shapes().size());
  std::mt19937_64 random(20261126);
  const auto within = [&](double a, double b) { return std::uniform_real_distribution(a, b)(random); };
  for (const auto& spec : some_of_every_shape()) {
    const auto whole = build_wall(spec, {}, "wall", 4e-4).value();
    const ChartBox box = whole->chart->box();
    int cut = 0;
    for (int i = 0; i < 9; ++i) {
      const double u = within(0, box.width), v = within(-0.2, box.height), w = within(0.2, 1.0), h = w + within(0, 0.6);
      const Opening opening = i % 3 == 0 ? rect(u, v, w, h) : (i % 3 == 1 ? arched(u, v, w, h) : oculus(u, v, w));
      CAPTURE(shape_name(spec.kind), i, u, v, w, h);
      const std::vector<Opening> one{opening};
      const auto wall = build_wall(spec, {}, "wall", 4e-4, one);
      if (!wall) {
        CAPTURE(wall.problem().message());
        const std::string what = wall.problem().what;
        CHECK((has(what, "outside") || has(what, "parts the wall") || has(what, "cut open")));
        continue;
      }
      ++cut;
      const std::vector<Ring> ring{opening_ring(opening).value()};
      CHECK((*wall)->metric->area() + area_by_clipping(*whole, ring) == Approx(whole->metric->area()).margin(1e-6));
      CHECK((*wall)->chart->stretch().greatest < whole->chart->stretch().greatest * (1 + 1e-3));
    }
    CAPTURE(shape_name(spec.kind));
    CHECK(cut >= 3);
  }
}

TEST_CASE("a round tower takes openings beside the line where it is cut open, not across it") {
  const ShapeSpec tower{.kind = ShapeKind::drum, .height = 3, .span = 4, .angle_deg = 360};
  const double round = opened(tower, {}).value()->chart->box().width;
  CHECK(area(tower, {}) - area(tower, {rect(1, 1, 0.8, 1.2)}) == Approx(0.96).epsilon(1e-4));
  CHECK(has(refusal(tower, {rect(-0.4, 1, 0.8, 1.2)}), "cut open"));
  CHECK(has(refusal(tower, {rect(round - 0.4, 1, 0.8, 1.2)}), "cut open"));
}

TEST_CASE("cutting two at once or one after the other is the same") {
  const auto spec = dome_spec(5, 2.5);
  const std::vector<Opening> both{oculus(3.5, 3.9, 0.7), rect(1.4, 1.3, 0.9, 0.8)};
  const auto at_once = opened(spec, both).value();
  const auto first = opened(spec, {both[0]}).value();
  const auto second = with_opening(*first, both[1], "wall").value();
  CHECK(at_once->chart->places() == second->chart->places());
  CHECK(at_once->mesh().triangles == second->mesh().triangles);
  CHECK(*at_once->places_before_openings == *second->places_before_openings);
}

TEST_CASE("many small openings at random, then the certificate") {
  std::mt19937_64 random(7);
  std::vector<Opening> openings;
  for (int i = 0; i < 6; ++i)
    for (int j = 0; j < 4; ++j)
      openings.push_back(oculus(0.6 + i * 0.8 + std::uniform_real_distribution(-0.2, 0.2)(random), 0.6 + j * 0.8, 0.3));
  const auto spec = barrel_spec(4, 6, 2);
  const auto wall = opened(spec, openings).value();
  CHECK(wall->chart->border_loops().size() == 25);
  double taken = 0;
  const auto whole = opened(spec, {}).value();
  for (const auto& opening : openings)
    taken += area_by_clipping(*whole, std::vector<Ring>{opening_ring(opening).value()});
  CHECK(whole->metric->area() - wall->metric->area() == Approx(taken).margin(1e-6));
}
