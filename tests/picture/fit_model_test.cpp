// The models that pictures are set by, each against its closed form or another way of solving it.
#include <Eigen/Dense>
#include <catch2/catch.hpp>
#include <complex>

#include "engine/picture/fit_checks.h"
#include "engine/picture/fit_homography.h"
#include "engine/picture/fit_similarity.h"
#include "engine/picture/fit_thin_plate.h"
#include "engine/picture/flatness.h"
#include "tests/fixtures/marked_photographs.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

const PictureSize kPicture{640, 480};

std::vector<Vec2> random_points(std::size_t n, double size, Dice& dice) {
  std::vector<Vec2> out;
  for (std::size_t k = 0; k < n; ++k) out.emplace_back(dice.uniform(0, size), dice.uniform(0, size));
  return out;
}

double squares(const PictureFrame& frame, std::span<const PlanePair> pairs) {
  double sum = 0;
  for (const auto& p : pairs) {
    const Vec2 off = to_pixel(frame, kPicture, to_chart(p.place)) - p.pixel;
    sum += glm::dot(off, off);
  }
  return sum;
}

Vec2 mapped(const Mat3& h, Vec2 p) {
  const Vec3 q = h * Vec3(p.x, p.y, 1);
  return {q.x / q.z, q.y / q.z};
}

}  // namespace

TEST_CASE("size, place and turn of a picture come back from its points") {
  Dice dice(1);
  for (int k = 0; k < 200; ++k) {
    const double width = dice.uniform(0.5, 6);
    const PictureFrame frame{
        {dice.uniform(-3, 3), dice.uniform(-3, 3)}, width, width * 480 / 640, dice.uniform(-179, 179)};
    std::vector<PlanePair> pairs;
    for (const Vec2& pixel : random_points(2 + static_cast<std::size_t>(k) % 6, 480, dice))
      pairs.push_back({pixel, to_vec(from_pixel(frame, kPicture, pixel))});
    const auto fit = fit_similarity(kPicture, pairs);
    REQUIRE(fit.ok());
    CHECK(fit->at.u == Approx(frame.at.u).margin(1e-9));
    CHECK(fit->at.v == Approx(frame.at.v).margin(1e-9));
    CHECK(fit->width == Approx(frame.width).epsilon(1e-10));
    CHECK(fit->height == Approx(frame.height).epsilon(1e-10));
    CHECK(fit->turn_deg == Approx(frame.turn_deg).margin(1e-7));
  }
}

TEST_CASE("size, place and turn are those of Umeyama's closed form") {
  // Umeyama 1991, eqs. 38 to 43, by singular values; Eigen's own umeyama() stands in for a second hand at it.
  Dice dice(2);
  for (int k = 0; k < 50; ++k) {
    std::vector<PlanePair> pairs;
    Eigen::Matrix2Xd from(2, 7), to(2, 7);
    for (Eigen::Index i = 0; i < 7; ++i) {
      const Vec2 place(dice.uniform(0, 4), dice.uniform(0, 3));
      const Vec2 pixel(100 * place.x + 30 * dice.normal(), 400 - 100 * place.y + 30 * dice.normal());
      pairs.push_back({pixel, place});
      from.col(i) << place.x, place.y;
      to.col(i) << pixel.x, -pixel.y;
    }
    const Eigen::Matrix3d t = Eigen::umeyama(from, to, true);
    const auto fit = fit_similarity(kPicture, pairs);
    REQUIRE(fit.ok());
    const Vec2 probe(1.7, 0.4);
    const Eigen::Vector3d there = t * Eigen::Vector3d(probe.x, probe.y, 1);
    const Vec2 here = to_pixel(*fit, kPicture, to_chart(probe));
    CHECK(here.x == Approx(there.x()).margin(1e-8));
    CHECK(here.y == Approx(-there.y()).margin(1e-8));
    // No neighbour is better.
    const double best = squares(*fit, pairs);
    for (const double d : {-1e-3, 1e-3}) {
      auto wider = *fit, turned = *fit, moved = *fit;
      wider.width *= 1 + d;
      wider.height *= 1 + d;
      turned.turn_deg += 10 * d;
      moved.at.u += d;
      CHECK(squares(wider, pairs) > best);
      CHECK(squares(turned, pairs) > best);
      CHECK(squares(moved, pairs) > best);
    }
  }
}

TEST_CASE("points of a mirrored picture are known, those of a flat view are not taken for one") {
  Dice dice(3);
  for (int k = 0; k < 100; ++k) {
    std::vector<PlanePair> straight, mirrored;
    for (const Vec2& pixel : random_points(6, 480, dice)) {
      const Vec2 place(pixel.x / 100 + 0.01 * dice.normal(), (480 - pixel.y) / 100);
      straight.push_back({pixel, place});
      mirrored.push_back({{640 - pixel.x, pixel.y}, place});
    }
    CHECK_FALSE(looks_mirrored(straight));
    CHECK(looks_mirrored(mirrored));
  }
}

TEST_CASE("four corners of the unit square give the closed form of Heckbert") {
  // Heckbert, "Fundamentals of Texture Mapping and Image Warping", 1989, section 2.2.3, case of the square to a
  // quadrilateral (from memory; the four corners check it).
  Dice dice(4);
  for (int k = 0; k < 100; ++k) {
    const Vec2 p0(dice.uniform(0, 100), dice.uniform(300, 400)), p1(dice.uniform(300, 400), dice.uniform(300, 400)),
        p2(dice.uniform(300, 400), dice.uniform(0, 100)), p3(dice.uniform(0, 100), dice.uniform(0, 100));
    const Vec2 d1 = p1 - p2, d2 = p3 - p2, s = p0 - p1 + p2 - p3;
    const double den = cross2(d1, d2), g = cross2(s, d2) / den, h = cross2(d1, s) / den;
    const auto closed = [&](Vec2 p) {
      const Vec2 a = p1 - p0 + g * p1, b = p3 - p0 + h * p3;
      return (a * p.x + b * p.y + p0) / (g * p.x + h * p.y + 1);
    };
    const auto fit = fit_homography(std::vector<PlanePair>{{p0, {0, 0}}, {p1, {1, 0}}, {p2, {1, 1}}, {p3, {0, 1}}});
    REQUIRE(fit.ok());
    for (const Vec2& p : random_points(5, 1, dice)) CHECK(glm::distance(mapped(*fit, p), closed(p)) < 1e-8);
  }
}

TEST_CASE("a flat view is the least squares in pixels: no neighbour is better") {
  Dice dice(5);
  const auto wall = flat_wall(5, 3.5);
  for (int k = 0; k < 20; ++k) {
    auto photo = flat_photo(wall, dice);
    std::vector<PlanePair> pairs;
    for (const auto& m : marks(photo, 9, 3, dice)) pairs.push_back({m.pixel, to_vec(m.place)});
    const auto fit = fit_homography(pairs);
    REQUIRE(fit.ok());
    const auto sum = [&](const Mat3& h) {
      double total = 0;
      for (const auto& p : pairs) {
        const Vec2 off = mapped(h, p.place) - p.pixel;
        total += glm::dot(off, off);
      }
      return total;
    };
    const double best = sum(*fit);
    for (int c = 0; c < 3; ++c)
      for (int r = 0; r < 3; ++r)
        for (const double d : {-1e-5, 1e-5}) {
          Mat3 other = *fit;
          other[c][r] *= 1 + d;
          CHECK(sum(other) >= best * (1 - 1e-12));
        }
  }
}

TEST_CASE("points that fix no flat view are refused") {
  using Pairs = std::vector<PlanePair>;
  // Three of four on a line.
  CHECK_FALSE(
      fit_homography(Pairs{{{0, 0}, {0, 0}}, {{100, 0}, {1, 0}}, {{200, 0}, {2, 0}}, {{100, -90}, {1, 1}}}).ok());
  // All but one of six on a line.
  CHECK_FALSE(fit_homography(Pairs{{{0, 0}, {0, 0}},
                                   {{100, 0}, {1, 0}},
                                   {{200, 0}, {2, 0}},
                                   {{300, 0}, {3, 0}},
                                   {{400, 0}, {4, 0}},
                                   {{100, -90}, {1, 1}}})
                  .ok());
  // Mirrored.
  CHECK_FALSE(fit_homography(Pairs{{{0, 0}, {0, 0}}, {{1, 0}, {1, 0}}, {{1, 1}, {1, 1}}, {{0, 1}, {0, 1}}}).ok());
  // A corner drawn inside the others: no view from before the wall.
  CHECK_FALSE(fit_homography(Pairs{{{0, 3}, {0, 0}}, {{3, 3}, {1, 0}}, {{1, 2}, {1, 1}}, {{0, 0}, {0, 1}}}).ok());
  CHECK_FALSE(fit_homography(Pairs{{{0, 3}, {0, 0}}, {{3, 3}, {1, 0}}, {{1, 2}, {1, 1}}}).ok());
}

TEST_CASE("a thin plate without stiffness goes through every point and solves the whole system of Bookstein") {
  // Bookstein 1989: [K P; P' 0] [w; a] = [v; 0], solved here at once by Gauss.
  Dice dice(6);
  for (const double stiffness : {0.0, 0.3}) {
    const auto centres = random_points(12, 2000, dice), wanted = random_points(12, 30, dice);
    const auto plate = smoothed_plate(centres, wanted, stiffness);
    REQUIRE(plate.centres.size() == 12);
    Eigen::MatrixXd system = Eigen::MatrixXd::Zero(15, 15), right = Eigen::MatrixXd::Zero(15, 2);
    const auto kernel = [&](Vec2 a, Vec2 b) {
      const double r = glm::distance(a, b) / plate.scale_px;
      return r > 0 ? r * r * std::log(r) : 0.0;
    };
    for (Eigen::Index i = 0; i < 12; ++i) {
      const Vec2 c = centres[static_cast<std::size_t>(i)];
      for (Eigen::Index j = 0; j < 12; ++j) system(i, j) = kernel(c, centres[static_cast<std::size_t>(j)]);
      system(i, i) += stiffness;
      system.row(i).tail(3) << 1, c.x / plate.scale_px, c.y / plate.scale_px;
      system.col(i).tail(3) = system.row(i).tail(3);
      right.row(i) << wanted[static_cast<std::size_t>(i)].x, wanted[static_cast<std::size_t>(i)].y;
    }
    const Eigen::MatrixXd solved = system.fullPivLu().solve(right);
    for (const Vec2& p : random_points(10, 2000, dice)) {
      Eigen::RowVectorXd basis(15);
      for (Eigen::Index j = 0; j < 12; ++j) basis[j] = kernel(p, centres[static_cast<std::size_t>(j)]);
      basis.tail(3) << 1, p.x / plate.scale_px, p.y / plate.scale_px;
      const Eigen::RowVectorXd value = basis * solved;
      CHECK(plate.at(p).x == Approx(value[0]).margin(1e-7));
      CHECK(plate.at(p).y == Approx(value[1]).margin(1e-7));
    }
    double through = 0;
    for (std::size_t i = 0; i < 12; ++i) through = std::max(through, glm::distance(plate.at(centres[i]), wanted[i]));
    CHECK((stiffness == 0 ? through < 1e-8 : through > 1));
  }
}

TEST_CASE("the stiffer a thin plate, the nearer it is to an affine map") {
  Dice dice(7);
  const auto centres = random_points(15, 1000, dice), wanted = random_points(15, 20, dice);
  double before = 1e300;
  for (const double stiffness : {1e-3, 1e-1, 1e1, 1e3, 1e5}) {
    double bending = 0;
    for (const Vec2& w : smoothed_plate(centres, wanted, stiffness).weights) bending += glm::length(w);
    CHECK(bending < before);
    before = bending;
  }
  CHECK(before < 1e-2);
}

TEST_CASE("a smooth error earns a thin plate, noise alone does not") {
  Dice dice(8);
  int earned = 0, by_chance = 0;
  for (int k = 0; k < 200; ++k) {
    const auto centres = random_points(16, 1000, dice);
    std::vector<Vec2> noise, swell;
    for (const Vec2& c : centres) {
      noise.emplace_back(dice.normal(), dice.normal());
      swell.push_back(noise.back() + 8.0 * Vec2(std::sin(c.x / 250), std::cos(c.y / 300)));
    }
    earned += !earned_plate(centres, swell).centres.empty();
    by_chance += !earned_plate(centres, noise).centres.empty();
  }
  CAPTURE(earned, by_chance);
  CHECK(earned >= 190);
  CHECK(by_chance <= 10);
}

TEST_CASE("centres that fix nothing get no thin plate") {
  std::vector<Vec2> line, wanted;
  for (int k = 0; k < 9; ++k) {
    line.emplace_back(10 * k, 20 * k);
    wanted.emplace_back(k % 2, k % 3);
  }
  CHECK(earned_plate(line, wanted).centres.empty());
  CHECK(smoothed_plate(line, wanted, 1).centres.empty());
  CHECK(smoothed_plate({}, {}, 1).centres.empty());
}

TEST_CASE("the tail of F with two degrees over many is that of printed tables") {
  // Upper 5 % and 1 % points of F(2, m): m = 4: 6.94, 18.00; m = 10: 4.10, 7.56; m = 20: 3.49, 5.85. Printed in most
  // books of statistics, e.g. Snedecor & Cochran, "Statistical Methods" (from memory).
  for (const auto& [m, five, one] : {std::tuple{4, 6.94, 18.00}, {10, 4.10, 7.56}, {20, 3.49, 5.85}}) {
    CHECK(tail_of_f2(five, m) == Approx(0.05).epsilon(0.01));
    CHECK(tail_of_f2(one, m) == Approx(0.01).epsilon(0.01));
  }
}

TEST_CASE("outline and breadth of points") {
  const std::vector<Vec2> square{{0, 0}, {2, 0}, {1, 1}, {2, 2}, {0, 2}, {0.5, 1.5}};
  CHECK(outline_area(square) == Approx(4));
  CHECK(outline_area(std::vector<Vec2>{{0, 0}, {1, 1}}) == 0);
  CHECK(breadth(std::vector<Vec2>{{0, 0}, {1, 1}, {3, 3}}) == Approx(0).margin(1e-7));
  CHECK(breadth(std::vector<Vec2>{{0, 0}, {1, 0}, {1, 1}, {0, 1}}) == Approx(1));
  CHECK(part_of_picture({100, 80}, std::vector<Vec2>{{10, 10}, {40, 30}}) == "the upper left");
  CHECK(part_of_picture({100, 80}, std::vector<Vec2>{{60, 10}, {90, 70}}) == "the right half");
  CHECK(part_of_picture({100, 80}, std::vector<Vec2>{{10, 10}, {90, 70}}).empty());
}

TEST_CASE("flat walls are known as such, others are not") {
  CHECK(lies_flat(*flat_wall(5, 3)));
  CHECK(lies_flat(*built(flat_spec(5, 3), 0, {{1, 2, 3}, 37})));
  CHECK(lies_flat(*built({.kind = ShapeKind::lunette, .span = 4, .rise = 2})));
  CHECK_FALSE(lies_flat(*barrel_wall(4, 6, 2)));
  CHECK_FALSE(lies_flat(*barrel_wall(4, 6, 0.05)));
  CHECK_FALSE(lies_flat(*dome_wall(6, 0.1)));
}
