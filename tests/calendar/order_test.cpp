// Orders of random precedences, by what an order must be. No golden copies: each property is told in order.h.
#include "engine/calendar/order.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <numeric>
#include <random>
#include <set>

using namespace pontata;

namespace {

using Ids = std::vector<GiornataId>;

Ids ids(std::initializer_list<std::uint32_t> values) {
  Ids list;
  for (const std::uint32_t v : values) list.push_back({v});
  return list;
}

Precedence before(std::uint32_t a, std::uint32_t b, PrecedenceWhy why = PrecedenceWhy::asked, double weight = 0) {
  return {{a}, {b}, why, weight};
}

bool firm(const Precedence& p) { return p.why == PrecedenceWhy::asked || p.why == PrecedenceWhy::deck; }

bool same(const Precedence& a, const Precedence& b) {
  return std::tie(a.before, a.after, a.why, a.weight) == std::tie(b.before, b.after, b.why, b.weight);
}

// Takes away one of `all` for each of `broken`.
std::vector<Precedence> without(std::vector<Precedence> all, const std::vector<Precedence>& broken) {
  for (const Precedence& b : broken) {
    const auto it = std::ranges::find_if(all, [&](const Precedence& p) { return same(p, b); });
    REQUIRE(it != all.end());
    all.erase(it);
  }
  return all;
}

// Whether there is a way from a to b along precedences that `counts` lets through.
template <class Counts>
bool leads(GiornataId a, GiornataId b, const std::vector<Precedence>& ways, Counts&& counts) {
  std::set<GiornataId> met{a};
  for (bool grew = true; grew && !met.contains(b);) {
    grew = false;
    for (const Precedence& p : ways)
      if (counts(p) && met.contains(p.before)) grew = met.insert(p.after).second || grew;
  }
  return met.contains(b);
}

// Stronger ones come first in strength; equal strength counts as well.
bool at_least_as_strong(const Precedence& p, const Precedence& than) {
  if (firm(than)) return firm(p);
  if (firm(p)) return true;
  if (p.why != than.why) return p.why == PrecedenceWhy::drips;
  return p.weight >= than.weight;
}

struct Layout {
  Ids list;
  std::vector<Precedence> precedence;
};

Layout shaken(unsigned seed) {
  std::mt19937 random(seed);
  const std::uint32_t count = 2 + random() % 14;
  Layout l;
  for (std::uint32_t id = 1; id <= count; ++id) l.list.push_back({id});
  std::shuffle(l.list.begin(), l.list.end(), random);
  const std::uint32_t most = random() % (3 * count);
  for (std::uint32_t k = 0; k < most; ++k) {
    const std::uint32_t a = 1 + random() % count, b = 1 + random() % count;
    const auto why = static_cast<PrecedenceWhy>(random() % 4);
    if (a != b) l.precedence.push_back(before(a, b, why, 0.1 * static_cast<double>(random() % 6)));
  }
  return l;
}

}  // namespace

TEST_CASE("an order names each giornata once and keeps to all that it does not tell as broken") {
  for (unsigned seed = 1; seed <= 400; ++seed) {
    INFO("seed " << seed);
    const Layout l = shaken(seed);
    const Ordered o = order_by(l.list, l.precedence);
    REQUIRE(std::is_permutation(o.order.begin(), o.order.end(), l.list.begin(), l.list.end()));
    const auto place = [&](GiornataId id) { return std::ranges::find(o.order, id); };
    for (const Precedence& p : without(l.precedence, o.broken)) CHECK(place(p.before) < place(p.after));
  }
}

TEST_CASE("next comes the first of the list that nothing still to come must precede") {
  for (unsigned seed = 1; seed <= 200; ++seed) {
    INFO("seed " << seed);
    const Layout l = shaken(seed);
    const Ordered o = order_by(l.list, l.precedence);
    const auto kept = without(l.precedence, o.broken);
    Ids left = l.list;
    for (const GiornataId id : o.order) {
      const auto free = [&](GiornataId one) {
        return std::ranges::none_of(kept, [&](const Precedence& p) {
          return p.after == one && std::ranges::find(left, p.before) != left.end();
        });
      };
      CHECK(id == *std::ranges::find_if(left, free));
      std::erase(left, id);
    }
  }
}

TEST_CASE("what gives way closes a circle with what is as strong or stronger, and kept") {
  int gave_way = 0;
  for (unsigned seed = 1; seed <= 400; ++seed) {
    INFO("seed " << seed);
    const Layout l = shaken(seed);
    const Ordered o = order_by(l.list, l.precedence);
    const auto kept = without(l.precedence, o.broken);
    for (const Precedence& b : o.broken) {
      CHECK(leads(b.after, b.before, kept, [&](const Precedence& p) { return at_least_as_strong(p, b); }));
      ++gave_way;
    }
  }
  CHECK(gave_way > 200);
}

TEST_CASE(
    "circles are told exactly where what must hold goes round, and each is one, from its least id, of no detour") {
  int told = 0;
  for (unsigned seed = 1; seed <= 400; ++seed) {
    INFO("seed " << seed);
    const Layout l = shaken(seed);
    const Ordered o = order_by(l.list, l.precedence);
    const auto arrow = [&](GiornataId a, GiornataId b) {
      return std::ranges::any_of(l.precedence, [&](const auto& p) { return firm(p) && p.before == a && p.after == b; });
    };
    for (const auto& circle : o.circles) {
      REQUIRE(circle.size() >= 2);
      CHECK(circle.front() == *std::ranges::min_element(circle));
      CHECK(std::set<GiornataId>(circle.begin(), circle.end()).size() == circle.size());
      for (std::size_t k = 0; k < circle.size(); ++k) CHECK(arrow(circle[k], circle[(k + 1) % circle.size()]));
      ++told;
    }
    const bool goes_round = std::ranges::any_of(
        l.precedence, [&](const Precedence& p) { return firm(p) && leads(p.after, p.before, l.precedence, firm); });
    CHECK(o.circles.empty() != goes_round);
    CHECK(std::ranges::any_of(o.broken, firm) == goes_round);
  }
  CHECK(told > 50);
}

TEST_CASE("each pair that gives way is on a circle that is told, and the first circle is as short as any there is") {
  int tried = 0;
  for (unsigned seed = 1; seed <= 400; ++seed) {
    INFO("seed " << seed);
    const Layout l = shaken(seed);
    const Ordered o = order_by(l.list, l.precedence);
    // Lengths of ways by Floyd and Warshall.
    const std::size_t count = l.list.size() + 1;
    std::vector<std::vector<std::size_t>> way(count, std::vector<std::size_t>(count, 999));
    for (const Precedence& p : l.precedence)
      if (firm(p)) way[p.before.value][p.after.value] = 1;
    for (std::size_t k = 0; k < count; ++k)
      for (std::size_t a = 0; a < count; ++a)
        for (std::size_t b = 0; b < count; ++b) way[a][b] = std::min(way[a][b], way[a][k] + way[k][b]);
    std::size_t least = 999;
    for (std::size_t a = 0; a < count; ++a) least = std::min(least, way[a][a]);
    CHECK((o.circles.empty() ? 999 : o.circles.front().size()) == least);
    for (const Precedence& b : o.broken) {
      if (!firm(b)) continue;
      const std::size_t length = 1 + way[b.after.value][b.before.value];
      CHECK(std::ranges::any_of(o.circles, [&](const Ids& circle) {
        const auto at = std::ranges::find(circle, b.before);
        return circle.size() == length && at != circle.end() &&
               (at + 1 == circle.end() ? circle.front() : at[1]) == b.after;
      }));
      ++tried;
    }
  }
  CHECK(tried > 100);
}

TEST_CASE("twenty thousand in a row that closes are one circle") {
  Ids list;
  std::vector<Precedence> row;
  for (std::uint32_t id = 1; id <= 20000; ++id) {
    list.push_back({id});
    row.push_back(before(id, id % 20000 + 1));
  }
  const Ordered o = order_by(list, row);
  CHECK(o.order == list);
  CHECK(o.circles == std::vector<Ids>{list});
}

TEST_CASE("the order does not depend on the order in which wishes are told") {
  std::mt19937 random(3);
  for (unsigned seed = 1; seed <= 60; ++seed) {
    Layout l = shaken(seed);
    std::erase_if(l.precedence, firm);
    const Ordered first = order_by(l.list, l.precedence);
    std::shuffle(l.precedence.begin(), l.precedence.end(), random);
    CHECK(order_by(l.list, l.precedence).order == first.order);
  }
}

TEST_CASE("forced pairs that go round are told as the circle they are, and the last laid down gives way") {
  const auto list = ids({1, 2, 3, 4, 5});
  const Ordered o = order_by(list, std::vector{before(5, 2), before(2, 4), before(4, 5), before(3, 1)});
  CHECK(o.circles == std::vector<Ids>{ids({2, 4, 5})});
  REQUIRE(o.broken.size() == 1);
  CHECK(same(o.broken[0], before(4, 5)));
  CHECK(o.order == ids({3, 1, 5, 2, 4}));
}

TEST_CASE("a long circle with a short cut is told as the short one") {
  const Ordered o =
      order_by(ids({1, 2, 3, 4}), std::vector{before(1, 2), before(2, 3), before(3, 4), before(4, 1), before(3, 1)});
  REQUIRE_FALSE(o.circles.empty());
  CHECK(o.circles[0] == ids({1, 2, 3}));
}

TEST_CASE("decks hold against what is asked, what is asked against drips, drips against the crown") {
  const auto list = ids({1, 2});
  const auto first = [&](PrecedenceWhy strong, PrecedenceWhy weak) {
    // The weak one is heavier and told first.
    return order_by(list, std::vector{before(1, 2, weak, 9), before(2, 1, strong, 1)}).order.front().value;
  };
  CHECK(first(PrecedenceWhy::deck, PrecedenceWhy::asked) == 2);
  CHECK(first(PrecedenceWhy::asked, PrecedenceWhy::drips) == 2);
  CHECK(first(PrecedenceWhy::drips, PrecedenceWhy::crown) == 2);
}

TEST_CASE("names that the list does not hold are passed over") {
  const Ordered o = order_by(ids({2, 1}), std::vector{before(1, 7), before(7, 2), before(7, 7)});
  CHECK(o.order == ids({2, 1}));
  CHECK(o.broken.empty());
  CHECK(order_by({}, {}).order.empty());
}

TEST_CASE("what a pair is called") {
  CHECK(pair_name(PairKind::before) == "before");
  CHECK(pair_name(PairKind::apart) == "apart");
  CHECK(pair_name(PairKind::together) == "together");
}
