#include "engine/base/persistent_vector.h"

#include <catch2/catch.hpp>
#include <random>
#include <set>
#include <vector>

using namespace pontata;

TEST_CASE("copies keep their own values against a plain vector") {
  std::mt19937 rng(5);
  std::vector<std::vector<int>> plain(1);
  std::vector<PersistentVector<int>> kept(1);
  for (int step = 0; step < 3000; ++step) {
    auto v = plain.back();
    auto p = kept.back();
    for (int k = 0; k < 3; ++k) {
      const auto what = rng() % 4;
      if (what < 2 || v.empty()) {
        v.push_back(step);
        p.push_back(step);
      } else if (what == 2) {
        const auto i = rng() % v.size();
        v[i] = -step;
        p.set(i, -step);
      } else if (rng() % 3 == 0) {
        v.pop_back();
        p.pop_back();
      }
    }
    if (step % 10 == 0) {
      plain.push_back(v);
      kept.push_back(p);
    } else {
      plain.back() = v;
      kept.back() = p;
    }
  }
  for (std::size_t s = 0; s < plain.size(); ++s) {
    REQUIRE(kept[s].size() == plain[s].size());
    for (std::size_t i = 0; i < plain[s].size(); ++i) REQUIRE(kept[s][i] == plain[s][i]);
  }
}

TEST_CASE("one write to a copy of 20000 entries shares all but a few nodes") {
  PersistentVector<double> a;
  for (int i = 0; i < 20000; ++i) a.push_back(i);
  auto b = a;
  b.set(777, -1);
  std::set<const void*> nodes;
  a.visit_nodes([&](const void* n, std::size_t) { nodes.insert(n); });
  std::size_t fresh = 0;
  b.visit_nodes([&](const void* n, std::size_t bytes) {
    if (!nodes.count(n)) fresh += bytes;
  });
  CHECK(fresh > 0);
  CHECK(fresh < 1500);
  CHECK(a[777] == 777);
}

TEST_CASE("what two copies do not share holds every slot in which they differ, and little more") {
  std::mt19937 rng(8);
  for (int round = 0; round < 300; ++round) {
    PersistentVector<int> a;
    const auto size = rng() % (round % 3 == 0 ? 20 : 5000);
    for (std::size_t i = 0; i < size; ++i) a.push_back(static_cast<int>(i));
    auto b = a;
    const int edits = static_cast<int>(rng() % 6);
    for (int k = 0; k < edits; ++k) {
      const auto what = rng() % 3;
      if (what == 0) b.push_back(-1);
      if (what == 1 && !b.empty()) b.set(rng() % b.size(), -2);
      if (what == 2 && !b.empty()) b.pop_back();
    }
    if (round % 2 == 0) std::swap(a, b);
    std::set<std::size_t> seen;
    std::size_t last = 0;
    PersistentVector<int>::visit_unshared(a, b, [&](std::size_t i) {
      REQUIRE((seen.empty() || i > last));
      seen.insert(last = i);
    });
    const std::size_t both = std::min(a.size(), b.size()), most = std::max(a.size(), b.size());
    for (std::size_t i = 0; i < most; ++i)
      if (i >= both || a[i] != b[i]) REQUIRE(seen.count(i));
    CHECK(seen.size() <= static_cast<std::size_t>(20 * edits));
  }
}
