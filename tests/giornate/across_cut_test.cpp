// Giornate that cross the cut of a wall that closes round itself: all that is told of them is as on the same wall cut
// open elsewhere.
#include <catch2/catch.hpp>
#include <random>

#include "engine/giornate/measures_again.h"
#include "engine/seams/cut_contacts.h"
#include "tests/fixtures/rounds.h"
#include "tests/fixtures/told.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

struct Sound : Round {
  using Round::Round;
  void sound() const {
    for (const auto& fault : network.check()) FAIL_CHECK(fault.message());
    CHECK(measure().residual_m2 == 0);
    const auto contacts = cut_contacts(network, *wall->chart);
    for (const auto& g : measure().giornate)
      CHECK(joined_across(network, network.faces_of(g.id), contacts).size() == 1);
  }
};

Outline star(std::mt19937& random, ChartPoint centre) {
  std::uniform_real_distribution<double> reach(0.15, 0.6);
  Outline line;
  for (int k = 0; k < 17; ++k) {
    const double a = 2 * std::numbers::pi * k / 17, r = reach(random);
    line.push_back({centre.u + r * std::cos(a), centre.v + r * std::sin(a)});
  }
  return line;
}

void check_same(const WallMeasure& one, const WallMeasure& two) {
  REQUIRE(one.giornate.size() == two.giornate.size());
  CHECK(one.unassigned_m2 == Approx(two.unassigned_m2).epsilon(1e-9));
  for (std::size_t i = 0; i < one.giornate.size(); ++i) {
    const auto &a = one.giornate[i], &b = two.giornate[i];
    CHECK(a.id == b.id);
    // A crossing on the lattice bends its seam by up to a pitch (3.7 nm).
    CHECK(std::abs(a.area_m2 - b.area_m2) < 1e-9 * a.perimeter_m);
    CHECK(a.perimeter_m == Approx(b.perimeter_m).epsilon(1e-6));
    CHECK(coat_volume(a.area_m2, a.bend_m, a.gauss, 0.015) ==
          Approx(coat_volume(b.area_m2, b.bend_m, b.gauss, 0.015)).epsilon(1e-6));
    CHECK(a.neighbours == b.neighbours);
    CHECK(a.highest_m == Approx(b.highest_m).epsilon(1e-6));
    CHECK(a.lowest_m == Approx(b.lowest_m).margin(1e-6));
    CHECK(a.least_concave_radius_m == Approx(b.least_concave_radius_m).epsilon(1e-6));
    REQUIRE(a.runs_onto.size() == b.runs_onto.size());
    for (std::size_t k = 0; k < a.runs_onto.size(); ++k) {
      CHECK(a.runs_onto[k].id == b.runs_onto[k].id);
      CHECK(a.runs_onto[k].width_m == Approx(b.runs_onto[k].width_m).epsilon(1e-6));
    }
  }
}

void check_same(const std::vector<SharedSeam>& one, const std::vector<SharedSeam>& two) {
  REQUIRE(one.size() == two.size());
  for (std::size_t i = 0; i < one.size(); ++i) {
    CHECK(one[i].a == two[i].a);
    CHECK(one[i].b == two[i].b);
    CHECK(one[i].length_m == Approx(two[i].length_m).epsilon(1e-6));
  }
}

}  // namespace

TEST_CASE("a giornata across the cut measures as one away from it") {
  std::mt19937 random(20260105);
  const Turn here{}, there{.cut = 33};  // 33 columns on: what lies about the middle lies about the cut
  const double shift = -33 * here.column_m;
  for (int round = 0; round < 12; ++round) {
    Sound plain(here), cut(there);
    std::uniform_real_distribution<double> u(7.2, 9.3), v(0.7, 1.3);
    for (int k = 0; k < 6; ++k) {
      const Outline line = star(random, {u(random), v(random)});
      const auto first = plain.try_add(line);
      const auto second = cut.try_add(shifted(line, shift));
      REQUIRE(first.ok() == second.ok());
      if (!first) continue;
      plain.add(line);
      cut.add(shifted(line, shift));
      CHECK(first->dropped.size() == second->dropped.size());
      CHECK(first->overlap_given_up == second->overlap_given_up);
    }
    plain.sound();
    cut.sound();
    check_same(plain.measure(), cut.measure());
    check_same(shared_seams(plain.network, plain.wall->chart.get()), shared_seams(cut.network, cut.wall->chart.get()));
  }
}

TEST_CASE("a giornata across the cut of a cone measures as one away from it") {
  const Turn here{.slope = 0.3}, there{.cut = 32, .slope = 0.3};
  Sound plain(here), cut(there);
  const auto place = [](const Sound& r, int column, int row) {
    return to_chart(r.wall->chart->places()[static_cast<std::size_t>(column) * 9 + static_cast<std::size_t>(row)]);
  };
  const auto line = [&](const Sound& r, int turn) {
    Outline out;
    for (const auto& [column, row] : {std::pair{30, 1}, {35, 2}, {34, 6}, {29, 5}})
      out.push_back(place(r, (column + 64 - turn) % 64, row));
    return out;
  };
  plain.add(line(plain, 0));
  cut.add(line(cut, 32));
  plain.sound();
  cut.sound();
  CHECK(cut.network.faces_of(GiornataId{1}).size() == 2);
  const auto a = plain.measure().giornate.at(0), b = cut.measure().giornate.at(0);
  CHECK(a.area_m2 == Approx(b.area_m2).epsilon(1e-7));  // the crossing lies on the lattice to 4 nm
  CHECK(a.perimeter_m == Approx(b.perimeter_m).epsilon(1e-6));
}

TEST_CASE("perimeter and neighbours of boxes at the cut") {
  Sound r(Turn{});
  r.add(rectangle_of(15.5, 0.5, 16.5, 1.5));  // across
  r.add(rectangle_of(16.5, 0.5, 17.5, 1.5));  // beside it, drawn beyond the cut
  r.add(rectangle_of(15, 1.5, 16, 1.75));     // over its left half
  r.sound();
  const auto m = r.measure();
  const double chord = 16 * std::sin(std::numbers::pi / 64) * 64 / (16 * std::numbers::pi);  // of 1 m of arc
  CHECK(m.giornate.at(0).area_m2 == Approx(chord).epsilon(1e-9));
  CHECK(m.giornate.at(0).perimeter_m == Approx(2 + 2 * chord).epsilon(1e-9));
  CHECK(m.giornate.at(0).neighbours == std::vector<GiornataId>{{2}, {3}});
  CHECK(m.giornate.at(1).neighbours == std::vector<GiornataId>{{1}});
  CHECK(r.wall->chart->locate(m.giornate.at(0).inside));
  const auto seams = shared_seams(r.network, r.wall->chart.get());
  const auto between = [&](std::uint32_t a, std::uint32_t b) {
    for (const auto& s : seams)
      if (s.a == GiornataId{a} && s.b == GiornataId{b}) return s.length_m;
    return 0.0;
  };
  CHECK(between(1, 2) == Approx(1).epsilon(1e-9));
  CHECK(between(1, 3) == Approx(0.5 * chord).epsilon(1e-9));
  CHECK(between(0, 3) == Approx(0.5 + 1.5 * chord).epsilon(1e-9));  // its right end lies along the cut
}

TEST_CASE("two giornate that touch only across the cut are neighbours, can be joined, and divided again") {
  Sound r(Turn{});
  r.add(rectangle_of(15, 0.5, 16, 1.5));
  r.add(rectangle_of(0, 0.75, 1, 1.25));
  r.sound();
  auto m = r.measure();
  CHECK(m.giornate.at(0).neighbours == std::vector<GiornataId>{{2}});
  CHECK(m.giornate.at(1).neighbours == std::vector<GiornataId>{{1}});
  const double areas = m.giornate.at(0).area_m2 + m.giornate.at(1).area_m2;
  const double rims = m.giornate.at(0).perimeter_m + m.giornate.at(1).perimeter_m;
  CHECK_FALSE(join_giornate(r.network, {1}, {2}, r.meter()));  // nothing known of the cut
  const auto joined = join_giornate(r.network, {1}, {2}, r.meter(), r.wall->chart.get());
  REQUIRE(joined);
  r.network = *joined;
  r.giornate.pop_back();
  r.sound();
  m = r.measure();
  REQUIRE(m.giornate.size() == 1);
  CHECK(m.giornate[0].area_m2 == Approx(areas).epsilon(1e-14));
  CHECK(m.giornate[0].perimeter_m == Approx(rims - 1).epsilon(1e-9));  // 0.5 m less on either side
  CHECK(m.giornate[0].neighbours.empty());

  const auto line = r.led({{15.5, 0.4}, {0.5, 1.4}}, false);  // slanting across the cut
  REQUIRE(line.size() == 2);
  const auto divided = divide_giornata(r.network, {1}, line, {2}, r.meter(), r.wall->chart.get());
  if (!divided) FAIL(divided.problem().message());
  r.network = *divided;
  r.keep({2});
  r.sound();
  m = r.measure();
  REQUIRE(m.giornate.size() == 2);
  CHECK(m.giornate[0].area_m2 + m.giornate[1].area_m2 == Approx(areas).epsilon(1e-14));
  CHECK(m.giornate[0].area_m2 > m.giornate[1].area_m2);
  CHECK(m.giornate[0].neighbours == std::vector<GiornataId>{{2}});
  CHECK(r.network.faces_of({1}).size() == 2);
  CHECK(r.network.faces_of({2}).size() == 2);

  const auto removed = remove_giornata(r.network, {1}, r.meter());
  REQUIRE(removed);
  r.network = *removed;
  r.giornate.erase(r.giornate.begin());
  r.sound();
  CHECK(r.measure().giornate.at(0).area_m2 == m.giornate[1].area_m2);
}

TEST_CASE("dividing, joining and taking away across the cut come out as away from it") {
  const Turn here{}, there{.cut = 32};
  Sound plain(here), cut(there);
  const Outline line = rectangle_of(7, 0.5, 9, 1.5), seam{{6.9, 0.7}, {7.7, 1.1}, {8.3, 0.9}, {9.1, 1.3}};
  plain.add(line);
  cut.add(shifted(line, -8));
  const auto after = [&](Sound& r, const Outline& across) {
    const auto divided = divide_giornata(r.network, {1}, r.led(across, false), {2}, r.meter(), r.wall->chart.get());
    if (!divided) FAIL(divided.problem().message());
    r.network = *divided;
    r.keep({2});
    r.sound();
  };
  after(plain, seam);
  after(cut, shifted(seam, -8));
  check_same(plain.measure(), cut.measure());
  const auto back = join_giornate(cut.network, {1}, {2}, cut.meter(), cut.wall->chart.get());
  REQUIRE(back);
  const std::vector<Giornata> one{cut.giornate[0]};
  CHECK(measure_wall(*cut.wall, *back, one).giornate.at(0).area_m2 ==
        Approx(2 * plain.measure().giornate[0].area_m2).epsilon(1e-6));
  CHECK(measure_wall(*cut.wall, *back, one).residual_m2 == 0);
}

TEST_CASE("a line that ends on the cut inside a giornata does not divide it") {
  Sound r(Turn{});
  r.add(rectangle_of(15.5, 0.5, 16.5, 1.5));
  const auto short_line = r.led({{15.4, 1}, {16, 1}}, false);
  const auto divided = divide_giornata(r.network, {1}, short_line, {2}, r.meter(), r.wall->chart.get());
  REQUIRE_FALSE(divided);
  CHECK(divided.problem().what == "The line does not divide the giornata");
  const auto loose =
      divide_giornata(r.network, {1}, r.led({{15.4, 1}, {15.999, 1}}, false), {2}, r.meter(), r.wall->chart.get());
  REQUIRE_FALSE(loose);
  CHECK(loose.problem().what == "The line ends inside the giornata");
  // A part on one side alone can be cut off.
  CHECK(
      divide_giornata(r.network, {1}, r.led({{15.75, 0.4}, {15.75, 1.6}}, false), {2}, r.meter(), r.wall->chart.get()));
}

TEST_CASE("the largest piece kept counts what touches across the cut as one piece") {
  Sound r(Turn{});
  r.add(rectangle_of(14.9, 0.9, 15.2, 1.1));  // stands in the way of the left part
  r.add(rectangle_of(15.6, 0.3, 15.7, 1.7));  // parts the next one: 0.5 m on its left, 0.3 + 0.6 on its right
  const auto made = r.add(rectangle_of(15.1, 0.5, 16.5, 1.5));
  r.sound();
  CHECK(made.overlap_given_up);
  REQUIRE(made.dropped.size() == 1);
  CHECK(made.dropped[0].at.u < 15.7);
  CHECK(r.network.faces_of({3}).size() == 2);
  CHECK(made.area_m2 == Approx(0.8).epsilon(1e-3));
}

TEST_CASE("an outline across the cut that crosses itself is refused") {
  Sound r(Turn{});
  const auto made = r.try_add({{15.5, 0.5}, {16.5, 1.5}, {16.5, 0.5}, {15.5, 1.5}});
  CHECK_FALSE(made);
  const auto nested = r.try_add(
      {{15.2, 0.4}, {16.6, 0.4}, {16.6, 1.6}, {15.2, 1.6}, {15.2, 0.8}, {16.4, 0.8}, {16.4, 1.2}, {15.1, 1.2}});
  CHECK_FALSE(nested);
}

TEST_CASE("what meets across the cut is measured again when the other side changes") {
  Sound r(Turn{});
  Network before = r.network;
  WallMeasure known = r.measure();
  const auto changed_to = [&](Network network, const std::vector<GiornataId>& changed) {
    r.network = std::move(network);
    CHECK(measures_changed(*r.wall, before, r.network) == changed);
    const auto again = measure_again(*r.wall, r.network, r.giornate, known, changed);
    const auto anew = r.measure();
    REQUIRE(again.giornate.size() == anew.giornate.size());
    for (std::size_t i = 0; i < anew.giornate.size(); ++i) CHECK(told(again.giornate[i]) == told(anew.giornate[i]));
    CHECK(again.unassigned_m2 == anew.unassigned_m2);
    before = r.network, known = again;
  };
  r.add(rectangle_of(15, 0.5, 16, 1.5));
  changed_to(r.network, {{1}});
  r.add(rectangle_of(3, 0.5, 4, 1.5));  // away from it
  changed_to(r.network, {{2}});
  r.add(rectangle_of(0, 0.75, 1, 1.25));  // beyond the cut from the first
  changed_to(r.network, {{1}, {3}});
  r.giornate[2].alive = false;
  changed_to(remove_giornata(r.network, {3}, r.meter()).value(), {{1}, {3}});
}
