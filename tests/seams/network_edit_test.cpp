#include <catch2/catch.hpp>

#include "engine/base/predicates.h"
#include "tests/seams/network_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

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

TEST_CASE("an outline round a giornata and touching its rim at a point, and inside a ring of giornate") {
  Network n = insert(plain_wall(), {at(1, 1), at(2, 1), at(1.5, 2)}, 1);
  n = insert(n, rectangle(0.5, 0.5, 3, 2), 2);  // the triangle's tip lies on its upper side
  CHECK(area_of(n, {2}) == 3'250'000'000'000);
  CHECK(n.rings(n.faces_of({2})[0]).size() == 1);  // the rim passes the tip twice
  n = remove_giornata(n, {1}, flat_meter()).value();
  require_sound(n);
  n = insert(n, rectangle(0, 0, 4, 3), 3);  // all the rest: around and in the hole; the larger is kept
  CHECK(area_of(n, {3}) == 8'250'000'000'000);
  CHECK(area_of(n, {}) == 500'000'000'000);
}

TEST_CASE("neighbours share a stretch drawn exactly alike, with T-junctions, and corners on slanted seams") {
  Network n = insert(plain_wall(), {at(1, 1), at(2, 1.3), at(2, 2), at(1, 2)}, 1);
  const auto seams = n.live_seams();
  n = insert(n, {at(1, 1), at(1, 0.5), at(2, 0.5), at(2, 1.3)}, 2);
  CHECK(n.live_seams() == seams + 3);
  n = insert(n, {at(2, 1.3), at(2, 2), at(3, 2), at(3, 1)}, 3);
  // Two corners on the slanted seam between 1 and 2, rounded to the lattice: no gap is left.
  n = remove_giornata(n, {2}, flat_meter()).value();
  const auto before = n;
  n = insert(n, {at(1.25, 1.075), at(1.3, 0.6), at(1.7, 0.6), at(1.75, 1.225)}, 4);
  CHECK(n.faces().size() == before.faces().size() + 1);
  double shared = 0;
  for (const auto& s : shared_seams(n))
    if (s.a == GiornataId{1} && s.b == GiornataId{4}) shared = s.length_m;
  CHECK(shared == Approx(std::hypot(0.5, 0.15)).margin(1e-7));
}

TEST_CASE("outlines along the border, beyond it, over an opening and over everything") {
  const std::vector<Ring> rings{rectangle(0, 0, 4, 3), reversed(rectangle(1, 1, 2, 2))};
  const Network wall = Network::from_border(rings, flat_meter()).value();
  CHECK(area_of(insert(wall, rectangle(0, 0, 1, 3), 1), {1}) == 3'000'000'000'000);
  CHECK(area_of(insert(wall, rectangle(-1, -1, 1, 4), 1), {1}) == 3'000'000'000'000);
  CHECK(area_of(insert(wall, rectangle(0.5, 0.5, 2.5, 2.5), 1), {1}) == 3'000'000'000'000);
  CHECK(area_of(insert(wall, rectangle(1.5, 0.5, 3, 2.5), 1), {1}) == 2'500'000'000'000);
  CHECK(area_of(insert(wall, rectangle(-1, -1, 5, 4), 1), {1}) == 11'000'000'000'000);
  CHECK(area_of(insert(wall, rectangle(0, 0, 4, 3), 1), {1}) == 11'000'000'000'000);
  CHECK(area_of(insert(wall, rectangle(1, 1, 2, 2.5), 1), {1}) == 500'000'000'000);
  CHECK(refusal(wall, rectangle(1, 1, 2, 2)).find("outside the wall") != std::string::npos);
  const Network full = insert(wall, rectangle(0, 0, 4, 3), 1);
  CHECK(refusal(full, rectangle(0.2, 0.2, 0.8, 0.8)).find("already belongs") != std::string::npos);
  require_sound(remove_giornata(full, {1}, flat_meter()).value());
}

TEST_CASE("an outline split by earlier giornate keeps the largest piece and tells of the others") {
  const Network n = insert(plain_wall(), rectangle(1, 0, 2, 3), 1);
  const auto made = insert_outline(n, rectangle(0.5, 1, 3.5, 2), {2}, flat_meter());
  REQUIRE(made.ok());
  require_sound(made->network);
  CHECK(made->area_m2 == Approx(1.5).margin(1e-12));
  REQUIRE(made->dropped.size() == 1);
  CHECK(made->dropped[0].area_m2 == Approx(0.5).margin(1e-12));
  CHECK(made->dropped[0].at.u == Approx(0.75).margin(0.2));
  CHECK(made->overlap_given_up);
  CHECK(made->network.owner_at(to_lattice(made->dropped[0].at)) == GiornataId{});
  // The dropped piece left no seams: the rest on the left is one face with the border's corners and the giornata's.
  CHECK(made->network.faces_of({}).size() == 2);
  CHECK_FALSE(insert_outline(n, rectangle(2, 1, 3.5, 2), {2}, flat_meter())->overlap_given_up);
}

TEST_CASE("direction of drawing does not matter") {
  const Ring ring{at(0.3, 0.3), at(2, 0.5), at(2.5, 2), at(1, 1.1)};
  const auto there = insert(plain_wall(), ring, 1), back = insert(plain_wall(), reversed(ring), 1);
  CHECK(area_of(there, {1}) == area_of(back, {1}));
}

TEST_CASE("a line of rounding's width between neighbours is closed, a real gap is not") {
  const Network n = insert(plain_wall(), rectangle(1, 1, 2, 2), 1);
  const auto beside = [&](std::int64_t pitches) {
    return insert(n, {at(2, 1), at(3, 1), at(3, 2), at(2, 2), {at(2, 1).x + pitches, at(2, 1.5).y}}, 2);
  };
  CHECK(beside(1).faces_of({}).size() == 1);
  CHECK(shared_seams(beside(1)).size() == 3);  // each with the rest, and with each other
  CHECK(area_of(beside(1), {1}) == 1'000'000'000'000);
  CHECK(beside(100).faces_of({}).size() == 2);
  CHECK(shared_seams(beside(100)).size() == 2);
}

TEST_CASE("joining, dividing and taking away") {
  Network n = insert(plain_wall(), rectangle(1, 1, 3, 2), 1);
  n = divide_giornata(n, {1}, {at(1.75, 0), at(1.75, 3)}, {2}, flat_meter()).value();
  require_sound(n);
  CHECK(area_of(n, {1}) == 1'250'000'000'000);
  CHECK(area_of(n, {2}) == 750'000'000'000);
  // Ends within the reach of the rim are led on to it; a bent line.
  const Network bent =
      divide_giornata(n, {1}, {at(2.5, 1.001), at(2.4, 1.5), at(2.5, 1.999)}, {3}, flat_meter()).value();
  require_sound(bent);
  CHECK(area_of(bent, {1}) + area_of(bent, {3}) == 1'250'000'000'000);
  CHECK(bent.faces_of({3}).size() == 1);

  const auto refused = [&](const std::vector<LatticePoint>& line) {
    const auto cut = divide_giornata(n, {1}, line, {3}, flat_meter());
    REQUIRE_FALSE(cut.ok());
    return cut.problem().message();
  };
  CHECK(refused({at(2.5, 0.5), at(2.5, 1.5)}).find("ends inside") != std::string::npos);
  CHECK(refused({at(0.5, 0.5), at(3.5, 0.5)}).find("does not divide") != std::string::npos);
  CHECK(refused({at(2.5, 0.5)}).find("fewer than 2") != std::string::npos);
  CHECK(refused({at(2.5, 0.5), at(2.5, 1.5), at(2.8, 1.2), at(2.2, 1.2)}).find("crosses") != std::string::npos);
  CHECK(refused({at(2.999999, 0.5), at(2.999999, 2.5)}).find("One part would be only") != std::string::npos);
  CHECK(refused({at(2.5, 0.5), at(2.5, 1.5), at(2.5, 0.5)}).find("comes back") != std::string::npos);
  CHECK_FALSE(divide_giornata(n, {77}, {at(0, 0), at(1, 1)}, {3}, flat_meter()).ok());
  CHECK_THROWS_AS(divide_giornata(n, {1}, {at(0, 0), at(1, 1)}, {2}, flat_meter()), std::invalid_argument);

  const Network joined = join_giornate(n, {2}, {1}, flat_meter()).value();
  require_sound(joined);
  CHECK(area_of(joined, {2}) == 2'000'000'000'000);
  CHECK(joined.faces_of({1}).empty());
  CHECK_FALSE(join_giornate(n, {1}, {1}, flat_meter()).ok());
  CHECK_FALSE(join_giornate(n, {1}, {9}, flat_meter()).ok());
  const Network apart = insert(n, rectangle(0, 0, 0.5, 0.5), 5);
  CHECK(join_giornate(apart, {1}, {5}, flat_meter()).problem().message().find("no seam") != std::string::npos);
  // Touching at a corner only is not sharing a seam.
  const Network corner = insert(n, rectangle(3, 2, 3.5, 2.5), 5);
  CHECK_FALSE(join_giornate(corner, {1}, {5}, flat_meter()).ok());

  const Network empty = remove_giornata(joined, {2}, flat_meter()).value();
  require_sound(empty);
  CHECK(empty.faces().size() == 1);
  CHECK(empty.live_seams() == 4);
  CHECK_FALSE(remove_giornata(empty, {2}, flat_meter()).ok());
}

TEST_CASE("a giornata with an island in it is divided over the island") {
  Network n = insert(plain_wall(), rectangle(1.5, 1, 2.5, 2), 1);
  n = insert(n, rectangle(0.5, 0.5, 3.5, 2.5), 2);
  // From rim to the island: no part is cut off. Across and over the island: two stretches, which part it together.
  const auto halfway = divide_giornata(n, {2}, {at(2, 0), at(2, 1.5)}, {3}, flat_meter());
  REQUIRE_FALSE(halfway.ok());
  CHECK(halfway.problem().what == "The line does not divide the giornata");
  CHECK(halfway.problem().remedy.find("at an opening or island") != std::string::npos);
  const auto over = divide_giornata(n, {2}, {at(1.9, 0), at(1.9, 3)}, {3}, flat_meter());
  REQUIRE(over.ok());
  require_sound(*over);
  CHECK(area_of(*over, {1}) == 1'000'000'000'000);
  CHECK(m2(area_of(*over, {2})) == Approx(1.6 * 2 - 0.6).margin(1e-7));
  CHECK(m2(area_of(*over, {3})) == Approx(1.4 * 2 - 0.4).margin(1e-7));
  const auto beside = divide_giornata(n, {2}, {at(1, 0), at(1, 3)}, {3}, flat_meter());
  REQUIRE(beside.ok());
  require_sound(*beside);
  CHECK(area_of(*beside, {3}) == 1'000'000'000'000);
}

TEST_CASE("seams near a box, places inside, and faces under a point") {
  Network n = insert(plain_wall(), regular(1.5, 1.5, 0.8, 40), 1);
  n = insert(n, regular(2.4, 1.5, 0.8, 31), 2);
  std::mt19937_64 rng(1);
  std::uniform_real_distribution<double> u(-0.2, 4.2), v(-0.2, 3.2);
  for (int i = 0; i < 300; ++i) {
    const LatticePoint p = at(u(rng), v(rng)), q = at(u(rng), v(rng));
    const LatticePoint lo{std::min(p.x, q.x), std::min(p.y, q.y)}, hi{std::max(p.x, q.x), std::max(p.y, q.y)};
    // All that pass the box, none twice, and none whose own box misses it.
    const auto found = n.seams_near(lo, hi);
    REQUIRE(std::adjacent_find(found.begin(), found.end()) == found.end());
    const Ring box{lo, {hi.x, lo.y}, hi, {lo.x, hi.y}};
    for (std::uint32_t k = 0; k < n.half_edge_slots() / 2; ++k) {
      if (!n.alive(SeamId{k})) continue;
      const LatticePoint a = n.origin({k << 1}), b = n.target({k << 1});
      const bool boxes = std::max(a.x, b.x) >= lo.x && std::min(a.x, b.x) <= hi.x && std::max(a.y, b.y) >= lo.y &&
                         std::min(a.y, b.y) <= hi.y;
      bool passes = point_in_ring(box, a) >= 0;
      for (std::size_t e = 0; e < 4; ++e) passes |= segments_meet(a, b, box[e], box[(e + 1) % 4]);
      const bool listed = std::binary_search(found.begin(), found.end(), SeamId{k});
      REQUIRE((!passes || listed));
      REQUIRE((!listed || boxes));
    }
    std::optional<FaceId> under;
    for (const FaceId f : n.faces()) {
      int inside = 0;
      for (const Ring& ring : n.rings(f)) inside += point_in_ring(ring, p) > 0 ? (twice_area(ring) > 0 ? 1 : -1) : 0;
      if (inside > 0) under = f;
    }
    REQUIRE(n.face_at(p) == under);
  }
  for (const FaceId f : n.faces()) CHECK(n.face_at(to_lattice(n.place_inside(f))) == f);
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

TEST_CASE("an outline of exactly 1 by 1 cm is accepted wherever it is typed, one a little less is refused with why") {
  const Network n = plain_wall();
  for (int i = 0; i < 400; ++i) {
    const double u = 0.01 + 0.0097 * i, v = 0.02 + 0.00703 * i;
    const auto made = insert_outline(n, rectangle(u, v, u + 0.01, v + 0.01), {1}, flat_meter());
    INFO(u << " " << v);
    REQUIRE(made.ok());
    REQUIRE(made->area_m2 == Approx(1e-4).epsilon(1e-6));
  }
  CHECK(refusal(n, rectangle(1, 1, 1.01, 1.00999)).find("Only 0.999 cm²") == 0);
  CHECK(refusal(n, rectangle(1, 1, 1.01, 1.0099999)).find("Only 0.9999") == 0);
}

TEST_CASE("a giornata may be divided into two parts of exactly 1 cm2 each, not into less") {
  for (int i = 0; i < 100; ++i) {
    const double u = 0.01 + 0.0337 * i, v = 0.02 + 0.0203 * i;
    const Network n = insert(plain_wall(), rectangle(u, v, u + 0.02, v + 0.01), 1);
    const auto parts = [&](double at_u) {
      const std::vector<LatticePoint> line{at(at_u, v - 0.01), at(at_u, v + 0.02)};
      return divide_giornata(n, {1}, line, {2}, flat_meter());
    };
    INFO(u << " " << v);
    REQUIRE(parts(u + 0.01).ok());
    const auto refused = parts(u + 0.00999);
    REQUIRE_FALSE(refused.ok());
    REQUIRE(refused.problem().what.find("0.999 cm²") != std::string::npos);
  }
}
