// The line shown while the pointer moves: it does not flip between ways about as good, and once the pointer rests it is
// the line that a click draws.
#include <catch2/catch.hpp>

#include "engine/seams/hug_guide.h"
#include "tests/seams/hug_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

// Over the middle or under it, where the line is about half way.
bool over(const HuggedLine& line, double middle) {
  double most = 0;
  for (const auto& p : line.line)
    if (std::abs(p.v - middle) > std::abs(most)) most = p.v - middle;
  return most > 0;
}

struct Round {
  static constexpr double kRadius = 0.15;
  WallRef wall = flat_wall(1, 1);
  Figure figure = blob({0.5, 0.5}, kRadius);
  std::shared_ptr<HugGround> ground = drawn_ground(wall, {0.5, 0.5}, 0.8, figure);
  HugOptions options;
  Round() { options.reach_m = 0.3; }
  static ChartPoint at(double degrees, double off = 0) {
    const double a = degrees * M_PI / 180;
    return {0.5 + (kRadius + off) * std::cos(a), 0.5 + (kRadius + off) * std::sin(a)};
  }
};

}  // namespace

TEST_CASE("between two ways round a disc a shaking pointer keeps the one shown; a way clearly shorter is taken") {
  const Round r;
  HugStroke stroke(r.ground, Round::at(180), r.options);
  const bool first = over(stroke.preview(Round::at(10)), 0.5);
  CHECK(first);
  std::mt19937 rng(9);
  std::uniform_real_distribution<double> shake(-1.5, 1.5);
  int flips = 0, exact_flips = 0;
  for (int k = 0; k < 60; ++k) {
    const ChartPoint p = Round::at(shake(rng), 0.001 * shake(rng));
    flips += over(stroke.preview(p), 0.5) != first;
    exact_flips += over(HugStroke(r.ground, Round::at(180), r.options).to(p), 0.5) != first;
  }
  CHECK(flips == 0);
  CHECK(exact_flips > 5);  // without keeping it would have flipped
  // At -15 degrees over the top costs 195 / 165 = 1.18 times as much as under the bottom: more than keep_share.
  CHECK_FALSE(over(stroke.preview(Round::at(-15)), 0.5));
  CHECK_FALSE(over(stroke.preview(Round::at(1)), 0.5));  // and now that one stays
  CHECK(over(stroke.preview(Round::at(15)), 0.5));
}

TEST_CASE("when the pointer rests the line is the one a click draws, whatever was shown before, and it stays") {
  const Round r;
  HugStroke moved(r.ground, Round::at(180), r.options);
  for (double a = 170; a > -4; a -= 3) moved.preview(Round::at(a));
  CHECK(over(moved.preview(Round::at(-2)), 0.5));
  const ChartPoint rest = Round::at(-4);
  const auto drawn = HugStroke(r.ground, Round::at(180), r.options).to(rest);
  const auto settled = moved.to(rest);
  CHECK_FALSE(over(settled, 0.5));
  CHECK(settled.line == drawn.line);
  CHECK(settled.cost_m == drawn.cost_m);
  CHECK(hug(r.ground, std::vector<ChartPoint>{Round::at(180), rest}, false, r.options)->cost_m ==
        Approx(drawn.cost_m).epsilon(1e-6));
  CHECK(moved.preview(rest).line == settled.line);
  CHECK_FALSE(over(moved.preview(Round::at(2)), 0.5));
}

TEST_CASE("strokes over one guide draw the same lines as each over its own") {
  const auto ground = busy_ground(flat_wall(1, 1), {0.5, 0.5}, 0.96, 8);
  const auto guide = std::make_shared<HugGuide>(ground, HugOptions{});
  std::mt19937 rng(4);
  std::uniform_real_distribution<double> spread(0.1, 0.9);
  for (int k = 0; k < 6; ++k) {
    const ChartPoint a{spread(rng), spread(rng)}, b{spread(rng), spread(rng)};
    HugStroke shared(guide, a), own(ground, a, {});
    CHECK(shared.preview(b).line == own.preview(b).line);
    CHECK(shared.to(b).line == own.to(b).line);
  }
}

TEST_CASE("a stroke that is stopped is straight, and asks no more of the picture") {
  const Round r;
  Progress stopped;
  stopped.cancelled = true;
  HugStroke stroke(r.ground, Round::at(180), r.options);
  CHECK(stroke.to(Round::at(90), &stopped).hugged_m == 0);
  CHECK(stroke.preview(Round::at(90), &stopped).hugged_m == 0);
  CHECK(stroke.to(Round::at(90)).share() > 0.9);
}
