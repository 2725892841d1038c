// Flat views against an outside library and a printed example.
#include <catch2/catch.hpp>
#include <opencv2/calib3d.hpp>

#include "engine/picture/fit_homography.h"
#include "tests/fixtures/marked_photographs.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

Vec2 mapped(const Mat3& h, Vec2 p) {
  const Vec3 q = h * Vec3(p.x, p.y, 1);
  return {q.x / q.z, q.y / q.z};
}

// OpenCV takes its points in single precision: both get the same ones.
Vec2 single(Vec2 p) { return {static_cast<float>(p.x), static_cast<float>(p.y)}; }

// OpenCV 4.6, calib3d: linear solution, then least squares in the second points.
Mat3 by_opencv(const std::vector<PlanePair>& pairs) {
  std::vector<cv::Point2d> places, pixels;
  for (const auto& p : pairs) {
    places.emplace_back(p.place.x, p.place.y);
    pixels.emplace_back(p.pixel.x, p.pixel.y);
  }
  const cv::Mat h = cv::findHomography(places, pixels, 0);
  Mat3 out;
  for (int r = 0; r < 3; ++r)
    for (int c = 0; c < 3; ++c) out[c][r] = h.at<double>(r, c);
  return out;
}

}  // namespace

TEST_CASE("a flat view agrees with OpenCV within a millionth") {
  // Exact marks, or four points with noise: there both have but one answer. With noise OpenCV stops after ten steps of
  // its refinement, so there the least squares in pixels must be no more than what it reaches.
  Dice dice(21);
  const auto wall = flat_wall(5, 3.5);
  double worst_entry = 0, worst_px = 0, excess = 0;
  for (int k = 0; k < 200; ++k) {
    auto photo = flat_photo(wall, dice);
    photo.camera.k1 = 0;
    const std::size_t n = 4 + static_cast<std::size_t>(k) % 17;
    const bool noisy = n == 4 || k % 2 == 0;
    std::vector<PlanePair> pairs;
    for (const auto& m : marks(photo, n, noisy ? 1 : 0, dice))
      pairs.push_back({single(m.pixel), single(to_vec(m.place))});
    const auto fit = fit_homography(pairs);
    REQUIRE(fit.ok());
    const Mat3 other = by_opencv(pairs), ours = *fit / (*fit)[2][2];  // OpenCV: last entry 1
    double our_sum = 0, other_sum = 0;
    for (const auto& p : pairs) {
      const double here = glm::distance(mapped(ours, p.place), p.pixel);
      const double there = glm::distance(mapped(other, p.place), p.pixel);
      our_sum += here * here;
      other_sum += there * there;
      worst_px = std::max(worst_px, glm::distance(mapped(ours, p.place), mapped(other, p.place)));
    }
    excess = std::max(excess, our_sum - other_sum);
    if (noisy && n > 4) continue;
    for (int c = 0; c < 3; ++c)
      for (int r = 0; r < 3; ++r)
        worst_entry = std::max(worst_entry, std::abs(ours[c][r] - other[c][r]) / std::max(1.0, std::abs(other[c][r])));
  }
  CAPTURE(worst_entry, worst_px, excess);
  CHECK(worst_entry < 1e-6);
  CHECK(worst_px < 2e-3);
  CHECK(excess < 1e-6);
}

TEST_CASE("a flat view is that of a printed example of the two-dimensional projective transformation") {
  // Ghilani, "Adjustment Computations: Spatial Data Analysis", section 18.6: six points, eight parameters by least
  // squares. Quoted from memory; that the printed parameters come out to their last digit is the check of the
  // quotation.
  const std::vector<PlanePair> pairs{{{1420.407, -895.362}, {90, 90}},   {{895.887, -351.398}, {50, 40}},
                                     {{-944.926, -641.434}, {-30, 20}},  {{968.084, 1384.138}, {50, -40}},
                                     {{1993.262, 2367.511}, {110, -80}}, {{-3382.284, -3487.762}, {-100, 80}}};
  const auto fit = fit_homography(pairs);
  REQUIRE(fit.ok());
  const Mat3 h = *fit / (*fit)[2][2];  // columns; the example's Y runs up
  CHECK(h[0][0] == Approx(25.00274).margin(5e-6));
  CHECK(h[1][0] == Approx(0.80064).margin(5e-6));
  CHECK(h[2][0] == Approx(-134.715).margin(5e-4));
  CHECK(-h[0][1] == Approx(-8.00771).margin(5e-6));
  CHECK(-h[1][1] == Approx(24.99811).margin(5e-6));
  CHECK(-h[2][1] == Approx(-149.815).margin(5e-4));
}
