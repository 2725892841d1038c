#include "engine/seams/network_step.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "engine/seams/network_codec.h"
#include "tests/seams/network_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

std::string text(const Network& n) { return NetworkCodec::to_json(n).dump(); }

struct Packed {
  std::vector<std::uint8_t> bytes;
  Network made;
};
Packed crossed(const Network& from, const Network& to, const EdgeMeter& meter) {
  PackWriter writer;
  NetworkStep::write(writer, from, to, meter);
  PackReader reader(writer.bytes());
  return {writer.bytes(), NetworkStep::read(reader, from, meter)};
}

// What a search by place finds does not depend on how the network came about.
void check_grid(const Network& a, const Network& b) {
  for (double u = 0; u < 4; u += 0.37)
    for (double v = 0; v < 3; v += 0.41) {
      const LatticePoint lo = at(u, v), hi = at(u + 0.3, v + 0.2);
      REQUIRE(a.seams_near(lo, hi) == b.seams_near(lo, hi));
      REQUIRE(a.face_at(lo) == b.face_at(lo));
      REQUIRE(a.vertex_at(lo) == b.vertex_at(lo));
    }
  REQUIRE(a.grid().entries() == b.grid().entries());
}

// Random outlines, removals, joins and divisions: each network after the one before it.
std::vector<Network> storm(int edits, const EdgeMeter& meter, unsigned seed) {
  std::mt19937 rng(seed);
  const auto real = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(rng); };
  const std::vector<Ring> rings{rectangle(0, 0, 4, 3), reversed(regular(3.3, 2.2, 0.3, 7))};
  std::vector<Network> all{Network::from_border(rings, meter).value()};
  std::vector<GiornataId> alive;
  std::uint32_t next = 1;
  for (int k = 0; k < edits; ++k) {
    const Network& n = all.back();
    const auto any = [&] { return alive[rng() % alive.size()]; };
    const auto what = alive.size() < 3 ? 0 : rng() % 4;
    Result<Network> made = Problem{};
    if (what == 0) {
      auto drawn = insert_outline(n, regular(real(0, 4), real(0, 3), real(0.1, 0.9), 5 + static_cast<int>(rng() % 60)),
                                  {next}, meter);
      if (drawn) made = std::move(drawn->network), alive.push_back({next++});
    } else if (what == 1) {
      const GiornataId gone = any();
      made = remove_giornata(n, gone, meter);
      if (made) std::erase(alive, gone);
    } else if (what == 2) {
      const GiornataId keep = any(), other = any();
      if (keep != other) made = join_giornate(n, keep, other, meter);
      if (made) std::erase(alive, other);
    } else {
      const GiornataId id = any();
      const auto inside = n.place_inside(n.faces_of(id)[0]);
      made =
          divide_giornata(n, id, {at(inside.u - 2, inside.v - 0.3), at(inside.u + 2, inside.v + 0.3)}, {next}, meter);
      if (made) alive.push_back({next++});
    }
    if (made) all.push_back(std::move(*made));
  }
  return all;
}

}  // namespace

TEST_CASE("a network is made again from the one after it and from the one before it, slot for slot") {
  for (const bool flat : {true, false}) {
    const EdgeMeter meter = flat ? flat_meter() : bulged_meter();
    const auto all = storm(140, meter, flat ? 5 : 6);
    REQUIRE(all.size() > 90);
    std::vector<std::size_t> sizes;
    for (std::size_t i = 0; i + 1 < all.size(); ++i) {
      const auto back = crossed(all[i + 1], all[i], meter), forth = crossed(all[i], all[i + 1], meter);
      REQUIRE(text(back.made) == text(all[i]));
      REQUIRE(text(forth.made) == text(all[i + 1]));
      sizes.push_back(back.bytes.size());
      if (i % 20 == 0) check_grid(back.made, all[i]), check_grid(forth.made, all[i + 1]);
    }
    std::sort(sizes.begin(), sizes.end());
    INFO("median " << sizes[sizes.size() / 2] << ", most " << sizes.back() << " bytes");
    CHECK(sizes[sizes.size() / 2] < 700);
  }
}

TEST_CASE("any two networks of one wall, and another meter, cost bytes and never exactness") {
  const auto all = storm(60, bulged_meter(), 9);
  const std::size_t last = all.size() - 1;
  for (const auto& [i, j] :
       {std::pair<std::size_t, std::size_t>{0, last}, {last, 0}, {last / 6, last / 2}, {2 * last / 3, last / 5}}) {
    CHECK(text(crossed(all[i], all[j], bulged_meter()).made) == text(all[j]));
    CHECK(text(crossed(all[i], all[j], flat_meter()).made) == text(all[j]));
    CHECK(text(crossed(all[i], all[j], {}).made) == text(all[j]));
  }
  const Network none;
  CHECK(text(crossed(none, all.back(), bulged_meter()).made) == text(all.back()));
  check_grid(crossed(none, all.back(), bulged_meter()).made, all.back());
  CHECK(text(crossed(all.back(), none, {}).made) == text(none));
  CHECK(crossed(all[3], all[3], {}).bytes.size() <= 8);
  CHECK(NetworkStep::same(all[3], all[3]));
  CHECK_FALSE(NetworkStep::same(all[3], all[4]));
}

TEST_CASE("a network with other free slots, as a file may hold them, is made again too") {
  const auto all = storm(40, flat_meter(), 21);
  auto json = NetworkCodec::to_json(all.back());
  const auto loaded = NetworkCodec::from_json(json);
  REQUIRE(loaded.ok());
  CHECK(text(crossed(*loaded, all[10], flat_meter()).made) == text(all[10]));
  CHECK(text(crossed(all[10], *loaded, flat_meter()).made) == text(all.back()));
}

TEST_CASE("a step back over a seam between nodes that were there leaves nothing of it in the search by place") {
  const Ring rim{at(1, 1), at(2, 1), at(3, 1), at(3, 2), at(2, 2.1), at(1, 2)};
  const Network whole = insert_outline(plain_wall(), rim, {1}, flat_meter())->network;
  const Network parted = divide_giornata(whole, {1}, {at(2, 1), at(2, 2.1)}, {2}, flat_meter()).value();
  REQUIRE(parted.vertex_slots() == whole.vertex_slots());
  const Network back = crossed(parted, whole, flat_meter()).made;
  CHECK(back.check().empty());
  check_grid(back, whole);
}

TEST_CASE("changed seams are those with another course or another giornata beside them") {
  const auto all = storm(80, flat_meter(), 33);
  const auto state = [](const Network& n, std::uint32_t s) {
    const HalfEdgeId h{s << 1};
    if (2 * s >= n.half_edge_slots() || !n.alive(h)) return std::tuple(LatticePoint{}, LatticePoint{}, 0u, 0u);
    const auto owner = [&](HalfEdgeId e) {
      const FaceId f = n.half_edge(e).face;
      return f == Network::kOutside ? 0u : n.face(f).owner.value;
    };
    return std::tuple(n.origin(h), n.target(h), owner(h), owner(Network::twin(h)));
  };
  for (std::size_t i = 0; i + 1 < all.size(); ++i) {
    const Network &a = all[i], &b = all[i + 1];
    std::vector<SeamId> wanted;
    for (std::uint32_t s = 0; 2 * s < std::max(a.half_edge_slots(), b.half_edge_slots()); ++s)
      if (state(a, s) != state(b, s)) wanted.push_back({s});
    REQUIRE(NetworkStep::changed_seams(a, b) == wanted);
  }
}
