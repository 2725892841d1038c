#include "engine/cartoon/tiling.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <random>

#include "engine/cartoon/tiling_grid.h"

using namespace pontata;

namespace {

constexpr double kPi = std::numbers::pi;

// A closed blob as a fan of triangles about its middle, turned and stretched at random; sides of some 0.3 to 1.5 m.
std::vector<Vec2> blob(std::mt19937& random) {
  std::uniform_real_distribution<double> unit(0, 1);
  const double a = 150 + 600 * unit(random), b = 100 + 250 * unit(random), turn = 2 * kPi * unit(random);
  const double wave = 0.25 * unit(random), phase = 6 * unit(random);
  std::vector<Vec2> rim, out;
  for (int i = 0; i < 90; ++i) {
    const double t = 2 * kPi * i / 90, r = 1 + wave * std::sin(3 * t + phase);
    const Vec2 p{a * r * std::cos(t), b * r * std::sin(t)};
    rim.push_back({p.x * std::cos(turn) - p.y * std::sin(turn) + 77, p.x * std::sin(turn) + p.y * std::cos(turn) - 31});
  }
  for (std::size_t i = 0; i < rim.size(); ++i)
    out.insert(out.end(), {Vec2{77, -31}, rim[i], rim[(i + 1) % rim.size()]});
  return out;
}

std::vector<Vec2> box(Vec2 lo, Vec2 size) {
  const Vec2 a = lo, b = lo + Vec2{size.x, 0}, c = lo + size, d = lo + Vec2{0, size.y};
  return {a, b, c, a, c, d};
}

bool shown(const Tiling& t, Vec2 pattern, double grown = 0) {
  const Vec2 p = placed(t, pattern);
  return std::any_of(t.tiles.begin(), t.tiles.end(), [&](const Tile& tile) {
    const Vec2 q = p - tile.corner;
    return q.x >= -grown && q.y >= -grown && q.x <= t.window.x + grown && q.y <= t.window.y + grown;
  });
}

std::size_t sheets_when(const std::vector<Vec2>& corners, const Paper& paper, double overlap, Vec2 turn) {
  const SheetShape shape = sheet_shape({paper.width_mm, paper.height_mm}, {}, overlap);
  return tiling_of(corners, shape, centred_box(corners, shape, turn, overlap), overlap).tiles.size();
}

}  // namespace

TEST_CASE("every point of a pattern is on a sheet, and within an overlap on both") {
  std::mt19937 random(3);
  for (int k = 0; k < 24; ++k) {
    const auto corners = blob(random);
    const Paper paper = *paper_named(std::array{"A4", "A3", "A2", "roll610"}[static_cast<std::size_t>(k % 4)]);
    const Tiling t = *tile(corners, paper, 15);
    CAPTURE(k, paper.name, turn_deg(t), t.tiles.size());
    std::uniform_real_distribution<double> unit(0, 1);
    int twice = 0, seams = 0;
    for (std::size_t i = 0; i + 2 < corners.size(); i += 3)
      for (int n = 0; n < 60; ++n) {
        double u = unit(random), v = unit(random);
        if (u + v > 1) u = 1 - u, v = 1 - v;
        const Vec2 p = corners[i] + u * (corners[i + 1] - corners[i]) + v * (corners[i + 2] - corners[i]);
        REQUIRE(shown(t, p));
        int times = 0, close = 0;
        for (const Tile& tile : t.tiles) {
          const Vec2 q = placed(t, p) - tile.corner;
          const double inside = std::min({q.x, q.y, t.window.x - q.x, t.window.y - q.y});
          times += inside >= 0, close += inside >= 0 && inside < 14.9;
        }
        // a point near a window's side is on the sheet across as well, unless nothing follows there
        seams += close > 0, twice += close > 0 && times > 1;
      }
    if (t.tiles.size() > 3) CHECK(twice > seams / 5);
    for (const Tile& a : t.tiles)
      for (const Tile& b : t.tiles)
        if (b.row == a.row && b.column == a.column + 1)
          CHECK(b.corner.x - a.corner.x == Approx(t.window.x - 15).margin(1e-9));
  }
}

TEST_CASE("no more sheets than upright or a quarter turn, and lengths stay true") {
  std::mt19937 random(5);
  std::size_t found = 0, before = 0;
  for (int k = 0; k < 40; ++k) {
    const auto corners = blob(random);
    const Paper paper = *paper_named(k % 2 ? "A3" : "A4");
    const Tiling t = *tile(corners, paper, 15);
    const std::size_t plain =
        std::min(sheets_when(corners, paper, 15, {1, 0}), sheets_when(corners, paper, 15, {0, 1}));
    CAPTURE(k, turn_deg(t), t.tiles.size(), plain);
    CHECK(t.tiles.size() <= plain);
    if (t.tiles.size() == sheets_when(corners, paper, 15, {1, 0})) CHECK(t.turn == Vec2(1, 0));
    found += t.tiles.size(), before += plain;
    CHECK(glm::length(t.turn) == Approx(1).epsilon(1e-14));
    CHECK(glm::distance(placed(t, corners[1]), placed(t, corners[40])) ==
          Approx(glm::distance(corners[1], corners[40])).epsilon(1e-12));
    for (const Tile& tile : t.tiles) CHECK((tile.column >= 0 && tile.column < t.columns && tile.row < t.rows));
  }
  INFO(found << " sheets instead of " << before);
  CHECK(static_cast<double>(found) < 0.95 * static_cast<double>(before));
}

TEST_CASE("a slanting strip is laid along the paper") {
  // 380 x 150 mm at 40 degrees: four A3 sheets or two upright, one when laid straight
  std::vector<Vec2> corners = box({0, 0}, {330, 150});
  const double a = 40 * kPi / 180;
  for (Vec2& p : corners) p = {p.x * std::cos(a) - p.y * std::sin(a), p.x * std::sin(a) + p.y * std::cos(a)};
  const Tiling t = *tile(corners, *paper_named("A3"), 15);
  CHECK(t.tiles.size() == 1);
  const double along = std::remainder(turn_deg(t) + 40, 90);
  CHECK(std::abs(along) < 16);  // as far as the sheet's window lets it
}

TEST_CASE("a pattern wider than high takes sheets lying on their long side, and stays upright") {
  const Tiling t = *tile(box({10, 20}, {360, 210}), *paper_named("A3"), 15);
  CHECK(t.tiles.size() == 1);
  CHECK(t.page == Vec2(420, 297));
  CHECK(t.turn == Vec2(1, 0));
}

TEST_CASE("rolls: the piece is as short as the way round allows") {
  const Paper roll = *paper_named("roll610");
  // 500 x 300 mm lies across, 300 x 500 is turned; words and room take 49 + 24 mm more
  const Tiling across = *tile(box({0, 0}, {500, 300}), roll, 15);
  CHECK(across.tiles.size() == 1);
  CHECK(across.turn == Vec2(1, 0));
  CHECK(across.page.y == Approx(373));
  const Tiling along = *tile(box({0, 0}, {300, 500}), roll, 15);
  CHECK(along.tiles.size() == 1);
  CHECK(along.page.y == Approx(373));
  CHECK(roll_m(along, roll) == Approx(0.373));
  CHECK(paper_m2(along) == Approx(0.373 * 0.61));
  // a thin slanting strip, too long to lie across: laid along a side it saves most
  std::vector<Vec2> corners = box({0, 0}, {900, 60});
  for (Vec2& p : corners) p = {0.8 * p.x - 0.6 * p.y, 0.6 * p.x + 0.8 * p.y};
  const Tiling t = *tile(corners, roll, 15);
  CHECK(t.tiles.size() == 1);
  const Extent e = extent_of(corners, t.turn);
  CHECK(e.size().x <= t.window.x - 24 + 1e-6);
  // the least height at which a 900 x 60 strip still fits 564 mm across: its box at angle a is 900 cos a + 60 sin a
  // wide
  double least = 1e300;
  for (double deg = 0; deg < 90; deg += 0.01) {
    const double c = std::cos(deg * kPi / 180), s = std::sin(deg * kPi / 180);
    if (900 * c + 60 * s <= 564) least = std::min(least, 900 * s + 60 * c);
  }
  CHECK(t.page.y - 49 - 24 >= least - 0.5);
  CHECK(t.page.y - 49 - 24 <= least + 2);
  CHECK(tile(box({0, 0}, {9000, 300}), roll, 15)->page.y / 25.4 * 72 < 14400);
}

TEST_CASE("a whole pattern lies upright in one window with room round it") {
  const Tiling t = whole(box({-200, 50}, {7000, 400}));
  REQUIRE(t.tiles.size() == 1);
  CHECK(t.window == Vec2(7024, 424));
  CHECK(t.tiles[0].corner == Vec2(-212, 38));
}
