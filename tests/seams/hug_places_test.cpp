#include <array>
#include <catch2/catch.hpp>

#include "tests/seams/hug_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

// Clicks round the figure, each moved by up to `most` in any direction.
std::vector<ChartPoint> shaken(const Figure& figure, int count, double most, unsigned seed) {
  std::mt19937 rng(seed);
  std::uniform_real_distribution<double> share(0, 1);
  auto points = clicks(figure, count);
  for (auto& p : points) {
    const double angle = 2 * M_PI * share(rng), far = most * std::sqrt(share(rng));
    p = {p.u + far * std::cos(angle), p.v + far * std::sin(angle)};
  }
  return points;
}

// Sharpest turn of a closed line, in degrees, between its directions `step` before and after each place.
double sharpest_turn(const std::vector<ChartPoint>& line, double step) {
  std::vector<Vec2> walk;
  for (std::size_t k = 0; k < line.size(); ++k) {
    const Vec2 a = to_vec(line[k]), d = to_vec(line[(k + 1) % line.size()]) - a;
    const int parts = std::max(1, static_cast<int>(glm::length(d) / 0.0005));
    for (int s = 0; s < parts; ++s) walk.push_back(a + d * (static_cast<double>(s) / parts));
  }
  const auto reach = static_cast<std::size_t>(step / 0.0005);
  double most = 0;
  for (std::size_t k = 0; k < walk.size(); ++k) {
    const Vec2 in = walk[k] - walk[(k + walk.size() - reach) % walk.size()],
               out = walk[(k + reach) % walk.size()] - walk[k];
    most = std::max(most, std::acos(std::clamp(glm::dot(in, out) / (glm::length(in) * glm::length(out)), -1.0, 1.0)));
  }
  return most * 180 / M_PI;
}

// A dark line about the circle of radius `radius`.
Figure ring_of_line(Vec2 middle, double radius, double width) {
  Figure f = blob(middle, radius + width / 2);
  f.inside = [=](Vec2 p) { return std::abs(glm::length(p - middle) - radius) < width / 2; };
  return f;
}

}  // namespace

TEST_CASE("clicks jittered by up to 10 mm round a figure leave no notch") {
  const auto flat = flat_wall(1.2, 1), barrel = barrel_wall(1.4, 1.5, 0.7);
  const auto run = [](const WallRef& wall, Vec2 middle, double wave) {
    const auto figure = blob(middle, 0.28, wave);
    const auto ground = drawn_ground(wall, middle, 0.8, figure);
    std::vector<ChartPoint> outline;
    for (const auto& p : figure.outline) outline.push_back(to_chart(p));
    const double own = sharpest_turn(outline, 0.006);
    for (unsigned seed = 1; seed < 5; ++seed) {
      const auto line = hug(ground, shaken(figure, 12, 0.010, seed), true);
      REQUIRE(line.ok());
      const auto d = deviation(*wall, figure, line->line, true);
      const double turn = sharpest_turn(line->line, 0.006);
      CAPTURE(seed, wave, d.mean, d.most, turn, own);
      CHECK(d.most < 0.0015);
      CHECK(turn < own + 12);  // two pieces, each up to half a millimetre off in six
      CHECK(line->share() > 0.99);
      CHECK(find_self_crossing(ring_of(line->line)).first < 0);
    }
  };
  run(flat, {0.6, 0.5}, 0);
  run(flat, {0.6, 0.5}, 0.15);
  run(barrel, {0.7, 1.0}, 0.15);
}

TEST_CASE("clicks about equally near both edges of a dark line all land on the same edge") {
  const auto wall = flat_wall(1.2, 1);
  const Vec2 middle(0.6, 0.5);
  const auto ground = drawn_ground(wall, middle, 0.8, ring_of_line(middle, 0.28, 0.012));
  for (unsigned seed = 1; seed < 6; ++seed) {
    const auto line = hug(ground, shaken(blob(middle, 0.28), 14, 0.003, seed), true);
    REQUIRE(line.ok());
    const double inner = deviation(*wall, blob(middle, 0.274), line->line, true).most;
    const double outer = deviation(*wall, blob(middle, 0.286), line->line, true).most;
    CAPTURE(seed, inner, outer);
    CHECK(std::min(inner, outer) < 0.0015);
  }
}

TEST_CASE("so they do where the line is five pixels of the picture wide, light on one side and darker on the other") {
  const auto wall = flat_wall(1.2, 1);
  const Vec2 middle(0.6, 0.5);
  const PictureFrame frame{{0.2, 0.1}, 0.8, 0.8, 0};
  const auto line = ring_of_line(middle, 0.28, 0.012), disc = blob(middle, 0.28);
  auto image = drawn(frame, 320, 320, disc, {0.68, 0.75, 0.76}, {0.78, 0.62, 0.34});
  const auto dark = drawn(frame, 320, 320, line, Vec3(1), Vec3(0));
  const std::array<double, 3> brown{61, 43, 33};
  for (std::size_t k = 0; k < image.rgb.size(); ++k) {
    const double share = 1 - dark.rgb[k] / 255.0;
    image.rgb[k] = static_cast<std::uint8_t>(std::lround(image.rgb[k] * (1 - share) + brown[k % 3] * share));
  }
  const auto ground = ground_of(wall, std::make_shared<ContourField>(contour_field(*draped(wall, image, frame))));
  for (unsigned seed = 1; seed < 6; ++seed) {
    const auto hugged = hug(ground, shaken(disc, 14, 0.0015, seed), true);
    REQUIRE(hugged.ok());
    const double inner = deviation(*wall, blob(middle, 0.274), hugged->line, true).most;
    const double outer = deviation(*wall, blob(middle, 0.286), hugged->line, true).most;
    CAPTURE(seed, inner, outer);
    CHECK(std::min(inner, outer) < 0.0025);
  }
}

TEST_CASE("a click lands on a contour within its reach, and only there") {
  const auto wall = flat_wall(1.2, 1);
  const auto half = cornered({{-1, -1}, {0.6, -1}, {0.6, 3}, {-1, 3}});  // one straight edge at u = 0.6
  const auto ground = drawn_ground(wall, {0.6, 0.5}, 0.8, half);
  const std::vector<ChartPoint> points{{0.61, 0.3}, {0.593, 0.5}, {0.618, 0.7}};
  const auto line = hug(ground, points, false).value();
  CHECK(line.line.front().u == Approx(0.6).margin(0.0005));
  CHECK(line.line.front().v == Approx(0.3).margin(0.0005));
  CHECK(line.line.back() == points[2]);  // 18 mm away
  HugOptions exact, let_go, near;
  exact.snap_m = 0;
  let_go.reach_m = 0;
  near.snap_m = 0.009;
  for (const auto& p : points) CHECK(holds(hug(ground, points, false, exact)->line, p));
  CHECK(hug(ground, points, false, let_go)->line == points);
  CHECK(holds(hug(ground, points, false, near)->line, points[0]));
  CHECK_FALSE(holds(hug(ground, points, false, near)->line, points[1]));
}

TEST_CASE("a place that a click landed on stays") {
  const auto wall = flat_wall(1.2, 1);
  const auto figure = blob({0.6, 0.5}, 0.28, 0.2);
  const auto ground = drawn_ground(wall, {0.6, 0.5}, 0.8, figure);
  for (const auto& p : shaken(figure, 40, 0.01, 3)) {
    const auto landed = HugStroke(ground, p, {}).to(p).line.front();
    CHECK(distance_to(*wall, figure, landed) < 0.001);
    CHECK(HugStroke(ground, landed, {}).to(landed).line.front() == landed);
  }
}

TEST_CASE("strokes drawn one after another and the finished outline agree about where clicks land") {
  const auto wall = flat_wall(1.2, 1);
  const Vec2 middle(0.6, 0.5);
  for (const auto& figure : {blob(middle, 0.28, 0.15), ring_of_line(middle, 0.28, 0.012)}) {
    const auto ground = drawn_ground(wall, middle, 0.8, figure);
    const auto points = shaken(blob(middle, 0.28, figure.inside(middle) ? 0.15 : 0), 10, 0.004, 7);
    std::vector<ChartPoint> live;
    for (std::size_t k = 0; k + 1 <= points.size(); ++k) {
      HugStroke stroke(ground, live.empty() ? points[0] : live.back(), {}, live);
      const auto next = k + 1 < points.size() ? points[k + 1] : live.front();
      const auto part = stroke.to(next).line;
      if (!live.empty()) CHECK(part.front() == live.back());
      live.insert(live.end(), part.begin() + (live.empty() ? 0 : 1), part.end());
    }
    CHECK(live.back() == live.front());
    auto done = hug(ground, points, true)->line;
    done.push_back(done.front());
    CHECK(done.front() == live.front());
    CHECK(apart(live, done) < 0.0011);
    CHECK(apart(done, live) < 0.0011);
  }
}
