// Cameras against OpenCV 4.6 (Debian's libopencv-calib3d), with the same marks given to both.
#include <catch2/catch.hpp>
#include <cmath>
#include <opencv2/calib3d.hpp>

#include "tests/fixtures/photographs.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

struct Oracle {
  std::vector<cv::Point3d> places;
  std::vector<cv::Point2d> marks;
  cv::Mat lens, distortion;

  Oracle(const Camera& camera, const std::vector<SpacePoint>& points) {
    for (const SpacePoint& p : points) {
      places.emplace_back(p.place.x, p.place.y, p.place.z);
      marks.emplace_back(p.pixel.x, p.pixel.y);
    }
    lens = (cv::Mat_<double>(3, 3) << camera.focal_px, 0, camera.middle_px.x, 0, camera.focal_px, camera.middle_px.y, 0,
            0, 1);
    distortion = (cv::Mat_<double>(4, 1) << camera.k1, camera.k2, 0, 0);
  }
};

struct OraclePose {
  cv::Mat turn, shift;  // as solvePnP's rvec, tvec

  static OraclePose of(const Camera& c) {
    const cv::Mat rows = (cv::Mat_<double>(3, 3) << c.right.x, c.right.y, c.right.z, c.down.x, c.down.y, c.down.z,
                          c.ahead.x, c.ahead.y, c.ahead.z);
    OraclePose out;
    cv::Rodrigues(rows, out.turn);
    out.shift = -rows * (cv::Mat_<double>(3, 1) << c.eye.x, c.eye.y, c.eye.z);
    return out;
  }

  // In the building: the eye and the direction ahead.
  Vec3 eye() const {
    cv::Mat rows;
    cv::Rodrigues(turn, rows);
    const cv::Mat e = -rows.t() * shift;
    return {e.at<double>(0), e.at<double>(1), e.at<double>(2)};
  }
  Vec3 ahead() const {
    cv::Mat rows;
    cv::Rodrigues(turn, rows);
    return {rows.at<double>(2, 0), rows.at<double>(2, 1), rows.at<double>(2, 2)};
  }
};

double misfit_px(const Oracle& oracle, const OraclePose& pose) {
  std::vector<cv::Point2d> images;
  cv::projectPoints(oracle.places, pose.turn, pose.shift, oracle.lens, oracle.distortion, images);
  double sum = 0;
  for (std::size_t i = 0; i < images.size(); ++i) sum += (images[i] - oracle.marks[i]).dot(images[i] - oracle.marks[i]);
  return std::sqrt(sum / (2 * static_cast<double>(images.size())));
}

OraclePose solved(const Oracle& oracle) {
  OraclePose pose;
  cv::solvePnP(oracle.places, oracle.marks, oracle.lens, oracle.distortion, pose.turn, pose.shift, false,
               cv::SOLVEPNP_ITERATIVE);
  cv::solvePnPRefineLM(oracle.places, oracle.marks, oracle.lens, oracle.distortion, pose.turn, pose.shift,
                       cv::TermCriteria(cv::TermCriteria::EPS + cv::TermCriteria::COUNT, 200, 1e-15));
  return pose;
}

}  // namespace

TEST_CASE("images of places agree with projectPoints") {
  Random random(21);
  for (int k = 0; k < 200; ++k) {
    auto [camera, points] = next_photograph(kSurfaces[random.below(4)], 12, 0, random, true);
    camera.k2 = random.uniform(0, 0.05);
    const Oracle oracle(camera, points);
    const OraclePose pose = OraclePose::of(camera);
    std::vector<cv::Point2d> images;
    cv::projectPoints(oracle.places, pose.turn, pose.shift, oracle.lens, oracle.distortion, images);
    for (std::size_t i = 0; i < points.size(); ++i) {
      const auto pixel = project(camera, points[i].place);
      REQUIRE(pixel);
      CHECK(std::hypot(pixel->x - images[i].x, pixel->y - images[i].y) < 1e-8);
    }
  }
}

TEST_CASE("with a known lens the camera is solvePnP's, or one that fits better") {
  Random random(22);
  for (const Surface surface : {Surface::barrel, Surface::dome, Surface::flat})
    for (int k = 0; k < 100; ++k) {
      const auto [camera, points] = next_photograph(surface, 6 + random.below(15), 1, random, true);
      const Oracle oracle(camera, points);
      const OraclePose theirs = solved(oracle);
      const auto ours =
          fit_camera(kPhotograph, points, {.focal_px = camera.focal_px, .k1 = camera.k1, .k2 = camera.k2});
      REQUIRE(ours.ok());
      const double misfit = misfit_px(oracle, OraclePose::of(ours->cameras[0]));
      CHECK(ours->rms_px[0] == Approx(misfit).epsilon(1e-9));
      CHECK(misfit <= misfit_px(oracle, theirs) * (1 + 1e-6));
      if (misfit < misfit_px(oracle, theirs) * (1 - 1e-6)) continue;  // they went astray
      CHECK(glm::length(ours->cameras[0].eye - theirs.eye()) < 1e-4);
      CHECK(glm::length(ours->cameras[0].ahead - theirs.ahead()) < 1e-5);
    }
}

TEST_CASE("with an unknown lens the camera is calibrateCamera's, which is told the true one to begin from") {
  Random random(23);
  for (const Surface surface : kCurved)
    for (int k = 0; k < 40; ++k) {
      const auto [camera, points] = next_photograph(surface, 12, 1, random);
      const Oracle oracle(camera, points);
      std::vector<std::vector<cv::Point3f>> places(1);
      std::vector<std::vector<cv::Point2f>> marks(1);
      for (const auto& p : oracle.places) places[0].emplace_back(p);
      for (const auto& m : oracle.marks) marks[0].emplace_back(m);
      cv::Mat lens = oracle.lens.clone(), distortion = cv::Mat::zeros(4, 1, CV_64F);
      std::vector<cv::Mat> turns, shifts;
      const int flags = cv::CALIB_USE_INTRINSIC_GUESS | cv::CALIB_FIX_PRINCIPAL_POINT | cv::CALIB_FIX_ASPECT_RATIO |
                        cv::CALIB_ZERO_TANGENT_DIST | cv::CALIB_FIX_K1 | cv::CALIB_FIX_K2 | cv::CALIB_FIX_K3;
      const double rms = cv::calibrateCamera(places, marks, {4000, 3000}, lens, distortion, turns, shifts, flags,
                                             {cv::TermCriteria::EPS + cv::TermCriteria::COUNT, 300, 1e-15});
      const auto ours = fit_camera(kPhotograph, points, {.may_distort = false});
      REQUIRE(ours.ok());
      // Theirs is per point, ours per coordinate. Our guess of the lens is an observation among 25: below a
      // thousandth in the misfit.
      CHECK(ours->rms_px[0] * std::sqrt(2) <= rms * 1.001);
      CHECK(ours->cameras[0].focal_px == Approx(lens.at<double>(0, 0)).epsilon(0.003));
    }
}

TEST_CASE("both poses of a small flat panel are those of IPPE") {
  // Collins and Bartoli, "Infinitesimal plane-based pose estimation", 2014, as in OpenCV; each refined there.
  Random random(24);
  int both = 0;
  for (int k = 0; k < 50; ++k) {
    const double side = random.uniform(25, 50) * std::numbers::pi / 180;
    const Camera camera =
        eye_camera({8 * std::sin(side), -8 * std::cos(side), 0}, {0, 0, 0}, {0, 0, 1}, 20, kPhotograph).value();
    std::vector<SpacePoint> points;
    for (const Vec2 p : {Vec2(-1, -1), Vec2(1, -1), Vec2(1, 1), Vec2(-1, 1), Vec2(0, 0.2), Vec2(0.4, -0.3)}) {
      const Vec3 place(0.05 * p.x, 0.05 * p.y, 0);
      const double dx = 0.3 * chance(random), dy = 0.3 * chance(random);
      points.push_back({*project(camera, {place.x, 0, place.y}) + Vec2(dx, dy), place});
    }
    const Oracle oracle(camera, points);
    std::vector<cv::Mat> turns, shifts;
    cv::solvePnPGeneric(oracle.places, oracle.marks, oracle.lens, oracle.distortion, turns, shifts, false,
                        cv::SOLVEPNP_IPPE);
    REQUIRE(turns.size() == 2);
    const auto ours = fit_camera(kPhotograph, points, {.focal_px = camera.focal_px});
    REQUIRE(ours.ok());
    for (std::size_t i = 0; i < 2; ++i) {
      OraclePose pose{turns[i], shifts[i]};
      cv::solvePnPRefineLM(oracle.places, oracle.marks, oracle.lens, oracle.distortion, pose.turn, pose.shift,
                           cv::TermCriteria(cv::TermCriteria::EPS + cv::TermCriteria::COUNT, 500, 1e-15));
      if (misfit_px(oracle, pose) > 1.5 * ours->rms_px[0]) continue;  // told apart by the points
      double nearest = 1e9;
      for (const Camera& c : ours->cameras) nearest = std::min(nearest, glm::length(c.eye - pose.eye()));
      CHECK(nearest < 1e-3);
      both += i == 1;
    }
  }
  CHECK(both >= 8);  // with marks this good the others are told apart
}
