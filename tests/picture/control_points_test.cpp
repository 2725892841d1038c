// Pictures set by control points on synthetic photographs of known walls: 4000 x 3000 px with 4.8 m across, so that a
// pixel is 1.2 mm where the wall is met squarely.
#include "engine/picture/control_points.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include "engine/picture/fit_thin_plate.h"
#include "tests/fixtures/marked_photographs.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

using MakePhoto = Photo (*)(const WallRef&, Dice&);
struct Scene {
  const char* name;
  WallRef wall;
  MakePhoto photo;
};
std::vector<Scene> scenes() {
  return {{"barrel", barrel_wall(4, 5, 2, 5e-4), barrel_photo},
          {"dome", dome_wall(5, 2, 5e-4), dome_photo},
          {"flat", flat_wall(5, 3.5), flat_photo}};
}

// Root mean square px between the setting and the true camera, at places spread over the photograph.
double true_error(const Photo& photo, const Fitted& fit, Dice& dice) {
  double sum = 0;
  const auto checks = marks(photo, 20, 0, dice);
  for (const auto& check : checks) {
    const auto at = pixel_at(fit.lay, fit.plate, photo.picture, check.place, *photo.wall->position(check.place));
    REQUIRE(at);
    sum += glm::dot(*at - check.pixel, *at - check.pixel);
  }
  return std::sqrt(sum / static_cast<double>(checks.size()));
}

double part(std::vector<double> v, double p) {
  std::sort(v.begin(), v.end());
  return v[static_cast<std::size_t>(p * static_cast<double>(v.size() - 1))];
}

bool told(const std::vector<std::string>& words, const std::string& part) {
  return std::any_of(words.begin(), words.end(),
                     [&](const std::string& w) { return w.find(part) != std::string::npos; });
}

bool same(const Fitted& a, const Fitted& b) {
  return a.lay == b.lay && a.plate == b.plate && a.report.likely->px == b.report.likely->px &&
         a.report.likely->mm == b.report.likely->mm;
}

std::string refusal(const ChartedWall& wall, PictureSize picture, const std::vector<ControlPoint>& points,
                    const FitOptions& options = {}) {
  const auto fit = fit_picture(wall, picture, points, options);
  REQUIRE_FALSE(fit.ok());
  return fit.problem().message();
}

// Points of a picture laid by a frame, shifted by a function of the pixel.
template <class F>
std::vector<ControlPoint> laid(const PictureFrame& frame, PictureSize picture, std::size_t n, Dice& dice,
                               const F& off) {
  std::vector<ControlPoint> out;
  while (out.size() < n) {
    const Vec2 pixel(dice.uniform(0, picture.width), dice.uniform(0, picture.height));
    const bool near = std::any_of(out.begin(), out.end(), [&](const ControlPoint& p) {
      return glm::distance(p.pixel, pixel) < picture.width / 10.0;
    });
    if (!near) out.push_back({pixel + off(pixel), from_pixel(frame, picture, pixel)});
  }
  return out;
}

const PictureSize kPhoto{kPhotoWidth, kPhotoHeight};
const PictureFrame kFrame{{0.4, 0.3}, 4, 3, 2};

}  // namespace

TEST_CASE("twelve points with 1 px of noise: left-out points are foretold within 2 mm a coordinate") {
  // A coordinate's error is the distance's over sqrt 2; noise of the left-out point itself is part of it, 1 px = 1.2 mm
  // where the wall is met squarely and more where it is seen at an angle.
  Dice dice(31);
  for (const auto& scene : scenes()) {
    std::vector<double> px, mm, truth;
    for (int k = 0; k < 30; ++k) {
      const auto photo = scene.photo(scene.wall, dice);
      const auto points = marks(photo, 12, 1, dice);
      const auto fit = fit_picture(*photo.wall, photo.picture, points);
      REQUIRE(fit.ok());
      REQUIRE(fit->report.likely);
      px.push_back(fit->report.likely->px / std::sqrt(2));
      mm.push_back(fit->report.likely->mm / std::sqrt(2));
      truth.push_back(true_error(photo, *fit, dice) / std::sqrt(2));
    }
    INFO(scene.name << ": a coordinate's likely error, median and 95th of 30: " << part(px, 0.5) << ", "
                    << part(px, 0.95) << " px; " << part(mm, 0.5) << ", " << part(mm, 0.95)
                    << " mm; from the truth elsewhere: " << part(truth, 0.5) << ", " << part(truth, 0.95) << " px");
    WARN(scene.name << ": a coordinate's likely error, median and 95th of 30: " << part(px, 0.5) << ", "
                    << part(px, 0.95) << " px; " << part(mm, 0.5) << ", " << part(mm, 0.95)
                    << " mm; from the truth elsewhere: " << part(truth, 0.5) << ", " << part(truth, 0.95) << " px");
    CHECK(part(mm, 0.5) <= 2);
    CHECK(part(truth, 0.95) <= 2);
  }
}

TEST_CASE("a blunder of 20 mm among twelve points is named in 95 of 100 cases, and no good point is") {
  Dice dice(32);
  const auto all = scenes();
  int named = 0, falsely = 0, cases = 0;
  for (; cases < 102; ++cases) {
    const auto& scene = all[static_cast<std::size_t>(cases) % all.size()];
    const auto photo = scene.photo(scene.wall, dice);
    auto points = marks(photo, 12, 1, dice);
    FitOptions options;  // half of the cases choose by themselves
    if (cases % 2 == 0) options.kind = FitKind::camera;
    const auto clean = fit_picture(*photo.wall, photo.picture, points, options);
    REQUIRE(clean.ok());
    falsely += clean->report.suspect.has_value();
    const std::size_t wrong = dice.below(12);
    points[wrong].place = stepped(*photo.wall, points[wrong].place, 0.02, dice);
    const auto fit = fit_picture(*photo.wall, photo.picture, points, options);
    REQUIRE(fit.ok());
    named += fit->report.suspect == wrong;
  }
  WARN(named << " of " << cases << " blunders named, " << falsely << " false alarms");
  CHECK(named >= 0.95 * cases);
  CHECK(falsely <= 0.05 * cases);
}

TEST_CASE("left-out errors are honest: as large as the errors at places that were never marked") {
  // The likely error holds the marking of the left-out point too, 1 px a coordinate; what is left of it is the
  // setting's own error.
  Dice dice(33);
  const auto wall = flat_wall(5, 3.5);
  double foretold = 0, real = 0;
  for (int k = 0; k < 60; ++k) {
    auto photo = flat_photo(wall, dice);
    photo.camera.k1 = 0;
    const auto fit = fit_picture(*wall, photo.picture, marks(photo, 12, 1, dice), {.kind = FitKind::homography});
    REQUIRE(fit.ok());
    foretold += fit->report.likely->px * fit->report.likely->px / 60;
    const double error = true_error(photo, *fit, dice);
    real += (error * error + 2) / 60;
  }
  CAPTURE(foretold, real);
  CHECK(foretold > 0.8 * real);
  CHECK(foretold < 2 * real);
}

TEST_CASE("errors in mm are lengths along the wall") {
  // One point is marked 10 mm off along the surface in an otherwise exact set; foretold from the others it is 10 mm
  // off.
  Dice dice(34);
  for (const auto& scene : scenes()) {
    auto photo = scene.photo(scene.wall, dice);
    photo.camera.k1 = 0;
    auto points = marks(photo, 12, 0, dice);
    points[5].place = stepped(*photo.wall, points[5].place, 0.01, dice);
    const auto fit = fit_picture(*photo.wall, photo.picture, points, {.kind = FitKind::camera});
    REQUIRE(fit.ok());
    CHECK(fit->report.left_out[5]->mm == Approx(10).epsilon(0.03));
    CHECK(fit->report.suspect == std::size_t{5});
    CHECK(fit->report.worst == std::size_t{5});
  }
}

TEST_CASE("by itself the plainest way that foretells the points is taken") {
  Dice dice(35);
  const auto noise = [&](Vec2) { return Vec2(dice.normal(), dice.normal()); };
  const auto flat = flat_wall(5, 3.5);
  int plain = 0, seen = 0, bent = 0;
  for (int k = 0; k < 20; ++k) {
    const auto drawing = fit_picture(*flat, kPhoto, laid(kFrame, kPhoto, 12, dice, noise));
    REQUIRE(drawing.ok());
    plain += drawing->report.kind == FitKind::similarity;
    auto photo = flat_photo(flat, dice);
    photo.camera.k1 = 0;
    const auto view = fit_picture(*flat, kPhoto, marks(photo, 12, 1, dice));
    REQUIRE(view.ok());
    seen += view->report.kind != FitKind::similarity && !view->report.distorted;
    photo.camera.k1 = -0.12;
    const auto lens = fit_picture(*flat, kPhoto, marks(photo, 16, 1, dice));
    REQUIRE(lens.ok());
    bent += lens->report.kind == FitKind::camera && lens->report.distorted;
  }
  CAPTURE(plain, seen, bent);
  CHECK(plain >= 18);
  CHECK(seen >= 17);
  CHECK(bent >= 17);
  const auto dome = dome_wall(5, 2, 5e-4);
  const auto photo = dome_photo(dome, dice);
  CHECK(fit_picture(*dome, kPhoto, marks(photo, 7, 1, dice))->report.kind == FitKind::camera);
}

TEST_CASE("the order in which points are marked changes nothing, to the bit") {
  Dice dice(36);
  for (const auto& scene : scenes()) {
    const auto photo = scene.photo(scene.wall, dice);
    auto points = marks(photo, 10, 2, dice);
    const FitOptions options{.thin_plate = true};
    const auto once = fit_picture(*photo.wall, photo.picture, points, options);
    const auto again = fit_picture(*photo.wall, photo.picture, points, options);
    REQUIRE(once.ok());
    REQUIRE(again.ok());
    CHECK(same(*once, *again));
    const auto worst = points[*once->report.worst];
    dice.shuffle(points);
    const auto shuffled = fit_picture(*photo.wall, photo.picture, points, options);
    REQUIRE(shuffled.ok());
    CHECK(same(*once, *shuffled));
    CHECK(points[*shuffled->report.worst] == worst);
  }
}

TEST_CASE("two points set size, place and turn exactly, and say that nothing checks them") {
  const auto wall = flat_wall(5, 3.5);
  const std::vector<ControlPoint> points{{{100, 2900}, from_pixel(kFrame, kPhoto, {100, 2900})},
                                         {{3900, 200}, from_pixel(kFrame, kPhoto, {3900, 200})}};
  const auto fit = fit_picture(*wall, kPhoto, points);
  REQUIRE(fit.ok());
  const auto& frame = std::get<PictureFrame>(fit->lay);
  CHECK(frame.at.u == Approx(kFrame.at.u).margin(1e-8));
  CHECK(frame.width == Approx(kFrame.width).margin(1e-8));
  CHECK(frame.turn_deg == Approx(kFrame.turn_deg).margin(1e-8));
  CHECK_FALSE(fit->report.likely);
  CHECK_FALSE(fit->report.worst);
  CHECK(fit->report.fitted[0].px < 1e-6);
  CHECK(told(in_words(fit->report), "too few to check"));
  CHECK_FALSE(told(in_words(fit->report), "Likely error"));
}

TEST_CASE("four corners of a flat wall seen at an angle are taken, unchecked, and said to be so") {
  Dice dice(37);
  const auto wall = flat_wall(5, 3.5);
  auto photo = photo_from(wall, {5, -4, 1}, {2.5, 0, 1.7}, {0, 0, 1}, 8, 0);
  std::vector<ControlPoint> corners;
  for (const ChartPoint p : {ChartPoint{0.2, 0.2}, {4.8, 0.2}, {4.8, 3.3}, {0.2, 3.3}})
    corners.push_back({*project(photo.camera, *wall->position(p)), p});
  const auto fit = fit_picture(*wall, photo.picture, corners);
  REQUIRE(fit.ok());
  CHECK(fit->report.kind == FitKind::homography);
  CHECK_FALSE(fit->report.likely);
  CHECK(true_error(photo, *fit, dice) < 1e-4);
  CHECK(told(in_words(fit->report), "too few to check"));
}

TEST_CASE("five points on an apse set a camera and tell an error") {
  Dice dice(38);
  const auto wall = apse_wall(4, 2, 5e-4);
  // Drum and half dome open toward y < 0, the painter's side.
  const auto photo = photo_from(wall, {0.3, -2.5, 1.2}, {0, 1.5, 2.2}, {0, 0, 1}, 5.5, 0);
  int close = 0;
  for (int k = 0; k < 10; ++k) {
    const auto fit = fit_picture(*wall, photo.picture, marks(photo, 5, 1, dice), {.kind = FitKind::camera});
    REQUIRE(fit.ok());
    REQUIRE(fit->report.likely);
    CHECK(told(in_words(fit->report), "Likely error"));
    CHECK(told(in_words(fit->report), "Camera place"));
    close += true_error(photo, *fit, dice) < 20;
  }
  CHECK(close >= 8);
}

TEST_CASE("a smooth correction is made where it earns its keep, and its left-out errors are honest") {
  Dice dice(39);
  const auto wall = flat_wall(5, 3.5);
  const auto swell = [&](Vec2 p) {
    return Vec2(dice.normal(), dice.normal()) + 25.0 * Vec2(std::sin(p.y / 700), std::cos(p.x / 900));
  };
  const auto noise = [&](Vec2) { return Vec2(dice.normal(), dice.normal()); };
  int earned = 0, by_chance = 0;
  double foretold = 0, real = 0;
  for (int k = 0; k < 40; ++k) {
    const FitOptions options{.kind = FitKind::similarity, .thin_plate = true};
    const auto fit = fit_picture(*wall, kPhoto, laid(kFrame, kPhoto, 20, dice, swell), options);
    REQUIRE(fit.ok());
    earned += fit->report.thin_plate;
    foretold += fit->report.likely->px * fit->report.likely->px;
    for (const auto& check : laid(kFrame, kPhoto, 20, dice, swell)) {
      const auto at = *pixel_at(fit->lay, fit->plate, kPhoto, check.place, *wall->position(check.place));
      real += glm::dot(at - check.pixel, at - check.pixel) / 20;
    }
    const auto plain = fit_picture(*wall, kPhoto, laid(kFrame, kPhoto, 12, dice, noise), options);
    REQUIRE(plain.ok());
    by_chance += plain->report.thin_plate;
    if (!plain->report.thin_plate) CHECK(told(plain->report.warnings, "none is made"));
  }
  CAPTURE(earned, by_chance, foretold, real);
  CHECK(earned >= 38);
  CHECK(by_chance <= 2);
  CHECK(foretold > 0.6 * real);
  CHECK(foretold < 2.5 * real);  // a left-out point at the rim is foretold from one side only
  const auto few = fit_picture(*wall, kPhoto, laid(kFrame, kPhoto, kFewestForPlate - 1, dice, swell),
                               {.kind = FitKind::similarity, .thin_plate = true});
  REQUIRE(few.ok());
  CHECK_FALSE(few->report.thin_plate);
}

TEST_CASE("points that lie badly are warned of") {
  Dice dice(40);
  const auto wall = flat_wall(5, 3.5);
  const auto at = [&](double x, double y) { return ControlPoint{{x, y}, from_pixel(kFrame, kPhoto, {x, y})}; };
  using Points = std::vector<ControlPoint>;
  const auto warned = [&](const Points& points, const std::string& what) {
    const auto fit = fit_picture(*wall, kPhoto, points);
    REQUIRE(fit.ok());
    CAPTURE(what);
    return told(fit->report.warnings, what);
  };
  CHECK(warned({at(100, 100), at(2000, 1010), at(3900, 1900)}, "nearly on a line"));
  CHECK(warned({at(100, 100), at(700, 100), at(700, 700), at(100, 600)}, "all in the upper left"));
  CHECK(warned({at(100, 100), at(3900, 100), at(3900, 2900), at(3905, 2902)}, "Points 3 and 4 are nearly the same"));
  CHECK(warned({at(100, 100), at(3900, 100), at(4050, 2900)}, "Point 3 lies beyond the picture"));
  const Points good{at(100, 100), at(3900, 100), at(3900, 2900), at(100, 2800), at(2000, 1500)};
  CHECK(fit_picture(*wall, kPhoto, good)->report.warnings.empty());
  const auto curved = barrel_wall(4, 5, 2);
  CHECK(told(fit_picture(*curved, kPhoto, good)->report.warnings, "unrolled"));
}

TEST_CASE("what cannot be set is refused with the reason") {
  const auto wall = flat_wall(5, 3.5);
  const auto barrel = barrel_wall(4, 5, 2);
  const auto at = [&](double x, double y) { return ControlPoint{{x, y}, from_pixel(kFrame, kPhoto, {x, y})}; };
  const std::vector<ControlPoint> good{at(100, 100), at(3900, 100), at(3900, 2900), at(100, 2900), at(2000, 1600)};
  CHECK(refusal(*wall, kPhoto, {}).find("two points or more") != std::string::npos);
  CHECK(refusal(*wall, kPhoto, {good[0]}).find("two points or more") != std::string::npos);
  CHECK(refusal(*wall, kPhoto, {good[0], good[0], good[1]}).find("points 1 and 2 are the same") != std::string::npos);
  auto off = good;
  off[2].place = {9, 9};
  CHECK(refusal(*wall, kPhoto, off).find("Point 3: 9.000, 9.000 m does not lie on the wall") != std::string::npos);
  off[2] = {{NAN, 4}, {1, 1}};
  CHECK(refusal(*wall, kPhoto, off).find("Point 3") != std::string::npos);
  CHECK_FALSE(fit_picture(*wall, {0, 0}, good).ok());
  auto mirrored = good;
  for (auto& p : mirrored) p.pixel.x = 4000 - p.pixel.x;
  for (const auto kind : {FitKind::automatic, FitKind::similarity, FitKind::homography, FitKind::camera})
    CHECK(refusal(*wall, kPhoto, mirrored, {.kind = kind}).find("mirror") != std::string::npos);
  CHECK(refusal(*barrel, kPhoto, good, {.kind = FitKind::homography}).find("not flat") != std::string::npos);
  const std::vector<ControlPoint> line{at(100, 100), at(1000, 1000), at(2000, 2000), at(2500, 2500), at(2900, 2900)};
  CHECK(refusal(*wall, kPhoto, line, {.kind = FitKind::homography}).find("line") != std::string::npos);
  CHECK_FALSE(fit_picture(*wall, kPhoto, line, {.kind = FitKind::camera}).ok());
  CHECK_FALSE(fit_picture(*wall, kPhoto, std::span(good).first(3), {.kind = FitKind::homography}).ok());
  CHECK_FALSE(fit_picture(*barrel, kPhoto, std::span(good).first(4), {.kind = FitKind::camera}).ok());
  CHECK_FALSE(fit_picture(*wall, kPhoto, good, {.pose = -1}).ok());
  CHECK_FALSE(fit_picture(*wall, kPhoto, good, {.focal_px = -5.0}).ok());
}

TEST_CASE("two camera places that fit equally well are both told, and what would tell them apart") {
  // Four points on a flat wall, seen from far: the plane's two poses (Oberkampf, DeMenthon & Davis, "Iterative pose
  // estimation using coplanar feature points", 1996).
  const auto wall = flat_wall(5, 3.5);
  Dice dice(41);
  const auto photo = photo_from(wall, {2.5 + 12, -40, 1.7}, {2.5, 0, 1.7}, {0, 0, 1}, 9, 0);
  int both = 0;
  for (int k = 0; k < 10; ++k) {
    std::vector<ControlPoint> points;
    for (const ChartPoint p : {ChartPoint{2, 1.3}, {3, 1.3}, {3, 2.3}, {2, 2.3}, {2.5, 1.8}})
      points.push_back({*project(photo.camera, *wall->position(p)) + Vec2(dice.normal(), dice.normal()), p});
    const FitOptions options{.kind = FitKind::camera, .focal_px = photo.camera.focal_px};
    const auto fit = fit_picture(*wall, photo.picture, points, options);
    REQUIRE(fit.ok());
    if (fit->report.cameras.size() < 2) continue;
    ++both;
    CHECK(told(fit->report.warnings, "camera places fit the points equally well"));
    CHECK(told(fit->report.warnings, "tell them apart"));
    auto second = options;
    second.pose = 1;
    const auto other = fit_picture(*wall, photo.picture, points, second);
    REQUIRE(other.ok());
    CHECK(other->report.camera == 1);
    CHECK(std::get<CameraLay>(other->lay).camera == fit->report.cameras[1]);
  }
  CHECK(both >= 5);
}
