#include "engine/base/persistent_vector.h"

#include <random>
#include <set>
#include <vector>

#include <catch2/catch.hpp>

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
