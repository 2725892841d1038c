// Arrises, ridges and creases of walls whose shape is known.
#include "engine/chart/ribs.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "engine/chart/parameterise.h"
#include "tests/fixtures/noisy_scans.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;

double length_on(const ChartedWall& wall, const std::vector<ChartPoint>& line) {
  double sum = 0;
  for (std::size_t k = 0; k + 1 < line.size(); ++k)
    sum += glm::length(wall.position(line[k]).value() - wall.position(line[k + 1]).value());
  return sum;
}

ShapeSpec vault(ShapeKind kind, double span, double length, double rise) {
  return {.kind = kind, .span = span, .length = length, .rise = rise};
}

// Three planes at right angles or flatter: a sheet over 0 <= s <= 1.2 folded up by `degrees` at s = 0.4 and at 0.8.
constexpr double kFolds[2] = {0.4, 0.8};
Piece folded(double degrees) {
  Piece p = blank_piece("niche", 1.2, 1.0);
  const double a = degrees * kPi / 180;
  p.place = [=](double s, double t) {
    const double flat = std::min(s, kFolds[0]), first = std::clamp(s - kFolds[0], 0.0, kFolds[1] - kFolds[0]),
                 second = std::max(0.0, s - kFolds[1]);
    return Vec3{flat + first * std::cos(a) + second * std::cos(2 * a), -first * std::sin(a) - second * std::sin(2 * a),
                t};
  };
  return p;
}

// The scanned piece over its own (s, t): irregular triangles none of whose sides keep to the folds.
WallRef scanned(const Piece& piece, double step, double noise, std::uint64_t seed) {
  const Piece plane = [&] {
    Piece p = blank_piece("plane", piece.width, piece.height);
    p.place = [](double s, double t) { return Vec3{s, t, 0}; };
    return p;
  }();
  const Sheet at = noisy_scan(plane, step, 0, seed), sheet = noisy_scan(piece, step, noise, seed);
  SurfaceMesh mesh;
  std::vector<Vec2> address;
  for (const auto& p : at.points) address.push_back({p.x, p.y});
  mesh.points = sheet.points;
  mesh.triangles = mesh.corner_normals = sheet.triangles;
  mesh.normals = smoothed_normals(mesh.points, mesh.triangles, 0.060);
  return chart_wall(std::make_shared<const SurfaceMesh>(std::move(mesh)), address, piece.name, true).value();
}

}  // namespace

TEST_CASE("the arrises of groins and the ridges of cloisters lie over the diagonals") {
  // Over x = span/2 sin a', scaled to the plan, the two webs' normals turn by phi with cos phi = cos^2 a on a square
  // plan (tests/chart/arris_test.cpp); the lines begin where phi is 10 degrees and run to the foot.
  for (const auto kind : {ShapeKind::groin, ShapeKind::cloister}) {
    for (const auto& [span, length, rise] : {std::array{4.0, 4.0, 2.0}, std::array{4.0, 7.0, 1.2}}) {
      const auto wall = built(vault(kind, span, length, rise));
      const auto ribs = find_ribs(*wall);
      CAPTURE(static_cast<int>(kind), span, length, rise);
      REQUIRE(ribs->lines.size() == 4);
      Vec3 low{1e9, 1e9, 1e9}, high = -low;
      for (const auto& p : wall->mesh().points) low = glm::min(low, p), high = glm::max(high, p);
      const Vec3 middle = 0.5 * (low + high), half = 0.5 * (high - low);
      const bool along_x = half.x > half.y;
      const double hx = 0.5 * (along_x ? length : span), hy = 0.5 * (along_x ? span : length);
      for (const auto& line : ribs->lines) {
        for (const auto& p : line) {
          const Vec3 at = wall->position(p).value() - middle;
          CHECK(std::abs(std::abs(at.x / hx) - std::abs(at.y / hy)) < 1e-6);
        }
      }
      if (length != span) continue;
      // dL = r sqrt(1 + cos^2 a) da from the angle whose phi is 10 degrees.
      const double begin = std::acos(std::sqrt(std::cos(10 * kPi / 180)));
      double arc = 0;
      constexpr int n = 10000;
      for (int k = 0; k < n; ++k) {
        const double a = begin + (kPi / 2 - begin) * (k + 0.5) / n;
        arc += 2 * std::sqrt(1 + std::cos(a) * std::cos(a)) * (kPi / 2 - begin) / n;
      }
      for (const auto& line : ribs->lines) CHECK(length_on(*wall, line) == Approx(arc).margin(0.06));
    }
  }
}

TEST_CASE("smooth walls have no ribs") {
  for (const auto& wall : {flat_wall(2, 1), barrel_wall(4, 6, 2, 1e-3), dome_wall(4, 2, 1e-3), apse_wall(3, 1.5, 1e-3),
                           built({.kind = ShapeKind::drum, .height = 2, .span = 4, .angle_deg = 360}, 1e-3)})
    CHECK(find_ribs(*wall)->lines.empty());
}

TEST_CASE("a scanned niche has its creases, and a scan's noise is none") {
  struct Case {
    double degrees, step, noise;
    std::size_t folds;
  };
  for (const auto& c :
       {Case{90, 0.015, 0.001, 2}, Case{90, 0.006, 0.0005, 2}, Case{60, 0.020, 0.001, 2}, Case{45, 0.020, 0, 2},
        Case{90, 0.020, 0, 2}, Case{0, 0.015, 0.001, 0}, Case{0, 0.006, 0.001, 0}, Case{8, 0.020, 0, 0}}) {
    const auto wall = scanned(folded(c.degrees), c.step, c.noise, 7);
    const auto ribs = find_ribs(*wall);
    CAPTURE(c.degrees, c.step, c.noise, ribs->lines.size());
    double length[2] = {0, 0};
    for (const auto& line : ribs->lines) {
      for (std::size_t k = 0; k < line.size(); ++k) {
        const std::size_t fold = std::abs(line[k].u - kFolds[0]) < std::abs(line[k].u - kFolds[1]) ? 0 : 1;
        REQUIRE(std::abs(line[k].u - kFolds[fold]) < 1.1 * c.step);  // within the triangles that the fold runs through
        if (k > 0) length[fold] += glm::length(to_vec(line[k]) - to_vec(line[k - 1]));
      }
    }
    CHECK(ribs->lines.size() <= 3 * c.folds);
    for (const double m : length) CHECK(m == (c.folds == 0 ? Approx(0).margin(1e-9) : Approx(1).epsilon(0.15)));
  }
}

TEST_CASE("a scanned cylinder and sphere have no ribs") {
  CHECK(find_ribs(*scanned(cylinder_piece(0.5, 1, 1), 0.012, 0.001, 3))->lines.empty());
  CHECK(find_ribs(*scanned(sphere_piece(1, 1, 1), 0.012, 0.001, 4))->lines.empty());
}
