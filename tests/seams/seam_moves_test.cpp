// Seams led along other courses: what changes is what closed forms say, and what meets what stays.
#include "engine/seams/seam_moves.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <iterator>
#include <set>

#include "engine/seams/seam_follow.h"
#include "engine/seams/seam_rails.h"
#include "tests/fixtures/walls.h"
#include "tests/seams/network_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

struct Plan {
  WallRef wall;
  Network network;
  explicit Plan(WallRef w)
      : wall(std::move(w)), network(Network::from_border(wall->chart->border_rings(), meter()).value()) {}
  EdgeMeter meter() const { return wall->metric->meter(); }
  void draw(const Ring& ring, std::uint32_t id) {
    auto made = insert_outline(network, ring, {id}, meter());
    if (!made) FAIL(made.problem().message());
    network = std::move(made->network);
  }
  void divide(const std::vector<LatticePoint>& line, std::uint32_t id, std::uint32_t made) {
    auto cut = divide_giornata(network, {id}, line, {made}, meter());
    if (!cut) FAIL(cut.problem().message());
    network = std::move(*cut);
  }
  double area(std::uint32_t id) const { return m2(area_of(network, {id})); }
};

void require_sound(const Network& before, const Network& n) {
  fixtures::require_sound(n);
  REQUIRE(n.wall_area() == before.wall_area());
}

MovedSeams good(const Result<MovedSeams>& moved, const Network& before) {
  INFO((moved ? std::string() : moved.problem().message()));
  REQUIRE(moved.ok());
  require_sound(before, moved->network);
  return *moved;
}
std::string why(const Result<MovedSeams>& moved) {
  REQUIRE_FALSE(moved.ok());
  return moved.problem().message();
}

// Two squares of 1 m side by side, their seam at u = 1.5 from v = 1 to 2, on a wall of 4 by 3 m.
Plan squares() {
  Plan p(flat_wall(4, 3));
  p.draw(rectangle(0.5, 1, 1.5, 2), 1);
  p.draw(rectangle(1.5, 1, 2.5, 2), 2);
  return p;
}

}  // namespace

TEST_CASE("the seams that a nudge laid anew are those of the one network and not of the other") {
  const Plan p = squares();
  const auto moved = good(nudge_seam(*p.wall, p.network, {1.5, 1.02}, {0.03, -0.03}, 0.2), p.network);
  using Ends = std::pair<std::pair<double, double>, std::pair<double, double>>;
  const auto ends_of = [](ChartPoint a, ChartPoint b) {
    const std::pair<double, double> from{a.u, a.v}, to{b.u, b.v};
    return Ends{std::min(from, to), std::max(from, to)};
  };
  const auto all_of = [&](const Network& n) {
    std::set<Ends> all;
    for (std::uint32_t s = 0; 2 * s < n.half_edge_slots(); ++s)
      if (n.alive(SeamId{s})) all.insert(ends_of(to_chart(n.origin({2 * s})), to_chart(n.target({2 * s}))));
    return all;
  };
  const auto before = all_of(p.network), after = all_of(moved.network);
  std::set<Ends> fresh, laid;
  std::set_difference(after.begin(), after.end(), before.begin(), before.end(), std::inserter(fresh, fresh.end()));
  for (const auto& line : seams_laid(p.network, moved.network)) laid.insert(ends_of(line.front(), line.back()));
  CHECK(std::includes(laid.begin(), laid.end(), fresh.begin(), fresh.end()));
  CHECK(std::includes(after.begin(), after.end(), laid.begin(), laid.end()));
  CHECK(laid.size() <= fresh.size() + 2);
  // From the junction at (1.5, 1) the move goes on into both seams of the foot.
  const auto some = [&](auto&& where) { return std::any_of(laid.begin(), laid.end(), where); };
  CHECK(some([](const Ends& e) { return e.second.first < 1.5; }));
  CHECK(some([](const Ends& e) { return e.first.first > 1.53; }));
  CHECK(seams_laid(p.network, p.network).empty());
}

TEST_CASE("a rim is near on a seam and on the wall's border, at the place straight across") {
  const Plan p = squares();
  const auto seam = rim_near(*p.wall, p.network, {1.492, 1.4}, 0.01);
  REQUIRE(seam);
  CHECK(seam->u == Approx(1.5).margin(1e-5));
  CHECK(seam->v == Approx(1.4).margin(1e-5));
  const auto border = rim_near(*p.wall, p.network, {2, 0.004}, 0.01);
  REQUIRE(border);
  CHECK(border->v == Approx(0).margin(1e-5));
  CHECK_FALSE(rim_near(*p.wall, p.network, {1.48, 1.4}, 0.01));
}

TEST_CASE("a nudged straight seam bulges by the integral of the falling share") {
  const Plan p = squares();
  for (const double by : {0.02, -0.05, 0.1}) {
    const auto moved = good(nudge_seam(*p.wall, p.network, {1.5, 1.5}, {by, 0}, 0.3), p.network);
    // Integral of cos^2(pi d / (2 R)) from -R to R is R; the trapezoid rule on equal steps has it exactly.
    CHECK(m2(area_of(moved.network, {1})) == Approx(1 + by * 0.3).margin(1e-6));
    CHECK(m2(area_of(moved.network, {2})) == Approx(1 - by * 0.3).margin(1e-6));
    CHECK(moved.most_m == Approx(std::abs(by)).margin(1e-8));
    CHECK(moved.touched == std::vector<GiornataId>{{1}, {2}});
    CHECK(moved.course.size() == 27);  // 12 steps each way and both ends of the seam
    CHECK(moved.network.vertex_at(at(1.5 + by, 1.5)));
  }
}

TEST_CASE("nudging again and again does not gather nodes") {
  const Plan p = squares();
  Network n = p.network;
  double expected = 1;
  for (int i = 0; i < 40; ++i) {
    const double by = i % 2 ? -0.01 : 0.01, reach = 0.2 + 0.003 * i;
    n = good(nudge_seam(*p.wall, n, {i % 2 ? 1.51 : 1.5, 1.5}, {by, 0}, reach), n).network;
    expected += by * reach;
  }
  CHECK(n.live_seams() < p.network.live_seams() + 60);
  CHECK(m2(area_of(n, {1})) == Approx(expected).margin(1e-4));  // nodes within 0.05 mm of straight are let go
}

TEST_CASE("a nudge goes on over a junction into every seam that meets there") {
  const Plan p = squares();  // the free wall is the third at the end of their seam, at 1.5 1
  const auto moved = good(nudge_seam(*p.wall, p.network, {1.5, 1.02}, {0.03, -0.03}, 0.2), p.network);
  const double share = std::pow(std::cos(M_PI / 2 * 0.02 / 0.2), 2);
  const auto junction = node_near(*p.wall, moved.network, {1.5 + 0.03 * share, 1 - 0.03 * share}, 1e-6);
  REQUIRE(junction);
  CHECK_FALSE(moved.network.vertex_at(at(1.5, 1)));
  // 5 cm along each lower side from the junction, 7 cm from where the drag began.
  const double side = std::pow(std::cos(M_PI / 2 * 0.12 / 0.2), 2) * 0.03;
  CHECK(node_near(*p.wall, moved.network, {1.6 + side, 1 - side}, 0.02));
}

TEST_CASE("a move over an island is refused with the place, one beside it is made") {
  Plan p(flat_wall(4, 3));
  p.draw(regular(1.6, 1.5, 0.02, 12), 3);
  p.draw(rectangle(0.5, 1, 1.5, 2), 1);
  p.draw(rectangle(1.5, 1, 2.5, 2), 2);
  CHECK(why(nudge_seam(*p.wall, p.network, {1.5, 1.5}, {0.1, 0}, 0.3)).find("giornata 3") != std::string::npos);
  // Far enough to land beyond it: no seam crosses another, yet the island would change hands.
  const auto over = nudge_seam(*p.wall, p.network, {1.5, 1.5}, {0.4, 0}, 0.3);
  CHECK(why(over).find("pass over") != std::string::npos);
  good(nudge_seam(*p.wall, p.network, {1.5, 1.5}, {0.05, 0}, 0.3), p.network);
  good(nudge_seam(*p.wall, p.network, {1.5, 1.8}, {0.3, 0}, 0.15), p.network);
}

TEST_CASE("a seam's end slides along the border by its share, the border's area held") {
  Plan p(flat_wall(4, 3));
  p.draw(rectangle(0, 0, 4, 3), 1);
  p.divide({at(2, 0), at(2, 3)}, 1, 2);
  const auto moved = good(nudge_seam(*p.wall, p.network, {2, 0.001}, {0.1, 0.05}, 0.5), p.network);
  const auto end = node_near(*p.wall, moved.network, {2.1, 0}, 1e-4);
  REQUIRE(end);
  CHECK(to_chart(moved.network.vertex(*end).place).v == 0);
  const auto led = good(move_node(*p.wall, p.network, {2, 0}, {2.7, -0.01}), p.network);
  CHECK(m2(area_of(led.network, {1})) + m2(area_of(led.network, {2})) == Approx(12));
  CHECK(std::abs(m2(area_of(led.network, {1})) - 6) == Approx(0.7 * 3 / 2).margin(1e-6));
  // Back again: the same areas, and no node left over.
  const auto back = good(move_node(*p.wall, led.network, {2.7, 0}, {2, 0}), p.network);
  CHECK(back.network.live_seams() == p.network.live_seams());
  CHECK(m2(area_of(back.network, {1})) == Approx(6).margin(1e-7));
  CHECK(why(nudge_seam(*p.wall, p.network, {1, 0}, {0.1, 0}, 0.5)).find("own edge") != std::string::npos);
}

TEST_CASE("an end on the border does not pass the end of another seam, nor leave a hole's edge") {
  Plan p(flat_wall(4, 3));
  p.draw(rectangle(0, 0, 4, 3), 1);
  p.divide({at(2, 0), at(2, 3)}, 1, 2);
  p.divide({at(2.5, 0), at(2.5, 3)}, 2, 3);
  CHECK(why(move_node(*p.wall, p.network, {2, 0}, {2.6, 0})).find("end of another") != std::string::npos);
  good(move_node(*p.wall, p.network, {2, 0}, {2.4, 0}), p.network);
  // Round the corner of the wall and up its side.
  const auto up = good(move_node(*p.wall, p.network, {2.5, 0}, {4, 0.2}), p.network);
  CHECK(up.network.vertex_at(at(4, 0.2)));
}

TEST_CASE("nodes are moved, added and taken away; junctions and corners of the wall stay") {
  const Plan p = squares();
  const auto added = good(add_node(*p.wall, p.network, {1.503, 1.4}), p.network);
  CHECK(added.network.live_seams() == p.network.live_seams() + 1);
  CHECK(area_of(added.network, {1}) == Approx(area_of(p.network, {1})).margin(1e4));
  CHECK(why(add_node(*p.wall, added.network, {1.5, 1.4})).find("already") != std::string::npos);
  const auto moved = good(move_node(*p.wall, added.network, {1.5, 1.4}, {1.6, 1.4}), p.network);
  CHECK(m2(area_of(moved.network, {1})) == Approx(1.05).margin(1e-7));  // a triangle of 1 by 0.1 m
  const auto removed = good(remove_node(*p.wall, moved.network, {1.6, 1.4}), p.network);
  CHECK(m2(area_of(removed.network, {1})) == Approx(1).margin(1e-7));
  CHECK(removed.network.live_seams() == p.network.live_seams());
  CHECK(why(remove_node(*p.wall, p.network, {1.5, 1})).find("Seams meet here") != std::string::npos);
  CHECK(why(remove_node(*p.wall, p.network, {0, 0})).find("own edge") != std::string::npos);
  CHECK(why(remove_node(*p.wall, p.network, {3.5, 0.5})).find("no node") != std::string::npos);
  CHECK(why(move_node(*p.wall, p.network, {0.5, 1}, {1.9, 1.5})).find("run over") != std::string::npos);
  CHECK(why(move_node(*p.wall, p.network, {0.5, 1}, {-1, 1})).find("leave the wall") != std::string::npos);
  CHECK_FALSE(node_near(*p.wall, p.network, {0, 0}, 0.01));
}

TEST_CASE("a giornata is not made smaller than 1 cm2") {
  Plan p(flat_wall(4, 3));
  p.draw({at(1, 1), at(1.02, 1), at(1.01, 1.02)}, 1);
  CHECK(why(move_node(*p.wall, p.network, {1.01, 1.02}, {1.01, 1.005})).find("giornata 1 would be left") !=
        std::string::npos);
}

TEST_CASE("a held giornata keeps its rim; ends of other seams slide along it") {
  Plan p = squares();
  p.draw(rectangle(0.5, 0.2, 2.5, 1), 3);  // below both: their seam ends on it
  const SeamHold hold = [](GiornataId id) { return id == GiornataId{3} ? "giornata 3 is painted" : ""; };
  const auto names = [](GiornataId id) { return "number " + std::to_string(10 + id.value); };
  CHECK(why(nudge_seam(*p.wall, p.network, {1, 1}, {0, 0.02}, 0.2, hold)).find("giornata 3 is painted") !=
        std::string::npos);
  CHECK(why(move_node(*p.wall, p.network, {0.5, 0.2}, {0.6, 0.1}, hold)).find("painted") != std::string::npos);
  const auto moved = good(nudge_seam(*p.wall, p.network, {1.5, 1.001}, {0.1, 0.05}, 0.3, hold, names), p.network);
  CHECK(area_of(moved.network, {3}) == area_of(p.network, {3}));
  const auto end = node_near(*p.wall, moved.network, {1.6, 1}, 1e-3);
  REQUIRE(end);
  CHECK(to_chart(moved.network.vertex(*end).place).v == Approx(1).margin(1e-8));
  CHECK(moved.touched == std::vector<GiornataId>{{1}, {2}});
}

TEST_CASE("a redrawn stretch lies along the line, seams that end there are cut back or led on") {
  Plan p = squares();
  p.draw(rectangle(1, 2, 2, 2.5), 3);  // on top of both: three seams meet at 1.5 2, 1 2 and 2 2
  // Down into 1 and 2 across the top of their seam.
  const auto cut = good(redraw_seam(*p.wall, p.network, {{1.2, 2}, {1.3, 1.9}, {1.7, 1.9}, {1.8, 2}}), p.network);
  CHECK(m2(area_of(cut.network, {3})) == Approx(0.5 + 0.05).margin(1e-7));
  CHECK(cut.network.vertex_at(at(1.5, 1.9)));
  CHECK(cut.touched == std::vector<GiornataId>{{1}, {2}, {3}});
  // Up into 3: the seam below is led on.
  const auto led = good(redraw_seam(*p.wall, p.network, {{1.2, 2}, {1.3, 2.1}, {1.7, 2.1}, {1.8, 2}}), p.network);
  CHECK(m2(area_of(led.network, {3})) == Approx(0.5 - 0.05).margin(1e-7));
  CHECK(m2(area_of(led.network, {1})) == Approx(1 + 0.025).margin(1e-7));
  CHECK(led.network.vertex_at(at(1.5, 2.1)));
  CHECK(led.most_m == Approx(0.1).margin(1e-6));
}

TEST_CASE("a line that enters a third giornata is refused and names it") {
  Plan p = squares();
  p.draw(rectangle(0.5, 2, 2.5, 2.5), 3);
  const auto over = redraw_seam(*p.wall, p.network, {{1.5, 1.2}, {1.9, 2.2}, {1.7, 2.2}, {1.5, 1.8}});
  CHECK(why(over).find("giornata 3") != std::string::npos);
  CHECK(why(redraw_seam(*p.wall, p.network, {{1.5, 1.2}, {1.6, 1.6}})).find("does not end on a seam") !=
        std::string::npos);
  CHECK(why(redraw_seam(*p.wall, p.network, {{1.5, 1.2}, {1.7, 1.7}, {1.7, 1.2}, {1.4, 1.6}, {1.5, 1.8}}))
            .find("crosses or touches itself") != std::string::npos);
}

TEST_CASE("a line from the wall's edge slides the seam's end there; one from another seam slides it along that") {
  Plan p(flat_wall(4, 3));
  p.draw(rectangle(0, 0, 4, 3), 1);
  p.divide({at(2, 0), at(2, 3)}, 1, 2);
  const auto border = good(redraw_seam(*p.wall, p.network, {{2.5, 0}, {2.2, 0.5}, {2, 1}}), p.network);
  CHECK(border.network.vertex_at(at(2.5, 0)));
  // Trapezia of mean widths 0.35 and 0.1 over 0.5 m each.
  CHECK(std::abs(m2(area_of(border.network, {1})) - 6) == Approx(0.5 * 0.35 + 0.5 * 0.1).margin(1e-7));
  p.divide({at(0, 1.5), at(2, 1.5)},
           m2(area_of(p.network, {1})) > 0 && p.network.owner_at(at(1, 1)) == GiornataId{1} ? 1 : 2, 3);
  // The cross seam ended at 2 1.5; drawn from 2 1.8 to its middle it ends there, and the upright one stays straight.
  const auto slid = good(redraw_seam(*p.wall, p.network, {{2, 1.8}, {1, 1.5}}), p.network);
  CHECK(slid.network.vertex_at(at(2, 1.8)));
  CHECK_FALSE(slid.network.vertex_at(at(2, 1.5)));
  const GiornataId below = slid.network.owner_at(at(1, 1));
  CHECK(m2(area_of(slid.network, below)) == Approx(3 + 0.3 * 1 / 2).margin(1e-7));
  CHECK(slid.network.live_seams() == p.network.live_seams() + 1);
}

TEST_CASE("where four seams meet a line across cuts one back and leads the other on along it") {
  Plan p(flat_wall(4, 3));
  p.draw(rectangle(1, 1, 2, 2), 1);
  p.draw(rectangle(2, 1, 3, 2), 2);
  p.draw(rectangle(1, 2, 2, 3), 3);
  p.draw(rectangle(2, 2, 3, 3), 4);
  const auto moved = good(redraw_seam(*p.wall, p.network, {{1.5, 2}, {1.8, 2.2}, {2.2, 2.2}, {2.5, 2}}), p.network);
  CHECK(moved.network.vertex_at(at(2, 2.2)));
  CHECK(m2(area_of(moved.network, {1})) == Approx(1 + 0.5 * 0.2 * 0.3 + 0.2 * 0.2).margin(1e-7));
  CHECK(m2(area_of(moved.network, {4})) == Approx(1 - 0.5 * 0.2 * 0.3 - 0.2 * 0.2).margin(1e-7));
  // Past the corner, both seams beyond it are led on, each by itself.
  const auto past = good(redraw_seam(*p.wall, p.network, {{1.5, 2}, {2, 1.5}}), p.network);
  CHECK(past.network.vertex_at(at(1.75, 1.75)));
  CHECK(m2(area_of(past.network, {1})) == Approx(1 - 0.125).margin(1e-7));
  CHECK(m2(area_of(past.network, {2})) == Approx(m2(area_of(past.network, {3}))).margin(1e-7));
  CHECK(past.network.live_seams() == p.network.live_seams() + 4);
}

TEST_CASE("on a dome the reach of a nudge is surface metres") {
  // A hemisphere's chart keeps distances from its crown; round it, the chart is longer than the wall by r / sin r.
  Plan p(dome_wall(4, 2, 1e-3));
  const double middle = p.wall->chart->box().width / 2, radius = 2.4;  // chart: geodesic polar, 2 m radius of the wall
  const auto on_circle = [&](double angle) {
    return at(middle + radius * std::cos(angle), middle + radius * std::sin(angle));
  };
  Ring ring;
  for (int i = 0; i < 256; ++i) ring.push_back(on_circle(2 * M_PI * i / 256));
  p.draw(ring, 1);
  const ChartPoint from = to_chart(on_circle(0));
  const double reach = 0.5;
  const auto moved = good(nudge_seam(*p.wall, p.network, from, {0.05, 0}, reach), p.network);
  // The circle's radius in space is R sin(r / R): half the reach along it is at this angle, where a half of the drag is
  // left.
  const double angle = reach / 2 / (2 * std::sin(radius / 2));
  const Vec2 half = to_vec(to_chart(on_circle(angle))) + Vec2(0.025, 0);
  double least = 1;
  for (std::size_t i = 0; i + 1 < moved.course.size(); ++i) {
    const Vec2 a = to_vec(moved.course[i]), along = to_vec(moved.course[i + 1]) - a;
    const double t = std::clamp(glm::dot(half - a, along) / glm::dot(along, along), 0.0, 1.0);
    least = std::min(least, glm::distance(half, a + t * along));
  }
  CHECK(least < 5e-4);
  CHECK(moved.course.size() > 10);
}

TEST_CASE("on a drum cut open both sides of the cut move together") {
  Plan p(built({.kind = ShapeKind::drum, .height = 3, .span = 2, .angle_deg = 360}, 2e-3));
  const double width = p.wall->chart->box().width;
  p.draw(rectangle(0, 0, width, 3), 1);
  p.divide({at(0, 1.5), at(width, 1.5)}, 1, 2);  // a ring seam, from cut to cut
  const auto lower = [](const Network& n) { return m2(area_of(n, n.owner_at(at(1, 1)))); };
  const double before = lower(p.network);
  const auto moved = good(nudge_seam(*p.wall, p.network, {0.1, 1.5}, {0, 0.05}, 0.3), p.network);
  CHECK(lower(moved.network) - before == Approx(0.05 * 0.3).margin(1e-5));
  const double share = std::pow(std::cos(M_PI / 2 * 0.1 / 0.3), 2);
  const auto left = node_near(*p.wall, moved.network, {0, 1.5 + 0.05 * share}, 1e-3);
  const auto right = node_near(*p.wall, moved.network, {width, 1.5 + 0.05 * share}, 1e-3);
  REQUIRE((left && right));
  const LatticePoint a = moved.network.vertex(*left).place, b = moved.network.vertex(*right).place;
  CHECK(std::abs(a.y - b.y) <= 2);
  CHECK(a.x == 0);
  // A node on the cut takes its counterpart along.
  const auto node = good(move_node(*p.wall, p.network, {width, 1.5}, {width + 0.02, 1.7}), p.network);
  CHECK(node_near(*p.wall, node.network, {0, 1.7}, 1e-6));
  CHECK(node_near(*p.wall, node.network, {width, 1.7}, 1e-6));
  // A line over the cut, from one side to the other.
  const auto over = good(
      redraw_seam(*p.wall, p.network, {{width - 0.3, 1.5}, {width - 0.1, 1.6}, {width + 0.1, 1.6}, {width + 0.3, 1.5}}),
      p.network);
  CHECK(lower(over.network) - before == Approx(0.1 * (0.2 + 0.6) / 2).margin(1e-4));
  CHECK(why(nudge_seam(*p.wall, moved.network, {1, 1.5}, {0, 4}, 0.3)).find("leave the wall") != std::string::npos);
}

TEST_CASE("a seam is not led over the cut of the chart, and the refusal says so") {
  Plan p(built({.kind = ShapeKind::drum, .height = 3, .span = 2, .angle_deg = 360}, 2e-3));
  p.draw(rectangle(0.1, 1, 1, 2), 1);
  CHECK(why(nudge_seam(*p.wall, p.network, {0.1, 1.5}, {-0.2, 0}, 0.3)).find("cut open") != std::string::npos);
}
