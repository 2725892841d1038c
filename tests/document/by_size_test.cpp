#include "engine/document/by_size.h"

#include <catch2/catch.hpp>

#include "engine/picture/plane_lay.h"
#include "engine/picture/wall_place.h"
#include "tests/fixtures/walls.h"

using namespace pontata;

namespace {

PlacedPicture picture_with(Lay lay) {
  PlacedPicture picture;
  picture.size = {400, 300};
  picture.lay = std::move(lay);
  return picture;
}

Vec2 pixel_of(const PlacedPicture& p, const ChartedWall& wall, ChartPoint at) {
  return *pixel_at(p.lay, p.plate, p.size, at, *wall.position(at));
}

}  // namespace

// Property: what is told back, asked for again, gives the same lay.
TEST_CASE("a lay by size is told back as what was asked for") {
  const WallRef barrel = fixtures::barrel_wall(4, 6, 2), dome = fixtures::dome_wall(5, 2.5);
  for (const WallRef& wall : {barrel, dome})
    for (const double turn : {0.0, 25.0, -140.0}) {
      const auto frame = place_by_size(*wall, {400, 300}, {2.2, 2.1}, 1.7, turn);
      REQUIRE(frame);
      const auto told = by_size_of(*wall, picture_with(*frame));
      REQUIRE(told);
      CHECK(told->lay == BySize::Lay::unrolled);
      CHECK(told->width_m == Approx(1.7).margin(1e-4));
      CHECK(told->turn_deg == Approx(turn));
      const auto again = place_by_size(*wall, {400, 300}, told->at, told->width_m, told->turn_deg);
      REQUIRE(again);
      CHECK(again->width == Approx(frame->width).margin(1e-4));
    }
}

TEST_CASE("a lay by plan or elevation is told back as what was asked for") {
  const WallRef wall = fixtures::barrel_wall(4, 6, 2);
  for (const bool plan : {true, false})
    for (const double turn : {0.0, 20.0, -75.0}) {
      const ChartPoint at{2, plan ? 2.0 : 1.0};
      const auto lay = place_by_plane(*wall, {400, 300}, plan, at, 1.3, turn);
      if (!lay) continue;  // a barrel shows in plan; from the front only partly
      const auto told = by_size_of(*wall, picture_with(*lay));
      REQUIRE(told);
      INFO((plan ? "plan " : "elevation ") << turn);
      CHECK(told->lay == (plan ? BySize::Lay::plan : BySize::Lay::elevation));
      CHECK(told->width_m == Approx(1.3));
      CHECK(told->turn_deg == Approx(turn).margin(1e-6));
      CHECK(glm::length(to_vec(told->at) - to_vec(at)) < 1e-3);
    }
  REQUIRE(place_by_plane(*wall, {400, 300}, true, {2, 2}, 1.3, 0));
}

TEST_CASE("a picture set by points or seen from a place is not told back by size") {
  const WallRef wall = fixtures::flat_wall(4, 3);
  PlacedPicture seen = picture_with(CameraLay{});
  CHECK_FALSE(by_size_of(*wall, seen));
  PlacedPicture by_points = picture_with(PictureFrame{{1, 1}, 1, 0.75, 0});
  by_points.points = {{{0, 0}, {1, 1}}, {{10, 0}, {2, 1}}};
  CHECK_FALSE(by_size_of(*wall, by_points));
}

// Properties: the place taken hold of shows its old pixel where it was brought; the kept place shows its old pixel.
TEST_CASE("a picture moved by hand carries its pixels along, and one scaled about a corner keeps that corner") {
  const WallRef wall = fixtures::barrel_wall(4, 6, 2);
  const PictureFrame frame{{1.5, 2}, 1.6, 1.2, 15};
  const auto plane = place_by_plane(*wall, {400, 300}, true, {1.5, 2}, 1.6, 15);
  REQUIRE(plane);
  for (const Lay& lay : {Lay(frame), Lay(*plane)}) {
    const PlacedPicture before = picture_with(lay);
    const ChartPoint from{2, 3}, to{2.6, 3.3};
    const auto moved = moved_along(*wall, before, from, to_vec(to) - to_vec(from));
    REQUIRE(moved);
    CHECK(glm::length(pixel_of(picture_with(moved->lay), *wall, to) - pixel_of(before, *wall, from)) < 1e-6);

    const auto scaled = scaled_about(before, {400, 0}, 1.7);
    REQUIRE(scaled);
    const PlacedPicture after = picture_with(*scaled);
    const auto corner = wall_place(*wall, before, {400, 0});
    REQUIRE(corner);
    CHECK(glm::length(pixel_of(after, *wall, *corner) - Vec2(400, 0)) < 1e-5);
    const auto other = wall_place(*wall, before, {200, 150});
    REQUIRE(other);  // halfway to the far corner of the smaller one: 1.7 times nearer in the larger one's pixels
    CHECK(glm::length(pixel_of(after, *wall, *other) - (Vec2(400, 0) + Vec2(-200, 150) / 1.7)) < 1e-5);
  }
}
