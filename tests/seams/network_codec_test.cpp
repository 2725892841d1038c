#include "engine/seams/network_codec.h"

#include <catch2/catch.hpp>
#include <set>

#include "tests/seams/network_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

// Giornate side by side, an island, a removed one: live, dead and reused slots.
Network worked_wall() {
  const std::vector<Ring> rings{rectangle(0, 0, 4, 3), reversed(regular(3.3, 2.2, 0.3, 7))};
  Network n = Network::from_border(rings, bulged_meter()).value();
  std::uint32_t id = 1;
  for (const Ring& ring :
       {regular(1, 1, 0.6, 11), regular(1.7, 1.2, 0.5, 9), rectangle(0.2, 0.2, 2.5, 2), regular(3, 2, 0.6, 8)})
    n = insert_outline(n, ring, {id++}, bulged_meter())->network;
  n = remove_giornata(n, {2}, bulged_meter()).value();
  return n;
}

std::string text(const Network& n) { return NetworkCodec::to_json(n).dump(); }

}  // namespace

TEST_CASE("saving, loading and saving again gives the same bytes, and edits go on as if nothing happened") {
  const Network n = worked_wall();
  const auto loaded = NetworkCodec::from_json(nlohmann::json::parse(text(n)));
  REQUIRE(loaded.ok());
  CHECK(text(*loaded) == text(n));
  const Ring ring = regular(1.6, 1.4, 0.9, 13);
  const auto here = insert_outline(n, ring, {9}, bulged_meter()),
             there = insert_outline(*loaded, ring, {9}, bulged_meter());
  CHECK(text(here->network) == text(there->network));
  CHECK(text(Network()) == text(NetworkCodec::from_json(NetworkCodec::to_json(Network())).value()));
}

TEST_CASE("an edit leaves the old value as it was, and shares nearly all of it") {
  const Network n = worked_wall();
  const std::string before = text(n);
  const auto made = insert_outline(n, regular(1.6, 1.4, 0.9, 13), {9}, bulged_meter());
  REQUIRE(made.ok());
  CHECK(text(n) == before);
  std::set<const void*> old;
  std::size_t all = 0, fresh = 0;
  n.visit_nodes([&](const void* p, std::size_t) { old.insert(p); });
  made->network.visit_nodes([&](const void* p, std::size_t bytes) {
    all += bytes;
    if (!old.count(p)) fresh += bytes;
  });
  INFO(fresh << " of " << all << " bytes");
  CHECK(fresh < 150'000);
  CHECK(fresh * 2 < all);
  const Network copy = n;
  std::size_t unshared = 0;
  copy.visit_nodes([&](const void* p, std::size_t) { unshared += !old.count(p); });
  CHECK(unshared == 0);
}

TEST_CASE("a damaged network is one problem, never a crash and never believed") {
  const nlohmann::json good = NetworkCodec::to_json(worked_wall());
  for (const char* key : {"vertices", "half_edges", "seams", "faces", "free"}) {
    auto missing = good;
    missing.erase(key);
    CHECK_FALSE(NetworkCodec::from_json(missing).ok());
    auto wrong = good;
    wrong[key] = "text";
    CHECK_FALSE(NetworkCodec::from_json(wrong).ok());
    wrong[key] = nlohmann::json::array({1});
    CHECK_FALSE(NetworkCodec::from_json(wrong).ok());
    wrong[key] = nlohmann::json::array();
    CHECK_FALSE(NetworkCodec::from_json(wrong).ok());
  }
  CHECK_FALSE(NetworkCodec::from_json(nullptr).ok());
  CHECK_FALSE(NetworkCodec::from_json(3).ok());

  std::mt19937_64 rng(5);
  const auto pick = [&](std::size_t n) { return std::uniform_int_distribution<std::size_t>(0, n - 1)(rng); };
  int refused = 0;
  for (int round = 0; round < 3000; ++round) {
    auto bad = good;
    const char* keys[] = {"vertices", "half_edges", "faces", "free"};
    auto& list = bad[keys[pick(4)]];
    auto* value = &list[pick(list.size())];
    if (value->is_array()) value = &(*value)[pick(value->size())];
    const nlohmann::json old = *value;
    switch (pick(6)) {
      case 0:
        *value = -1;
        break;
      case 1:
        *value = static_cast<std::int64_t>(pick(60));
        break;
      case 2:
        *value = old.get<std::int64_t>() ^ 1;
        break;
      case 3:
        *value = nullptr;
        break;
      case 4:
        *value = 1.5;
        break;
      default:
        *value = 1e300;
        break;
    }
    const auto read = NetworkCodec::from_json(bad);
    if (read.ok()) {
      // A place moved by a pitch, an owner or an equal start of a rim: still a sound network.
      REQUIRE(read->check().empty());
    } else {
      ++refused;
    }
  }
  CHECK(refused > 2000);
}
