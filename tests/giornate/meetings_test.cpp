// A chapel: a barrel vault on two side walls with a lunette at each end; lengths by closed forms.
#include "engine/giornate/meetings.h"

#include <catch2/catch.hpp>
#include <numbers>

#include "engine/chart/openings_cut.h"
#include "engine/seams/outline_edit.h"
#include "tests/fixtures/walls.h"

using namespace pontata;

namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kSpan = 4, kLength = 6, kSpring = 2.5;  // springing above the floor

struct Room {
  std::vector<WallRef> walls;
  std::vector<Network> networks;

  std::size_t add(const WallRef& wall) {
    walls.push_back(wall);
    networks.push_back(Network::from_border(wall->chart->border_rings(), wall->metric->meter()).value());
    return walls.size() - 1;
  }
  void paint(std::size_t wall, double u, double v, double w, double h, std::uint32_t id) {
    const std::vector<ChartPoint> box{{u, v}, {u + w, v}, {u + w, v + h}, {u, v + h}};
    const auto ring = bring_to_border(*walls[wall], box).value();
    networks[wall] = insert_outline(networks[wall], ring, GiornataId{id}, walls[wall]->metric->meter()).value().network;
  }
  std::vector<std::vector<MeetsWall>> met() const {
    std::vector<WallBorder> borders;
    for (std::size_t i = 0; i < walls.size(); ++i) borders.push_back({walls[i].get(), &networks[i]});
    return walls_met(borders);
  }
};

// Length that giornata `own` of wall `one` meets of giornata `other` of wall `two`.
double length_of(const std::vector<std::vector<MeetsWall>>& met, std::size_t one, std::size_t two,
                 std::optional<std::uint32_t> own = {}, std::optional<std::uint32_t> other = {}) {
  double sum = 0;
  for (const auto& m : met[one])
    if (m.wall == two && (!own || m.giornata.value == *own) && (!other || m.other.value == *other)) sum += m.length_m;
  return sum;
}

// A place of the room turned and moved into the building.
Placement3 placed(const Placement3& building, const Vec3& at, double turn_deg) {
  return {apply(building, at), building.turn_deg + turn_deg};
}

// 0 vault, 1 and 2 side walls (painted sides inward), 3 and 4 lunettes at x = length and x = 0.
Room chapel(const Placement3& building, const std::vector<Opening>& openings = {}) {
  Room room;
  room.add(build_wall(fixtures::barrel_spec(kSpan, kLength, kSpan / 2), placed(building, {0, 0, kSpring}, 0), "vault")
               .value());
  const ShapeSpec side = fixtures::flat_spec(kLength, kSpring);
  room.add(build_wall(side, placed(building, {0, kSpan / 2, 0}, 0), "north", 0, openings).value());
  room.add(build_wall(side, placed(building, {kLength, -kSpan / 2, 0}, 180), "south").value());
  const ShapeSpec lunette{.kind = ShapeKind::lunette, .span = kSpan, .rise = kSpan / 2};
  room.add(build_wall(lunette, placed(building, {kLength, kSpan / 2, kSpring}, -90), "east").value());
  room.add(build_wall(lunette, placed(building, {0, -kSpan / 2, kSpring}, 90), "west").value());
  return room;
}

}  // namespace

TEST_CASE("a barrel stands on its side walls along its length and meets lunettes along half a circle") {
  for (const Placement3& building : {Placement3{}, Placement3{{12.5, -7, 3}, 37}}) {
    const auto met = chapel(building).met();
    CHECK(length_of(met, 0, 1) == Approx(kLength).epsilon(1e-4));
    CHECK(length_of(met, 1, 0) == Approx(kLength).epsilon(1e-4));
    CHECK(length_of(met, 2, 0) == Approx(kLength).epsilon(1e-4));
    for (const std::size_t end : {3, 4}) {
      CHECK(length_of(met, 0, end) == Approx(kPi * kSpan / 2).epsilon(1e-4));
      CHECK(length_of(met, end, 0) == Approx(kPi * kSpan / 2).epsilon(1e-4));
    }
    CHECK(length_of(met, 1, 2) == 0);
    CHECK(length_of(met, 1, 3) == 0);
    CHECK(length_of(met, 3, 4) == 0);
  }
}

TEST_CASE("giornate meet those on the other side of the common edge") {
  Room room = chapel({});
  // The springing over the north wall is v = 0 of the vault; along both u is x.
  room.paint(0, 1, 0, 2, 1, 1);
  room.paint(1, 0.5, 1.5, 1.5, 1, 2);
  room.paint(1, 2.5, 1.5, 1, 1, 3);
  const auto met = room.met();
  CHECK(length_of(met, 0, 1, 1, 2) == Approx(1).epsilon(1e-4));
  CHECK(length_of(met, 0, 1, 1, 3) == Approx(0.5).epsilon(1e-4));
  CHECK(length_of(met, 0, 1, 1, 0) == Approx(0.5).epsilon(1e-4));
  CHECK(length_of(met, 1, 0, 2, 1) == Approx(1).epsilon(1e-4));
  CHECK(length_of(met, 1, 0, 3, 1) == Approx(0.5).epsilon(1e-4));
  CHECK(length_of(met, 1, 0, 0) == Approx(kLength - 2.5).epsilon(1e-4));
  CHECK(met[2].size() == 1);
}

TEST_CASE("walls apart do not meet, nor do walls that only touch at a corner or cross") {
  const auto met_of = [](const Placement3& other, double width) {
    Room room;
    room.add(fixtures::flat_wall(3, 2));
    room.add(build_wall(fixtures::flat_spec(width, 2), other, "other").value());
    const auto met = room.met();
    return length_of(met, 0, 1);
  };
  CHECK(met_of({{3, 0, 0}, 0}, 1) == Approx(2));      // side by side
  CHECK(met_of({{3.008, 0, 0}, 0}, 1) == Approx(2));  // with a joint of 8 mm
  CHECK(met_of({{3.012, 0, 0}, 0}, 1) == 0);          // too far off
  CHECK(met_of({{3, 0, 0}, 90}, 1) == Approx(2));     // round a corner
  CHECK(met_of({{3, 0, 1}, 0}, 1) == Approx(1));      // half as high there
  CHECK(met_of({{0.5, 0, 2}, 0}, 1) == Approx(1));    // on top, narrower
  CHECK(met_of({{3, 0, 2}, 0}, 1) == 0);              // corner to corner
  CHECK(met_of({{1.5, -1, 0}, 90}, 2) == 0);          // crossing in the middle
  CHECK(met_of({{9, 9, 9}, 0}, 1) == 0);
}

TEST_CASE("a door in a side wall that reaches its top is missing from what the vault meets") {
  const auto met = chapel({}, {{OpeningKind::rect, {2, 1}, 1.25, 2, {}}}).met();
  CHECK(length_of(met, 0, 1) == Approx(kLength - 1.25).epsilon(1e-4));
}
