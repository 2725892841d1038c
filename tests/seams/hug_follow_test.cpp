// What a hugging line follows, and in which order: seams and edges, then ribs, then contours.
#include <catch2/catch.hpp>
#include <numeric>

#include "engine/seams/hug_across.h"
#include "engine/seams/outline_edit.h"
#include "tests/seams/hug_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr auto metres(HugTarget what) { return static_cast<std::size_t>(what); }

// Stretches follow each other from end to end and their lengths are the line's.
void check_stretches(const HuggedLine& line, bool closed) {
  REQUIRE_FALSE(line.stretches.empty());
  CHECK(line.stretches.front().first == 0);
  CHECK(line.stretches.back().last == line.line.size() - (closed ? 0 : 1));
  for (std::size_t k = 0; k + 1 < line.stretches.size(); ++k) {
    CHECK(line.stretches[k].last == line.stretches[k + 1].first);
    CHECK(line.stretches[k].last > line.stretches[k].first);
  }
  const auto by = metres_by_target(line);
  CHECK(std::accumulate(by.begin(), by.end(), 0.0) == Approx(line.length_m).epsilon(1e-9));
  CHECK(line.hugged_m == Approx(line.length_m - by[metres(HugTarget::nothing)]).epsilon(1e-9));
  CHECK(
      line.seam_m ==
      Approx(by[metres(HugTarget::seam)] + by[metres(HugTarget::edge)] + by[metres(HugTarget::opening)]).margin(1e-9));
}

WallRef wall_with_window() {
  const Opening window{OpeningKind::rect, {0.6, 0.4}, 0.4, 0.3, {}};
  return build_wall(flat_spec(2, 1.5), {}, "wall", 0, std::span(&window, 1)).value();
}

}  // namespace

TEST_CASE("a line says what it follows: a seam and whose it is, the wall's edge, an opening's, a contour, nothing") {
  const auto wall = wall_with_window();
  const auto figure = blob({1.5, 1.0}, 0.25);
  const auto ground = drawn_ground(wall, {1.5, 1.0}, 0.8, figure);
  const auto meter = wall->metric->meter();
  auto one =
      insert_outline(ground->network, ring_of({{0.1, 0.9}, {0.5, 0.9}, {0.5, 1.3}, {0.1, 1.3}}), GiornataId{7}, meter);
  REQUIRE(one.ok());
  auto two =
      insert_outline(one->network, ring_of({{0.5, 0.9}, {0.9, 0.9}, {0.9, 1.3}, {0.5, 1.3}}), GiornataId{3}, meter);
  REQUIRE(two.ok());
  ground->network = two->network;

  struct Case {
    std::vector<ChartPoint> clicks;
    HugTarget what;
    double length;
  };
  for (const auto& c : {Case{{{0.503, 0.95}, {0.496, 1.25}}, HugTarget::seam, 0.3},
                        Case{{{0.2, 0.904}, {0.4, 0.897}}, HugTarget::seam, 0.2},
                        Case{{{0.01, 0.3}, {0.01, 0.8}}, HugTarget::edge, 0.5},
                        Case{{{0.7, 0.39}, {0.9, 0.395}}, HugTarget::opening, 0.2},
                        Case{{figure.at(0.1), figure.at(0.3)}, HugTarget::contour, 0.25 * 2 * M_PI * 0.2},
                        Case{{{1.1, 0.2}, {1.5, 0.4}}, HugTarget::nothing, std::hypot(0.4, 0.2)}}) {
    CAPTURE(static_cast<int>(c.what), c.length);
    const auto whole = hug(ground, c.clicks, false).value();
    HugStroke stroke(ground, c.clicks[0], {});
    for (const auto& line : {whole, stroke.to(c.clicks[1]), stroke.preview(c.clicks[1])}) {
      check_stretches(line, false);
      CHECK(metres_by_target(line)[metres(c.what)] == Approx(c.length).margin(0.012));
      CHECK(line.length_m == Approx(c.length).margin(0.012));
      if (c.what != HugTarget::seam) continue;
      const auto& s = line.stretches[0];
      if (c.clicks[0].u > 0.5) {
        CHECK((s.one == GiornataId{3} && s.other == GiornataId{7}));
      } else {
        CHECK((!s.one && s.other == GiornataId{7}));  // and the rest
      }
    }
  }
  const auto closed = hug(ground, clicks(figure, 8), true).value();
  check_stretches(closed, true);
  CHECK(metres_by_target(closed)[metres(HugTarget::contour)] > 0.93 * closed.length_m);
}

TEST_CASE("a line in pieces tells the stretches of all of them") {
  const auto ground = ground_of(flat_wall(1, 1));
  const auto at = [](double u, double v) { return to_lattice({u, v}); };
  std::vector<CutPiece> pieces{{{at(0, 0.2), at(0, 0.6)}, {}, Chart::BorderPlace{}},
                               {{at(0.5, 0.2), at(0.5, 0.6)}, Chart::BorderPlace{}, {}}};
  const auto line = hug_pieces(ground, pieces, false).value();
  const auto by = metres_by_target(line);
  CHECK(by[metres(HugTarget::edge)] == Approx(0.4));
  CHECK(by[metres(HugTarget::nothing)] == Approx(0.4));
  for (const auto& s : line.stretches)
    CHECK(s.length_m == Approx(glm::length(to_vec(line.line[s.first]) - to_vec(line.line[s.last]))));
}

TEST_CASE("an arris is followed to the letter, before a contour beside it and after a seam on it") {
  const auto wall = built({.kind = ShapeKind::groin, .span = 2, .length = 2, .rise = 1});
  const auto ribs = find_ribs(*wall);
  REQUIRE(ribs->lines.size() == 4);
  const auto& rib = ribs->lines[0];
  const ChartPoint a = rib[rib.size() / 4], b = rib[3 * rib.size() / 4];
  // A stripe whose edge runs 12 mm beside the arris, from end to end of it.
  const Vec2 way = glm::normalize(to_vec(b) - to_vec(a)), side(-way.y, way.x);
  const auto beside = [&](ChartPoint p, double m) { return to_chart(to_vec(p) + m * side); };
  const auto stripe = cornered({to_vec(beside(a, 0.012)) - 0.1 * way, to_vec(beside(b, 0.012)) + 0.1 * way,
                                to_vec(beside(b, 0.2)) + 0.1 * way, to_vec(beside(a, 0.2)) - 0.1 * way});
  const Vec2 middle = 0.5 * (to_vec(a) + to_vec(b));
  auto ground = drawn_ground(wall, middle, 1.2, stripe);
  const std::vector<ChartPoint> points{beside(a, 0.009), beside(b, 0.009)};
  const auto without = hug(ground, points, false).value();
  CHECK(metres_by_target(without)[metres(HugTarget::contour)] > 0.9 * without.length_m);

  ground->ribs = ribs;
  const auto with = hug(ground, points, false).value();
  check_stretches(with, false);
  CHECK(metres_by_target(with)[metres(HugTarget::rib)] == Approx(with.length_m).epsilon(1e-9));
  CHECK(with.share() == Approx(1));
  for (const auto& p : with.line) {  // on the diagonal of the plan
    const Vec3 at = wall->position(p).value();
    double nearest = 1;
    for (std::size_t k = 0; k + 1 < rib.size(); ++k) {
      const Vec3 q = wall->position(rib[k]).value(), d = wall->position(rib[k + 1]).value() - q;
      nearest = std::min(nearest, glm::length(at - q - d * std::clamp(glm::dot(at - q, d) / glm::dot(d, d), 0.0, 1.0)));
    }
    CHECK(nearest < 0.0006);  // simplified by 0.5 mm
  }
  // Two clicks that miss the arris by more than its reach still run along it between.
  HugStroke stroke(ground, beside(a, -0.012), {});
  CHECK(metres_by_target(stroke.preview(beside(b, -0.012)))[metres(HugTarget::rib)] > 0.9 * with.length_m);

  const auto made = insert_outline(ground->network, ring_of({a, b, beside(b, 0.15), beside(a, 0.15)}), GiornataId{1},
                                   wall->metric->meter());
  REQUIRE(made.ok());
  ground->network = made->network;
  const auto along_seam = hug(ground, points, false).value();
  CHECK(metres_by_target(along_seam)[metres(HugTarget::seam)] > 0.98 * along_seam.length_m);
}
