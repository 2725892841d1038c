#include <catch2/catch.hpp>

#include "tests/seams/network_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

void require_sound(const Network& n) {
  const auto faults = n.check();
  for (const auto& f : faults) UNSCOPED_INFO(f.message());
  REQUIRE(faults.empty());
  REQUIRE(area_of_all(n) == n.wall_area());
}

Network insert(const Network& n, const Ring& outline, std::uint32_t id) {
  auto made = insert_outline(n, outline, {id}, flat_meter());
  if (!made) FAIL(made.problem().message());
  require_sound(made->network);
  return made->network;
}

std::string refusal(const Network& n, const Ring& outline, std::uint32_t id = 99) {
  const auto made = insert_outline(n, outline, {id}, flat_meter());
  REQUIRE_FALSE(made.ok());
  return made.problem().message();
}

}  // namespace

TEST_CASE("a wall begins as one rest face with its openings") {
  const std::vector<Ring> rings{rectangle(0, 0, 4, 3), reversed(rectangle(1, 1, 2, 2))};
  const Network n = Network::from_border(rings, flat_meter()).value();
  require_sound(n);
  CHECK(n.faces().size() == 1);
  CHECK(n.wall_area() == 11'000'000'000'000);
  CHECK(n.rings(n.faces()[0]).size() == 2);
  CHECK(n.face_at(at(0.5, 0.5)).has_value());
  CHECK_FALSE(n.face_at(at(1.5, 1.5)).has_value());
  CHECK_FALSE(n.face_at(at(-1, 1)).has_value());
  CHECK_FALSE(n.face_at(at(1, 1.5)).has_value());
}

TEST_CASE("one giornata in the middle, and one beside it that overlaps") {
  Network n = insert(plain_wall(), rectangle(1, 1, 2, 2), 1);
  CHECK(area_of(n, {1}) == 1'000'000'000'000);
  n = insert(n, rectangle(1.5, 0.5, 3, 1.5), 2);
  CHECK(area_of(n, {1}) == 1'000'000'000'000);
  CHECK(area_of(n, {2}) == 1'250'000'000'000);
  CHECK(n.owner_at(at(1.75, 1.25)) == GiornataId{1});
  CHECK(n.owner_at(at(1.75, 0.75)) == GiornataId{2});
  CHECK(n.owner_at(at(0.1, 0.1)) == GiornataId{});
}

TEST_CASE("an outline round a giornata leaves it as an island") {
  Network n = insert(plain_wall(), rectangle(1, 1, 2, 2), 1);
  n = insert(n, rectangle(0.5, 0.5, 3, 2.5), 2);
  CHECK(area_of(n, {2}) == 4'000'000'000'000);
  CHECK(n.rings(n.faces_of({2})[0]).size() == 2);
}

TEST_CASE("slanted neighbours") {
  Network n = insert(plain_wall(), regular(1.5, 1.5, 0.8, 17), 1);
  for (std::uint32_t i = 2; i < 10; ++i)
    n = insert(n, regular(0.9 + 0.23 * i, 1.0 + 0.1 * (i % 3), 0.5, 5 + static_cast<int>(i), 0.1 * i), i);
}

TEST_CASE("outlines that cannot be a giornata are refused with the place") {
  const Network n = insert(plain_wall(), rectangle(1, 1, 2, 2), 1);
  CHECK(refusal(n, {}).find("fewer than 3") != std::string::npos);
  CHECK(refusal(n, {at(1, 1), at(1, 1), at(2, 2)}).find("fewer than 3") != std::string::npos);
  const std::string crossing = refusal(n, {at(0, 0), at(1, 1), at(1, 0), at(0, 1)});
  CHECK(crossing.find("crosses") != std::string::npos);
  CHECK(crossing.find("0.5000 0.5000") != std::string::npos);
  CHECK(refusal(n, rectangle(1, 1, 2, 2)).find("already belongs") != std::string::npos);
  CHECK(refusal(n, rectangle(1.2, 1.2, 1.5, 1.5)).find("already belongs") != std::string::npos);
  CHECK(refusal(n, rectangle(10, 10, 12, 12)).find("outside the wall") != std::string::npos);
  CHECK(refusal(n, rectangle(0.1, 0.1, 0.109, 0.109)).find("0.81 cm") != std::string::npos);
  CHECK(refusal(n, rectangle(1.2, 1.2, 1.5, 2.0001)).find("cm² of this outline is left") != std::string::npos);
  CHECK(refusal(n, {{kLatticeLimit, 0}, at(1, 1), at(2, 2)}).find("far outside") != std::string::npos);
  CHECK_THROWS_AS(insert_outline(n, rectangle(0, 0, 1, 1), {}, flat_meter()), std::invalid_argument);
  CHECK_THROWS_AS(insert_outline(n, rectangle(0, 0, 1, 1), {1}, flat_meter()), std::invalid_argument);
}
