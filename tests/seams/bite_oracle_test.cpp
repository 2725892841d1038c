// Areas after sequences of outlines, bites, divisions, joins and removals on flat walls, against Boost.Geometry 1.74
// (multi_polygon difference, union_, area), which holds each giornata as polygons of its own and knows nothing of a
// network. What each edit means is told here a second time, in terms of sets.
#include <algorithm>
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/multi_polygon.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <catch2/catch.hpp>
#include <map>
#include <optional>

#include "engine/seams/bite.h"
#include "tests/seams/network_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace bg = boost::geometry;

namespace {

using Point = bg::model::d2::point_xy<double>;
using Polygon = bg::model::polygon<Point, false, false>;  // counter-clockwise, not closed
using Shape = bg::model::multi_polygon<Polygon>;

// What rounding to the lattice and the library's own may add or take, m^2 for a metre of rim.
constexpr double kPerMetre = 2e-7;
// Pieces so small come from rounding alone.
constexpr double kDust = 1e-6;

Shape shape_of(const Ring& ring) {
  Polygon p;
  for (const LatticePoint q : ring) p.outer().push_back({to_chart(q).u, to_chart(q).v});
  bg::correct(p);
  return {p};
}
double area(const Shape& s) { return bg::area(s); }

// The library, too, slips at times (a union of squares a hundredth of their sum); its answers must add up.
bool slipped = false;
void expect(double found, double sum) { slipped = slipped || std::abs(found - sum) > kDust; }

Shape operator&(const Shape& a, const Shape& b) {
  Shape out;
  bg::intersection(a, b, out);
  return out;
}
Shape operator-(const Shape& a, const Shape& b) {
  Shape out;
  bg::difference(a, b, out);
  expect(area(out) + area(a & b), area(a));
  return out;
}
Shape operator|(const Shape& a, const Shape& b) {
  Shape out;
  bg::union_(a, b, out);
  expect(area(out) + area(a & b), area(a) + area(b));
  return out;
}

// m: what hangs together by less than twice this is in doubt: a corner, or a gap that rounding left between giornate
// which the library holds each by itself.
constexpr double kHair = 1e-5;

Shape grown(const Shape& s, double by) {
  Shape out;
  bg::buffer(s, out, bg::strategy::buffer::distance_symmetric<double>(by), bg::strategy::buffer::side_straight(),
             bg::strategy::buffer::join_miter(), bg::strategy::buffer::end_flat(),
             bg::strategy::buffer::point_square());
  return out;
}

std::size_t parts_of(const Shape& s) {
  std::size_t count = 0;
  for (const Polygon& p : s) count += bg::area(p) > kDust;
  return count;
}
// Hairs that hold parts together cut.
std::size_t parts_without_hairs(const Shape& s) { return parts_of(grown(s, -kHair)); }
// Gaps of a hair between parts closed, and what then hangs by a corner cut: polygons which the library's union left
// apart though they lie along each other.
std::size_t parts_without_gaps(const Shape& s) { return parts_of(grown(grown(s, kHair), -2 * kHair)); }

// The polygons of a shape, largest first, without dust; nullopt where that is in doubt.
using Pieces = std::optional<std::vector<Shape>>;
Pieces pieces(const Shape& s) {
  std::vector<Shape> found;
  for (Polygon p : s) {
    if (bg::area(p) <= kDust) continue;
    std::erase_if(p.inners(), [](const auto& hole) { return std::abs(bg::area(hole)) < kDust; });
    found.push_back({p});
  }
  if (found.size() != parts_without_hairs(s)) return std::nullopt;
  if (found.size() > 1 && found.size() != parts_without_gaps(s)) return std::nullopt;
  std::sort(found.begin(), found.end(), [](const Shape& a, const Shape& b) { return area(a) > area(b); });
  return found;
}

// The library's wall: what every giornata is, as sets.
struct Layout {
  Shape wall;
  std::map<std::uint32_t, Shape> giornate;
  std::uint32_t next = 1;
};

// Whether which piece is which hangs on less than rounding: two as large as each other, or one about 1 cm^2.
bool doubtful(const Pieces& p) {
  if (!p) return true;
  for (std::size_t i = 0; i < p->size(); ++i) {
    if (std::abs(area((*p)[i]) - kLeastPiece) < kDust) return true;
    if (i > 0 && area((*p)[i - 1]) - area((*p)[i]) < kDust) return true;
  }
  return false;
}

enum class Said { done, refused, doubtful };

// What lies in `wanted` becomes a giornata, if it is large enough.
Said add_largest(Layout& l, const Shape& wanted, std::uint32_t id) {
  const auto p = pieces(wanted);
  if (doubtful(p)) return Said::doubtful;
  if (p->empty() || area((*p)[0]) < kLeastPiece) return Said::refused;
  l.giornate[id] = (*p)[0];
  return Said::done;
}

Said insert(Layout& l, const Shape& outline, std::uint32_t id) {
  Shape wanted = outline & l.wall;
  for (const auto& [g, s] : l.giornate) wanted = wanted - s;
  return add_largest(l, wanted, id);
}

// Everybody else gives up what `taker` covers; crumbs follow it, larger pieces get ids.
Said give_up(Layout& l, std::uint32_t taker) {
  const Shape taken = l.giornate.at(taker);
  Shape crumbs;
  std::map<std::uint32_t, std::vector<Shape>> left;
  for (auto& [g, s] : l.giornate) {
    if (g == taker || area(s & taken) < kDust) continue;
    const auto p = pieces(s - taken);
    if (doubtful(p)) return Said::doubtful;
    left[g] = *p;
    if (left[g].empty() || area(left[g][0]) < kLeastPiece) return Said::refused;
  }
  for (auto& [g, p] : left) {
    l.giornate[g] = p[0];
    for (std::size_t i = 1; i < p.size(); ++i) {
      if (area(p[i]) < kLeastPiece)
        crumbs = crumbs | p[i];
      else
        l.giornate[l.next++] = p[i];
    }
  }
  l.giornate[taker] = taken | crumbs;
  return Said::done;
}

Said take(Layout& l, const Shape& outline, std::uint32_t id, std::uint32_t held) {
  Shape wanted = outline & l.wall;
  if (held != 0) wanted = wanted - l.giornate.at(held);
  const Said said = add_largest(l, wanted, id);
  return said == Said::done ? give_up(l, id) : said;
}

Said take_into(Layout& l, const Shape& outline, std::uint32_t id, std::uint32_t held) {
  const Shape own = l.giornate.at(id);
  Shape wanted = (outline & l.wall) - own;
  if (held != 0) wanted = wanted - l.giornate.at(held);
  const auto all = pieces(wanted | own);
  if (!all) return Said::doubtful;
  for (const Shape& p : *all) {
    const double gained = area(p) - area(own);
    if (area(p & own) < kDust) continue;
    if (std::abs(area(p & own) - area(own)) > kDust) return Said::doubtful;  // seen in parts through rounding
    if (gained < kDust) return gained < 1e-9 && area(wanted) < 1e-9 ? Said::refused : Said::doubtful;
    l.giornate[id] = p;
    return give_up(l, id);
  }
  return Said::doubtful;
}

// Along an endless straight line, of which `left` is the left side.
Said divide(Layout& l, const Shape& left, std::uint32_t id, std::uint32_t id_new) {
  const auto a = pieces(l.giornate.at(id) & left), b = pieces(l.giornate.at(id) - left);
  if (!a || !b || a->size() != 1 || b->size() != 1) return Said::doubtful;
  const bool left_larger = area(a->front()) > area(b->front());
  const Shape larger = left_larger ? a->front() : b->front(), lesser = left_larger ? b->front() : a->front();
  if (doubtful(std::vector<Shape>{larger, lesser})) return Said::doubtful;
  if (area(lesser) < kLeastPiece) return Said::refused;
  l.giornate[id] = larger;
  l.giornate[id_new] = lesser;
  return Said::done;
}

Said join(Layout& l, std::uint32_t keep, std::uint32_t other) {
  const auto p = pieces(l.giornate.at(keep) | l.giornate.at(other));
  if (!p || p->size() != 1) return Said::doubtful;
  expect(area(p->front()), area(l.giornate.at(keep)) + area(l.giornate.at(other)));
  l.giornate[keep] = p->front();
  l.giornate.erase(other);
  return Said::done;
}

struct Storm {
  std::mt19937_64 rng;
  double grid = 0;  // m: outlines along the axes with corners on a grid; 0: any

  double uniform(double lo, double hi) { return std::uniform_real_distribution<double>(lo, hi)(rng); }
  std::uint32_t whole(std::uint32_t lo, std::uint32_t hi) {
    return std::uniform_int_distribution<std::uint32_t>(lo, hi)(rng);
  }
  double on_grid(double v) const { return grid > 0 ? std::round(v / grid) * grid : v; }

  Ring outline() {
    const double u = uniform(-0.1, 3.8), v = uniform(-0.1, 2.8), r = uniform(0.1, 0.9);
    if (grid > 0) {
      const double a = on_grid(u), b = on_grid(v), w = on_grid(r) + grid, h = on_grid(uniform(0.1, 0.9)) + grid;
      if (whole(0, 1)) return rectangle(a, b, a + w, b + h);
      const double s = on_grid(w / 2) + grid, t = on_grid(h / 2) + grid;  // a step
      return {at(a, b),         at(a + w + s, b),     at(a + w + s, b + t),
              at(a + w, b + t), at(a + w, b + h + t), at(a, b + h + t)};
    }
    if (whole(0, 2) == 0) return rectangle(u, v, u + r, v + uniform(0.1, 0.9));
    const int corners = static_cast<int>(whole(3, 12));
    if (whole(0, 1)) return regular(u, v, r, corners, uniform(0, 6));
    Ring star = regular(u, v, r, 2 * corners, uniform(0, 6));
    const LatticePoint c = at(u, v);
    for (std::size_t i = 0; i < star.size(); i += 2) star[i] = {(star[i].x + c.x) / 2, (star[i].y + c.y) / 2};
    return star;
  }
  // An endless line, as two far ends, and what lies left of it.
  std::pair<std::vector<LatticePoint>, Ring> line() {
    if (grid > 0) {
      const double a = on_grid(uniform(0, 4)), b = on_grid(uniform(0, 3));
      if (whole(0, 1)) return {{at(a, -1), at(a, 4)}, {at(a, -1), at(a, 4), at(-9, 4), at(-9, -1)}};
      return {{at(-1, b), at(5, b)}, {at(-1, b), at(5, b), at(5, 9), at(-1, 9)}};
    }
    const double angle = uniform(0, 6), c = std::cos(angle), s = std::sin(angle), u = uniform(0, 4), v = uniform(0, 3);
    const LatticePoint from = at(u - 9 * c, v - 9 * s), to = at(u + 9 * c, v + 9 * s);
    return {{from, to}, {from, to, at(u + 9 * c - 9 * s, v + 9 * s + 9 * c), at(u - 9 * c - 9 * s, v - 9 * s + 9 * c)}};
  }
};

struct Tally {
  std::map<std::string, int> done;
  int refused = 0, doubtful = 0;
};

// One wall edited both ways.
class Pair {
 public:
  Pair(std::uint64_t seed, double grid) : storm_{std::mt19937_64(seed), grid} {
    const std::vector<Ring> rings{rectangle(0, 0, 4, 3), reversed(rectangle(1, 1, 1.5, 1.75)),
                                  reversed(rectangle(2.5, 0.5, 3, 1))};
    network_ = Network::from_border(rings, flat_meter()).value();
    layout_.wall = shape_of(rings[0]) - shape_of(rings[1]) - shape_of(rings[2]);
  }

  void step(Tally& tally) {
    Layout told = layout_;
    const auto kind = layout_.giornate.size() < 4 ? storm_.whole(0, 2) : storm_.whole(0, 9);
    std::uint32_t ours = layout_.next;  // the id counter on our side
    std::string what;
    Said said = Said::done;
    slipped = false;
    const auto made = edit(kind, told, ours, said, what);
    if (said == Said::doubtful || slipped) {
      ++tally.doubtful;
      return;
    }
    INFO(what);
    INFO((made ? std::string("made") : made.problem().message()));
    REQUIRE(made.ok() == (said == Said::done));
    if (said == Said::refused) {
      ++tally.refused;
      return;
    }
    ++tally.done[what];
    network_ = *made;
    layout_ = std::move(told);
    REQUIRE(layout_.next == ours);
    compare();
  }

 private:
  std::uint32_t any() {
    auto it = layout_.giornate.begin();
    std::advance(it, storm_.whole(0, static_cast<std::uint32_t>(layout_.giornate.size()) - 1));
    return it->first;
  }

  static bool over_rim(const Ring& ring, const Shape& own) {
    const double both = area(shape_of(ring) & own);
    return both > 0.01 && area(shape_of(ring)) - both > 0.01;
  }

  Result<Network> bite(Layout& told, std::uint32_t& ours, Said& said, bool is_into, std::string& what) {
    const std::uint32_t held = layout_.giornate.empty() || storm_.whole(0, 2) ? 0 : any();
    const std::uint32_t into = is_into ? any() : 0;
    Ring ring = storm_.outline();
    for (int k = 0; is_into && k < 50 && !over_rim(ring, layout_.giornate.at(into)); ++k) ring = storm_.outline();
    if (is_into && into == held) {
      said = Said::doubtful;
      return network_;
    }
    what = is_into ? "into" : "take";
    const std::uint32_t id = is_into ? into : ours++;
    if (!is_into) ++told.next;
    said = is_into ? take_into(told, shape_of(ring), id, held) : take(told, shape_of(ring), id, held);
    const auto hold = [&](GiornataId g) { return g.value == held ? std::string("it is held") : std::string(); };
    auto made = take_bite(
        network_, std::span(&ring, 1), {id}, [&] { return GiornataId{ours++}; }, flat_meter(), nullptr, hold);
    if (!made) return made.problem();
    return std::move(made->network);
  }

  Result<Network> edit(std::uint32_t kind, Layout& told, std::uint32_t& ours, Said& said, std::string& what) {
    if (kind <= 2) {
      what = "outline";
      const Ring ring = storm_.outline();
      const std::uint32_t id = ours++;
      ++told.next;
      said = insert(told, shape_of(ring), id);
      auto made = insert_outline(network_, ring, {id}, flat_meter());
      if (!made) return made.problem();
      return std::move(made->network);
    }
    if (kind <= 5) return bite(told, ours, said, kind == 5, what);
    if (kind <= 7) {
      what = "divide";
      const auto [line, left] = storm_.line();
      const std::uint32_t id = any(), id_new = ours++;
      ++told.next;
      said = divide(told, shape_of(left), id, id_new);
      return divide_giornata(network_, {id}, line, {id_new}, flat_meter());
    }
    if (kind == 8) {
      what = "join";
      auto pairs = shared_seams(network_);
      std::erase_if(pairs, [](const SharedSeam& s) { return !s.a || s.length_m < 1e-6; });
      if (pairs.empty()) {
        said = Said::doubtful;
        return network_;
      }
      const auto& p = pairs[storm_.whole(0, static_cast<std::uint32_t>(pairs.size()) - 1)];
      said = join(told, p.a.value, p.b.value);
      return join_giornate(network_, p.a, p.b, flat_meter());
    }
    what = "remove";
    const std::uint32_t id = any();
    told.giornate.erase(id);
    return remove_giornata(network_, {id}, flat_meter());
  }

  void compare() const {
    REQUIRE(network_.check().empty());
    REQUIRE(area_of_all(network_) == network_.wall_area());
    double sum = 0;
    for (const auto& [id, shape] : layout_.giornate) {
      INFO("giornata " << id);
      const double ours = m2(area_of(network_, {id}));
      REQUIRE(std::abs(ours - area(shape)) <= kPerMetre * (1 + bg::perimeter(shape)));
      sum += ours;
    }
    CHECK(m2(area_of(network_, {})) == Approx(m2(network_.wall_area()) - sum).margin(1e-11));
  }

  Storm storm_;
  Network network_;
  Layout layout_;
};

}  // namespace

TEST_CASE("areas after edits of all kinds are a polygon library's, corners on a grid") {
  // 1/32 m: seams lie on each other, corners on corners; every number is a sum of powers of two.
  Tally tally;
  for (std::uint64_t seed = 0; seed < 8; ++seed) {
    Pair pair(seed, 1.0 / 32);
    for (int step = 0; step < 60; ++step) {
      INFO("seed " << seed << " step " << step);
      pair.step(tally);
    }
  }
  for (const char* kind : {"outline", "take", "into", "divide", "join", "remove"}) {
    INFO(kind << ", doubtful " << tally.doubtful << ", refused " << tally.refused);
    CHECK(tally.done[kind] > 10);
  }
}

TEST_CASE("areas after edits of all kinds are a polygon library's, at any slope") {
  Tally tally;
  for (std::uint64_t seed = 100; seed < 110; ++seed) {
    Pair pair(seed, 0);
    for (int step = 0; step < 60; ++step) {
      INFO("seed " << seed << " step " << step);
      pair.step(tally);
    }
  }
  for (const char* kind : {"outline", "take", "into", "divide", "join", "remove"}) {
    INFO(kind << ", doubtful " << tally.doubtful << ", refused " << tally.refused);
    CHECK(tally.done[kind] > 10);
  }
}
