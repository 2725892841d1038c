// Directions of a scanned surface, smoothed.
#include "tests/wall/scan_checks.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;

}  // namespace

TEST_CASE("smoothing keeps of a wave what its length allows") {
  // Two backward Euler steps of the heat flow: (1 + s k^2)^-2 with s = (w / 2 pi)^2 / 2; in closed form (2/3)^2 at the
  // wavelength itself, (1/9)^2 at a quarter of it, (32/33)^2 at four times.
  const double w = 0.060;
  const auto left = [&](double length) {
    const double k = 2 * kPi / length;
    const Sheet wave = grid_sheet(600, 40, [&](double s, double t) {
      return Vec3{8 * length * s, 0.001 * length * std::sin(k * 8 * length * s), 0.3 * length * t};
    });
    const auto normals = smoothed_normals(wave.points, wave.triangles, w);
    double most = 0;
    for (std::size_t i = 150; i <= 450; ++i) most = std::max(most, std::abs(normals[20 * 601 + i].x));
    return most / (0.001 * length * k);
  };
  CHECK(left(w) == Approx(4.0 / 9).epsilon(0.01));
  CHECK(left(w / 4) == Approx(1.0 / 81).epsilon(0.02));
  CHECK(left(4 * w) == Approx(1024.0 / 1089).epsilon(0.01));
}

TEST_CASE("smoothed normals of a rough wall lie near the wall's own, and of a dome on its radii") {
  Dice dice(3);
  const Sheet wall = grid_sheet(100, 100, [&](double s, double t) {
    return Vec3{s, dice.between(-0.002, 0.002), t};  // 1 m, points every 10 mm, 2 mm of noise
  });
  const auto tilt = [](const std::vector<Vec3>& normals) {
    double sum = 0;
    for (const Vec3& n : normals) sum += std::acos(std::min(1.0, -n.y));
    return sum / static_cast<double>(normals.size());
  };
  const double raw = tilt(smoothed_normals(wall.points, wall.triangles, 0));
  CHECK(raw > 0.08);
  CHECK(tilt(smoothed_normals(wall.points, wall.triangles, 0.060)) < raw / 3);
  CHECK(tilt(smoothed_normals(wall.points, wall.triangles, 0.240)) < raw / 10);
  const Sheet dome = cap_sheet(3, 1.0, 60);
  const auto normals = smoothed_normals(dome.points, dome.triangles, 0.060);
  double worst = 0;
  for (std::size_t i = 0; i < normals.size(); ++i)
    worst = std::max(worst, glm::length(normals[i] + dome.points[i] / 3.0));
  CHECK(worst < 0.02);  // at the rim half the neighbours are missing
}

TEST_CASE("iterative and direct smoothing agree") {
  Dice dice(5);
  // 250 x 250 points are above the limit of the direct solve, the quarter is below: inside they must agree.
  const auto rough = [&](int n) {
    return grid_sheet(n, n, [](double s, double t) {
      return Vec3{s, 0.002 * std::sin(900 * s) * std::cos(700 * t), t};
    });
  };
  const Sheet big = rough(250);
  Sheet quarter;
  quarter = grid_sheet(200, 200, [](double s, double t) {
    return Vec3{0.8 * s, 0.002 * std::sin(720 * s) * std::cos(560 * t), 0.8 * t};
  });
  const auto a = smoothed_normals(big.points, big.triangles, 0.060);
  const auto b = smoothed_normals(quarter.points, quarter.triangles, 0.060);
  double worst = 0;
  for (int j = 0; j < 100; ++j)
    for (int i = 0; i < 100; ++i)
      worst = std::max(
          worst, glm::length(a[static_cast<std::size_t>(j * 251 + i)] - b[static_cast<std::size_t>(j * 201 + i)]));
  CHECK(worst < 1e-4);
}
