// Names, measures and refusals of shapes, and sizes beyond any building.
#include "engine/wall/shapes.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <set>

#include "engine/wall/shape_cusps.h"
#include "engine/wall/shape_sketch.h"
#include "tests/fixtures/shapes.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;
using enum ShapeKind;

TEST_CASE("placement turns about the vertical and moves") {
  const Placement3 placement{{10, -4, 2}, 90};
  const Vec3 p = apply(placement, {1, 0, 3});
  CHECK(glm::length(p - Vec3{10, -3, 5}) < 1e-12);
  CHECK(glm::length(apply_direction(placement, {0, 1, 0}) - Vec3{-1, 0, 0}) < 1e-12);
}

TEST_CASE("shapes are named, and unknown names list the known ones") {
  std::set<ShapeKind> seen;
  for (const auto kind : all_shapes()) {
    CHECK(shape_named(shape_name(kind)).value() == kind);
    CHECK_FALSE(measures_of(kind).empty());
    CHECK(seen.insert(kind).second);
  }
  CHECK(seen.size() == 14);
  const auto unknown = shape_named("tent");
  REQUIRE_FALSE(unknown.ok());
  CHECK(unknown.problem().message().find("flat, barrel, elliptical-barrel, pointed-barrel, groin, cloister, sail, "
                                         "dome, apse, drum, lunette, pendentive, cone, annular") != std::string::npos);
  CHECK(measures_of(barrel) == std::vector<std::string_view>{"span", "length", "rise"});
  CHECK(measures_of(cone) == std::vector<std::string_view>{"span", "top-span", "height", "angle"});
}

TEST_CASE("every measure is needed by some shape, and each shape refuses it when it is missing or impossible") {
  std::set<std::string_view> used;
  for (const auto kind : all_shapes()) {
    const ShapeSpec good = example_of(kind);
    INFO(told(good));
    REQUIRE(validate(good).ok());
    for (const auto name : measures_of(kind)) {
      used.insert(name);
      for (const double bad : {0.0, -1.0, 1e-5, 2e3, std::nan(""), std::numeric_limits<double>::infinity()}) {
        ShapeSpec spec = good;
        spec.*shape_measure(name).value = bad;
        const auto refused = validate(spec);
        REQUIRE_FALSE(refused.ok());
        CHECK(refused.problem().where == std::string(shape_name(kind)) + " " + std::string(name));
        CHECK_FALSE(refused.problem().remedy.empty());
      }
    }
  }
  CHECK(used.size() == shape_measures().size());
}

TEST_CASE("measures that do not go together are refused by name") {
  CHECK(validate(barrel_spec(4, 6, 2)).ok());
  const auto where = [](const ShapeSpec& spec) {
    const auto refused = validate(spec);
    return refused.ok() ? std::string() : refused.problem().where;
  };
  CHECK(where(barrel_spec(4, 6, 2.1)) == "barrel rise");
  CHECK(where(dome_spec(4, 3)) == "dome rise");
  CHECK(where({.kind = groin, .span = 4, .length = 9, .rise = 2.1}) == "groin rise");
  CHECK(where({.kind = cloister, .span = 4, .length = 9, .rise = 2.1}) == "cloister rise");
  CHECK(where({.kind = lunette, .span = 4, .rise = 2.1}) == "lunette rise");
  CHECK(where({.kind = elliptical_barrel, .span = 4, .length = 6, .rise = 2.1}).empty());  // a standing half ellipse
  CHECK(where({.kind = pointed_barrel, .span = 4, .length = 6, .radius = 1.9}) == "pointed-barrel radius");
  CHECK(where({.kind = annular, .inner = 3, .outer = 3, .angle_deg = 90}) == "annular outer");
  CHECK(where({.kind = annular, .inner = 3, .outer = 2, .angle_deg = 90}) == "annular outer");
  CHECK(where({.kind = drum, .height = 3, .span = 4, .angle_deg = 361}) == "drum angle");
  CHECK(where({.kind = drum, .height = 3, .span = 4, .angle_deg = 0.5}) == "drum angle");
  const auto wall = build_wall(barrel_spec(4, 6, 2.1), {}, "vault");
  REQUIRE_FALSE(wall.ok());
  CHECK(wall.problem().message().find("vault, barrel rise") == 0);
}

TEST_CASE("a wall of unusual size is noted, and so is what a cusp leaves out") {
  for (const auto kind : all_shapes()) {
    const auto notes = shape_notes(example_of(kind));
    CHECK(notes.size() == (kind == groin || kind == pendentive ? 1 : 0));
  }
  CHECK(shape_notes(flat_spec(0.25, 0.2)).at(0).find("is the unit right?") != std::string::npos);
  CHECK(shape_notes(flat_spec(3, 120)).at(0).find("120 m") != std::string::npos);
  CHECK(shape_notes({.kind = groin, .span = 4, .length = 4, .rise = 1.8}).empty());  // its foot is no cusp
}

TEST_CASE("walls beyond any building stay within two million triangles or so, and their charts are sound") {
  for (const auto& spec :
       std::vector<ShapeSpec>{flat_spec(500, 0.001),
                              barrel_spec(0.1, 500, 0.05),
                              barrel_spec(500, 0.01, 250),
                              barrel_spec(4, 6, 0.001),
                              apse_spec(0.1, 500),
                              dome_spec(0.002, 0.001),
                              dome_spec(500, 0.001),
                              {.kind = elliptical_barrel, .span = 40, .length = 0.1, .rise = 0.2},
                              {.kind = pointed_barrel, .span = 0.1, .length = 1, .radius = 400},
                              {.kind = groin, .span = 0.02, .length = 0.02, .rise = 0.01},
                              {.kind = groin, .span = 150, .length = 150, .rise = 75},
                              {.kind = groin, .span = 0.2, .length = 2, .rise = 0.1},
                              {.kind = cloister, .span = 4, .length = 0.6, .rise = 2},
                              {.kind = sail, .side = 0.02},
                              {.kind = sail, .side = 40},
                              {.kind = pendentive, .side = 0.02},
                              {.kind = pendentive, .side = 100},
                              {.kind = drum, .height = 4, .span = 0.01, .angle_deg = 360},
                              {.kind = lunette, .span = 4, .rise = 0.001},
                              {.kind = lunette, .span = 0.002, .rise = 0.001},
                              {.kind = cone, .height = 2, .span = 8, .top_span = 0.002, .angle_deg = 360},
                              {.kind = cone, .height = 0.02, .span = 2, .top_span = 4, .angle_deg = 340},
                              {.kind = cone, .height = 3, .span = 4, .top_span = 4 + 1e-12, .angle_deg = 90},
                              {.kind = annular, .inner = 0.001, .outer = 3, .angle_deg = 90},
                              {.kind = annular, .inner = 200, .outer = 200.1, .angle_deg = 2}}) {
    INFO(told(spec));
    REQUIRE(validate(spec).ok());
    auto shape = tessellate(spec, {}, default_tolerance(spec));
    CHECK(shape.mesh.triangles.size() < 2.2e6);
    const auto mesh = std::make_shared<const SurfaceMesh>(std::move(shape.mesh));
    const auto chart = Chart::certify(mesh, shape.address, "extreme", true);
    if (!chart) FAIL_CHECK(chart.problem().message());
    CHECK(triangles_area(*mesh) == Approx(closed_form_area(spec)).epsilon(1e-4));
  }
  const auto huge = dome_spec(500, 250);
  CHECK(2 * closed_form_area(huge) / (4 * 250 * default_tolerance(huge)) < 2.1e6);
}
