#include "engine/picture/free_frame.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <random>

#include "engine/base/predicates.h"

using namespace pontata;

namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kTolerance = 1e-4;

Ring ring_of(const std::vector<ChartPoint>& places) {
  Ring ring;
  for (const auto& p : places) ring.push_back(to_lattice(p));
  return ring;
}

Ring box_ring(double u, double v, double width, double height) {
  return ring_of({{u, v}, {u + width, v}, {u + width, v + height}, {u, v + height}});
}

Ring round_ring(Vec2 centre, double radius, int corners) {
  std::vector<ChartPoint> places;
  for (int k = 0; k < corners; ++k)
    places.push_back(
        {centre.x + radius * std::cos(2 * kPi * k / corners), centre.y + radius * std::sin(2 * kPi * k / corners)});
  return ring_of(places);
}

double width_of(const std::vector<Ring>& rings, PictureSize size, double turn_deg = 0) {
  const auto frame = largest_frame(rings, size, turn_deg, kTolerance);
  return frame ? frame->width : 0;
}

std::vector<Vec2> corners_of(const PictureFrame& frame, double shrunk = 0) {
  std::vector<Vec2> corners;
  const PictureSize unit{1, 1};
  const double x = shrunk / frame.width, y = shrunk / frame.height;
  for (const Vec2& p : {Vec2(x, 1 - y), Vec2(1 - x, 1 - y), Vec2(1 - x, y), Vec2(x, y)})
    corners.push_back(to_vec(from_pixel(frame, unit, p)));
  return corners;
}

bool even_odd(const std::vector<Ring>& rings, const Vec2& p) {
  bool in = false;
  for (const Ring& ring : rings) in = in != (point_in_ring(ring, to_lattice(to_chart(p))) > 0);
  return in;
}

// The frame lies in the area: its middle does, no corner of a ring lies in it and no side crosses one of its sides.
bool lies_in(const std::vector<Ring>& rings, const PictureFrame& frame, double shrunk) {
  const auto quad = corners_of(frame, shrunk);
  if (!even_odd(rings, 0.5 * (quad[0] + quad[2]))) return false;
  Ring mine;
  for (const auto& corner : quad) mine.push_back(to_lattice(to_chart(corner)));
  for (const Ring& ring : rings)
    for (std::size_t k = 0; k < ring.size(); ++k) {
      if (point_in_ring(mine, ring[k]) >= 0) return false;
      for (std::size_t c = 0; c < 4; ++c)
        if (segments_meet(ring[k], ring[(k + 1) % ring.size()], mine[c], mine[(c + 1) % 4])) return false;
    }
  return true;
}

PictureFrame about(const Vec2& middle, double width, double aspect, double turn_deg) {
  const double turn = turn_deg * kPi / 180, w = 0.5 * width, h = 0.5 * width / aspect;
  return {{middle.x - std::cos(turn) * w + std::sin(turn) * h, middle.y - std::sin(turn) * w - std::cos(turn) * h},
          width,
          2 * h,
          turn_deg};
}

// Width of the largest frame about the middles of a grid, by trying: what largest_frame may fall short of by no more
// than its tolerance.
double by_trying(const std::vector<Ring>& rings, double aspect, double turn_deg, double side, double step) {
  double best = 0;
  for (double u = step / 2; u < side; u += step)
    for (double v = step / 2; v < side; v += step) {
      double low = best, high = 2 * side;
      if (!even_odd(rings, {u, v}) || (best > 0 && !lies_in(rings, about({u, v}, best, aspect, turn_deg), 0))) continue;
      while (high - low > 1e-5) {
        const double middle = 0.5 * (low + high);
        (lies_in(rings, about({u, v}, middle, aspect, turn_deg), 0) ? low : high) = middle;
      }
      best = low;
    }
  return best;
}

// A star about the middle of a 1 m square with two holes in it.
std::vector<Ring> random_area(std::mt19937& random) {
  std::uniform_real_distribution<double> share(0, 1);
  std::vector<ChartPoint> places;
  const int corners = 5 + static_cast<int>(random() % 20);
  for (int k = 0; k < corners; ++k) {
    const double angle = 2 * kPi * k / corners, r = 0.15 + 0.35 * share(random);
    places.push_back({0.5 + r * std::cos(angle), 0.5 + r * std::sin(angle)});
  }
  std::vector<Ring> rings{ring_of(places)};
  for (int k = 0; k < 2; ++k)
    rings.push_back(round_ring({0.4 + 0.2 * share(random), 0.4 + 0.2 * share(random)}, 0.01 + 0.03 * share(random),
                               3 + static_cast<int>(random() % 5)));
  return rings;
}

}  // namespace

// Closed forms (elementary plane geometry).
TEST_CASE("the largest frame in a rectangle, a triangle and a disc is the known one") {
  const std::vector<Ring> room{box_ring(1, 2, 4, 3)};
  CHECK(width_of(room, {100, 100}) == Approx(3).margin(kTolerance));
  CHECK(width_of(room, {200, 100}) == Approx(4).margin(kTolerance));
  CHECK(width_of(room, {100, 200}) == Approx(1.5).margin(kTolerance));
  CHECK(width_of(room, {100, 200}, 90) == Approx(2).margin(kTolerance));
  // Square of side s turned by 45 degrees is s sqrt(2) wide and high.
  CHECK(width_of(room, {1, 1}, 45) == Approx(3 / std::sqrt(2.0)).margin(kTolerance));
  // Right triangle with legs a, b: the square in its corner has the side a b / (a + b).
  CHECK(width_of({ring_of({{0, 0}, {3, 0}, {0, 2}})}, {7, 7}) == Approx(6.0 / 5).margin(kTolerance));
  // A rectangle in a circle has the diameter as its diagonal, however it is turned.
  for (const double turn : {0.0, 17.0, 45.0, 110.0})
    CHECK(width_of({round_ring({5, 5}, 2, 5000)}, {300, 400}, turn) == Approx(4 * 0.6).margin(2 * kTolerance));
}

TEST_CASE("holes and parts that are taken are kept clear of") {
  // A 4 by 3 m room with a hole of 0.2 m in its middle: 1.9 m stay on either side, 3 m high.
  const std::vector<Ring> holed{box_ring(0, 0, 4, 3), box_ring(1.9, 1.4, 0.2, 0.2)};
  CHECK(width_of(holed, {1, 1}) == Approx(1.9).margin(kTolerance));
  // Two parts: the larger one counts. Parts that touch along a whole side are one.
  CHECK(width_of({box_ring(0, 0, 1, 1), box_ring(2, 0, 1.5, 1.5)}, {1, 1}) == Approx(1.5).margin(kTolerance));
  CHECK(width_of({}, {1, 1}) == 0);
  CHECK(width_of({box_ring(0, 0, 4, 5e-5)}, {1, 1}) == 0);
}

TEST_CASE("the largest frame lies in the area and none that is found by trying is larger") {
  std::mt19937 random(11);
  const double step = 0.02;
  for (int round = 0; round < 24; ++round) {
    const auto rings = random_area(random);
    const PictureSize size{1 + static_cast<int>(random() % 5), 1 + static_cast<int>(random() % 5)};
    const double aspect = static_cast<double>(size.width) / size.height;
    const double turn = round % 3 == 0 ? 0 : static_cast<double>(random() % 360);
    const auto frame = largest_frame(rings, size, turn, kTolerance);
    INFO(round << " " << aspect << " " << turn);
    REQUIRE(frame);
    CHECK(frame->height == Approx(frame->width / aspect));
    CHECK(frame->turn_deg == turn);
    CHECK(lies_in(rings, *frame, 1e-6));
    const double tried = by_trying(rings, aspect, turn, 1, step);
    CHECK(frame->width >= tried - kTolerance);
    // A middle within half a step each way costs at most that much of half the width or height.
    CHECK(tried >= frame->width - std::sqrt(2.0) * step * std::max(1.0, aspect) - kTolerance);
  }
}

TEST_CASE("the same area gives the same frame, and a rim of thousands of corners is searched") {
  const std::vector<Ring> rings{round_ring({3, 3}, 2.5, 20000), round_ring({3, 3}, 0.3, 5000)};
  const auto once = largest_frame(rings, {160, 90}, 12, kTolerance);
  REQUIRE(once);
  CHECK(*once == *largest_frame(rings, {160, 90}, 12, kTolerance));
}
