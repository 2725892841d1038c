// Outlines that take over giornate: areas of rectangles in closed form, and what each giornata is afterwards.
#include "engine/seams/bite.h"

#include <catch2/catch.hpp>

#include "engine/base/predicates.h"
#include "tests/seams/network_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

void require_laid(const Network& n) {
  require_sound(n);
  require_seams_part(n);
}

Network with(const Network& n, const Ring& outline, std::uint32_t id) {
  return insert_outline(n, outline, {id}, flat_meter()).value().network;
}

Result<Bite> try_bite(const Network& n, const std::vector<Ring>& outlines, std::uint32_t id,
                      const SeamHold& hold = {}) {
  std::uint32_t next = 100;
  return take_bite(
      n, outlines, {id}, [&] { return GiornataId{next++}; }, flat_meter(), nullptr, hold,
      [](GiornataId g) { return "giornata " + std::to_string(g.value); });
}

Bite bite(const Network& n, const Ring& outline, std::uint32_t id, const SeamHold& hold = {}) {
  auto made = try_bite(n, {outline}, id, hold);
  if (!made) FAIL(made.problem().message());
  require_laid(made->network);
  CHECK(made->area_m2 == Approx(m2(area_of(made->network, {id}))).margin(1e-12));
  return std::move(*made);
}

std::string refusal(const Network& n, const Ring& outline, std::uint32_t id, const SeamHold& hold = {}) {
  const auto made = try_bite(n, {outline}, id, hold);
  REQUIRE_FALSE(made.ok());
  return made.problem().message();
}

// The area in m^2; lines that cross at round places are exact to the lattice.
double area(const Network& n, std::uint32_t id) { return m2(area_of(n, {id})); }
Approx about(double v) { return Approx(v).margin(2e-8); }

SeamHold holds(std::uint32_t id) {
  return [id](GiornataId g) { return g.value == id ? std::string("giornata is painted") : std::string(); };
}

}  // namespace

TEST_CASE("a new outline takes the overlap, and the bitten one keeps the rest") {
  const Network n = with(plain_wall(), rectangle(1, 1, 2, 2), 1);
  const Bite b = bite(n, rectangle(1.5, 0.5, 3, 1.5), 2);
  CHECK(area(b.network, 1) == about(0.75));
  CHECK(area(b.network, 2) == about(1.5));
  REQUIRE(b.taken.size() == 1);
  CHECK(b.taken[0].from == GiornataId{1});
  CHECK(b.taken[0].area_m2 == about(0.25));
  CHECK(b.parts.empty());
  CHECK(b.dropped.empty());
  CHECK_FALSE(b.overlap_given_up);
  CHECK(b.network.owner_at(at(1.75, 1.25)) == GiornataId{2});
}

TEST_CASE("a giornata bitten through stays the larger part; the other is a giornata of its own") {
  const Network n = with(plain_wall(), rectangle(1, 1, 3, 2), 1);
  const Bite b = bite(n, rectangle(1.5, 0.5, 2, 2.5), 2);
  CHECK(area(b.network, 1) == about(1));
  CHECK(area(b.network, 2) == about(1));
  REQUIRE(b.parts.size() == 1);
  CHECK(b.parts[0].of == GiornataId{1});
  CHECK(b.parts[0].id == GiornataId{100});
  CHECK(b.parts[0].area_m2 == about(0.5));
  CHECK(b.network.owner_at(at(2.5, 1.5)) == GiornataId{1});
  CHECK(b.network.owner_at(at(1.25, 1.5)) == GiornataId{100});
}

TEST_CASE("crumbs below 1 cm2 go to the one that takes") {
  const Network n = with(plain_wall(), rectangle(1, 1, 3, 2), 1);
  // A corner of 5 by 5 mm would stay beyond the outline.
  const Bite b = bite(n, {at(0.5, 0.5), at(2, 0.5), at(2, 2.5), at(1.005, 2.5), at(1.005, 1.995), at(0.5, 1.995)}, 2);
  CHECK(b.parts.empty());
  CHECK(b.taken[0].area_m2 == about(1));
  CHECK(area(b.network, 1) == about(1));
  CHECK(b.network.owner_at(at(1.002, 1.998)) == GiornataId{2});
  // Beyond it there was only rest, so nothing else came along.
  CHECK(area(b.network, 2) == about(1.5 * 2 - 0.505 * 0.505 + 0.005 * 0.005));
}

TEST_CASE("over several giornate, a seam between them, and their common corner") {
  Network n = with(plain_wall(), rectangle(1, 1, 2, 2), 1);
  n = with(n, rectangle(2, 1, 3, 2), 2);
  n = with(n, rectangle(1, 2, 3, 2.5), 3);
  const Bite b = bite(n, rectangle(1.5, 1.5, 2.5, 2.25), 4);
  CHECK(area(b.network, 4) == about(0.75));
  CHECK(area(b.network, 1) == about(0.75));
  CHECK(area(b.network, 2) == about(0.75));
  CHECK(area(b.network, 3) == about(0.75));
  CHECK(b.taken.size() == 3);
  CHECK(b.network.faces_of({4}).size() == 1);
}

TEST_CASE("an outline inside a giornata becomes an island, and grows to the rim") {
  const Network n = with(plain_wall(), rectangle(1, 1, 3, 2), 1);
  Bite b = bite(n, rectangle(1.5, 1.25, 2, 1.75), 2);
  CHECK(b.network.rings(b.network.faces_of({1})[0]).size() == 2);
  CHECK(area(b.network, 1) == about(1.75));
  b = bite(b.network, rectangle(1.75, 1.5, 2.5, 2.5), 2);
  CHECK(b.network.rings(b.network.faces_of({1})[0]).size() == 1);
  CHECK(area(b.network, 2) == about(0.25 + 0.75 - 0.25 * 0.25));
  CHECK(area(b.network, 1) == about(2 - (0.25 + 0.375 - 0.25 * 0.25)));
}

TEST_CASE("an island within the outline: taken round, not over") {
  Network n = with(plain_wall(), rectangle(1, 1, 3, 2), 1);
  n = bite(n, rectangle(1.5, 1.25, 2, 1.75), 2).network;
  // What would swallow a giornata whole is refused, with its name and place.
  const std::string refused = refusal(n, rectangle(1.25, 1.1, 2.5, 1.9), 3);
  CHECK(refused.find("Nothing would be left of giornata 2") != std::string::npos);
  CHECK(refused.find("at 1.") != std::string::npos);
  // Held, it stays as an island of the new one.
  const Bite b = bite(n, rectangle(1.25, 1.1, 2.5, 1.9), 3, holds(2));
  CHECK(b.overlap_given_up);
  CHECK(area(b.network, 2) == about(0.25));
  CHECK(area(b.network, 3) == about(1.25 * 0.8 - 0.25));
  CHECK(b.network.rings(b.network.faces_of({3})[0]).size() == 2);
}

TEST_CASE("held giornate keep their ground and their places") {
  Network n = with(plain_wall(), {at(1, 1), at(2, 1.1), at(2, 2), at(1, 2.1)}, 1);
  n = with(n, rectangle(2.5, 1, 3, 2), 2);
  const auto before = n.rings(n.faces_of({1})[0])[0];
  const Bite b = bite(n, rectangle(0.5, 1.25, 2.75, 1.75), 3, holds(1));
  CHECK(b.overlap_given_up);
  CHECK(area(b.network, 1) == about(m2(area_of(n, {1}))));
  // Cut in two by the held one: the larger is kept, the other stays rest.
  REQUIRE(b.dropped.size() == 1);
  CHECK(b.dropped[0].area_m2 == about(0.25));
  CHECK(area(b.network, 3) == about(0.375));
  CHECK(area(b.network, 2) == about(0.375));
  for (const LatticePoint p : before) CHECK(b.network.vertex_at(p));
  CHECK(refusal(n, rectangle(1.25, 1.25, 1.75, 1.75), 3, holds(1)).find("painted") != std::string::npos);
  CHECK(refusal(n, rectangle(1.25, 1.25, 2.75, 1.75), 1, holds(1)).find("painted") != std::string::npos);
}

TEST_CASE("a piece that a held giornata cuts off stays whose it was") {
  Network n = with(plain_wall(), rectangle(0, 0, 2, 3), 1);
  n = with(n, rectangle(2, 0, 2.5, 3), 2);
  n = with(n, rectangle(2.5, 0, 4, 3), 3);
  const Bite b = bite(n, rectangle(1.5, 1, 3.5, 2), 4, holds(2));
  CHECK(area(b.network, 4) == about(1));
  CHECK(area(b.network, 1) == about(6));
  CHECK(area(b.network, 3) == about(3.5));
  REQUIRE(b.dropped.size() == 1);
  CHECK(b.dropped[0].area_m2 == about(0.5));
  CHECK(b.taken.size() == 1);
}

TEST_CASE("added to a giornata that is there") {
  Network n = with(plain_wall(), rectangle(1, 1, 2, 2), 1);
  n = with(n, rectangle(2, 1, 3, 2), 2);
  // Over its rim, over a neighbour and rest.
  Bite b = bite(n, rectangle(1.5, 0.5, 2.5, 1.5), 1);
  CHECK(area(b.network, 1) == about(1 + 0.5 + 0.25));
  CHECK(area(b.network, 2) == about(0.75));
  CHECK_FALSE(b.overlap_given_up);
  CHECK(b.network.faces_of({1}).size() == 1);
  // Only along its rim.
  b = bite(n, rectangle(0.5, 1, 1, 2), 1);
  CHECK(area(b.network, 1) == about(1.5));
  // Not at it, at a corner only, wholly inside it.
  CHECK(refusal(n, rectangle(0.2, 1, 0.5, 2), 1).find("does not touch") != std::string::npos);
  CHECK(refusal(n, rectangle(0.5, 0.5, 1, 1), 1).find("does not touch") != std::string::npos);
  CHECK(refusal(n, rectangle(1.2, 1.2, 1.8, 1.8), 1).find("wholly inside") != std::string::npos);
  // The neighbour whole.
  CHECK(refusal(n, rectangle(1.5, 0.5, 3.5, 2.5), 1).find("Nothing would be left of giornata 2") != std::string::npos);
}

TEST_CASE("a hole is filled by what is drawn over it") {
  const std::vector<Ring> rings{rectangle(0, 0, 4, 3), reversed(rectangle(1, 1, 1.5, 1.5))};
  Network n = Network::from_border(rings, flat_meter()).value();
  n = with(n, rectangle(0.5, 0.5, 2, 2), 1);
  const Bite b = bite(n, rectangle(0.75, 0.75, 1.75, 1.75), 2);
  CHECK(area(b.network, 1) == about(2.25 - 1));
  CHECK(area(b.network, 2) == about(0.75));
  CHECK(b.network.rings(b.network.faces_of({2})[0]).size() == 2);
}

TEST_CASE("outlines that cannot bite are refused with the reason, and outside the wall") {
  const Network n = with(plain_wall(), rectangle(1, 1, 2, 2), 1);
  CHECK(refusal(n, rectangle(10, 10, 12, 12), 2).find("outside the wall") != std::string::npos);
  CHECK(refusal(n, {at(1, 1), at(2, 2)}, 2).find("fewer than 3") != std::string::npos);
  CHECK(refusal(n, {at(0, 0), at(1, 1), at(1, 0), at(0, 1)}, 2).find("crosses") != std::string::npos);
  CHECK(refusal(n, rectangle(1.2, 1.2, 1.205, 1.205), 2).find("0.25 cm") != std::string::npos);
  CHECK(refusal(n, rectangle(1, 1, 2, 1.99995), 2).find("left of giornata 1") != std::string::npos);
  CHECK(refusal(n, rectangle(1, 1, 2, 2), 2).find("Nothing would be left of giornata 1") != std::string::npos);
  CHECK_THROWS_AS(try_bite(n, {rectangle(0, 0, 1, 1)}, 0), std::invalid_argument);
}

TEST_CASE("an outline along a giornata's rim, a pitch to either side, takes nothing of it") {
  const Network n = with(plain_wall(), {at(1, 1), at(2, 1.3), at(2, 2), at(1, 2)}, 1);
  for (const std::int64_t off : {-1, 0, 1}) {
    const LatticePoint a{at(1, 1).x, at(1, 1).y + off}, b{at(2, 1.3).x, at(2, 1.3).y + off};
    const Bite made = bite(n, {a, at(1, 0.5), at(2, 0.5), b}, 2);
    INFO(off);
    CHECK(made.taken.empty());
    CHECK(area(made.network, 1) == about(m2(area_of(n, {1}))));
    double shared = 0;
    for (const auto& s : shared_seams(made.network))
      if (s.a == GiornataId{1} && s.b == GiornataId{2}) shared = s.length_m;
    if (off >= 0) CHECK(shared == Approx(std::hypot(1, 0.3)).margin(1e-6));
  }
}

TEST_CASE("several outlines at once are one giornata where they touch over what is there") {
  const Network n = with(plain_wall(), rectangle(1, 1, 3, 2), 1);
  const auto made = try_bite(n, {rectangle(1.2, 1.2, 1.4, 1.4), rectangle(1.6, 1.6, 1.9, 1.8)}, 2);
  REQUIRE(made.ok());
  require_laid(made->network);
  CHECK(made->area_m2 == about(0.06));  // apart: the larger is kept
  REQUIRE(made->dropped.size() == 1);
  CHECK(made->dropped[0].area_m2 == about(0.04));
  CHECK(area(made->network, 1) == about(1.94));
}
