// Seams as the eye sees them from the floor: angles against closed forms, what stands between against cases worked by
// hand and against every triangle tried one by one.
#include "engine/review/from_floor.h"

#include <catch2/catch.hpp>

#include "tests/fixtures/layouts.h"
#include "tests/fixtures/pictures.h"

using namespace pontata;

namespace {

FloorInput looking_at(const layouts::Layout& layout) {
  FloorInput input;
  input.wall = layout.wall;
  input.network = &layout.network;
  return input;
}

double degrees(double d) { return d * std::numbers::pi / 180; }

// A ray from the eye to the place meets a triangle of the wall before it. Independent of the product: every triangle by
// itself (Moeller and Trumbore, "Fast, minimum storage ray/triangle intersection", 1997, from memory).
bool blocked(const SurfaceMesh& mesh, const Vec3& eye, const Vec3& place) {
  const Vec3 way = place - eye;
  for (const Triangle& t : mesh.triangles) {
    const Vec3 a = mesh.points[t[0]], e1 = mesh.points[t[1]] - a, e2 = mesh.points[t[2]] - a;
    const Vec3 p = glm::cross(way, e2);
    const double det = glm::dot(e1, p);
    if (std::abs(det) < 1e-14) continue;
    const Vec3 s = eye - a, q = glm::cross(s, e1);
    const double u = glm::dot(s, p) / det, v = glm::dot(way, q) / det, at = glm::dot(e2, q) / det;
    if (u >= 0 && v >= 0 && u + v <= 1 && at > 1e-6 && at < 1 - 2e-3) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("a joint straight ahead is as wide as the closed form says at 1, 5, 10 and 15 m") {
  // 6/6 vision: one minute of arc is 0.291 mm a metre: 1.45 mm at 5 m, 2.91 at 10 m, 4.36 at 15 m (visual acuity, ISO
  // 8596: optotypes of 1 minute of arc; tan 1' = 2.9089e-4).
  for (const auto& [distance, mm] : {std::pair{1.0, 0.290888}, {5.0, 1.454441}, {10.0, 2.908882}, {15.0, 4.363323}})
    CHECK(joint_angle_arcmin({0, 0, 0}, {0, distance, 0}, {1, 0, 0}, mm / 1000) == Approx(1).epsilon(1e-5));
  for (const double distance : {1.0, 5.0, 10.0, 15.0})
    for (const double width : {0.0005, 0.002, 0.02}) {
      const double exact = 2 * std::atan(width / 2 / distance) * 180 * 60 / std::numbers::pi;
      CHECK(joint_angle_arcmin({1, 2, 3}, {1, 2 + distance, 3}, {0, 0, 1}, width) == Approx(exact).epsilon(1e-9));
    }
}

TEST_CASE("a joint seen aslant is narrower by the cosine, one along the sight is not") {
  for (const double turn : {30.0, 60.0, 80.0}) {
    // The wall turned away from the eye about the upright: an upright joint narrows, a level one does not.
    const Vec3 along(std::cos(degrees(turn)), std::sin(degrees(turn)), 0);
    const double straight = joint_angle_arcmin({0, 0, 0}, {0, 5, 0}, {1, 0, 0}, 0.001);
    CHECK(joint_angle_arcmin({0, 0, 0}, {0, 5, 0}, along, 0.001) ==
          Approx(straight * std::cos(degrees(turn))).epsilon(1e-6));
    CHECK(joint_angle_arcmin({0, 0, 0}, {0, 5, 0}, {0, 0, 1}, 0.001) == Approx(straight).epsilon(1e-9));
  }
}

TEST_CASE("seams of a flat wall, each stretch by hand") {
  // The wall stands in y = 0, the painter before it at y < 0. One upright seam at u = 2.
  auto layout = layouts::on(layouts::flat(4, 3));
  layouts::add_box(layout, 0, 0, 2, 3);
  layouts::add_box(layout, 2, 0, 4, 3);
  const EyePoint eye{"floor", {2, -5, 1.6}};
  auto input = looking_at(layout);
  input.joint_mm = 2;
  const auto sights = seams_from(input, eye);
  double length = 0;
  for (const SeamSight& s : sights) {
    CHECK(s.one == GiornataId{1});
    CHECK(s.other == GiornataId{2});
    CHECK(s.seen);
    CHECK(s.length_m <= 0.076);
    length += s.length_m;
    const double up = s.at.z - 1.6, distance = std::hypot(5.0, up);
    CHECK(s.distance_m == Approx(distance).epsilon(1e-9));
    CHECK(s.grazing_deg == Approx(90 - std::atan(std::abs(up) / 5) * 180 / std::numbers::pi).margin(1e-6));
    // Its edges lie to the left and right: the angle is that of 2 mm across the line of sight.
    CHECK(s.joint_arcmin == Approx(2 * std::atan(0.001 / distance) * 180 * 60 / std::numbers::pi).epsilon(1e-6));
    CHECK(s.shows == Approx(s.joint_arcmin / (1 + s.joint_arcmin)));
  }
  CHECK(length == Approx(3).epsilon(1e-9));
  // From behind nothing is seen.
  for (const SeamSight& s : seams_from(looking_at(layout), {"behind", {2, 5, 1.6}})) {
    CHECK_FALSE(s.seen);
    CHECK(s.shows == 0);
  }
}

TEST_CASE("what stands between hides a seam, by hand") {
  // A screen 1 m high, 1 m before the wall; the eye 1.5 m high, 3 m away: over the screen's edge it sees the wall from
  // z = 1.5 - 3 (1.5 - 1) / 2 = 0.75 m up (similar triangles).
  auto layout = layouts::on(layouts::flat(4, 3));
  layouts::add_box(layout, 0, 0, 2, 3);
  layouts::add_box(layout, 2, 0, 4, 3);
  const auto screen = layouts::on(layouts::flat(4, 1), 0.002, {{0, -1, 0}, 0});
  auto input = looking_at(layout);
  input.others = {screen.wall};
  int hidden = 0, seen = 0;
  for (const SeamSight& s : seams_from(input, {"floor", {2, -3, 1.5}})) {
    if (std::abs(s.at.z - 0.75) < 0.01) continue;
    CHECK(s.seen == (s.at.z > 0.75));
    ++(s.seen ? seen : hidden);
  }
  CHECK(hidden > 10);
  CHECK(seen > 30);
}

TEST_CASE("a vault hides its own far side as every triangle tried one by one says") {
  // From outside over one springing of a barrel only part of the other side is seen; from within all of it.
  auto layout = layouts::on(layouts::barrel(4, 3, 2), 0.01);
  const auto box = layout.wall->chart->box();
  for (int k = 0; k < 6; ++k) layouts::add_box(layout, 0, k * box.height / 6, box.width, (k + 1) * box.height / 6);
  for (const EyePoint& eye :
       {EyePoint{"under", {1.5, 0, -1.5}}, EyePoint{"aside", {1.5, -4.5, -0.3}}, EyePoint{"end", {-2, 0.5, 0.6}}}) {
    int compared = 0, seen = 0;
    for (const SeamSight& s : seams_from(looking_at(layout), eye)) {
      if (std::abs(s.grazing_deg) < 3) continue;  // the facets' own slant
      const bool open = s.grazing_deg > 0 && !blocked(layout.wall->mesh(), eye.at, s.at);
      CHECK(s.seen == open);
      ++compared;
      seen += s.seen;
    }
    INFO(eye.name);
    CHECK(compared > 100);
    if (eye.name == "aside") CHECK(seen < compared);
  }
}

TEST_CASE("a contour masks a seam, smooth ground shows it, and the worst come first") {
  // Left half red, right half green, a seam along their edge and one across the red.
  auto layout = layouts::on(layouts::flat(4, 2));
  layouts::add_box(layout, 0, 0, 1, 2);
  layouts::add_box(layout, 1, 0, 2, 2);
  layouts::add_box(layout, 2, 0, 4, 2);
  Image image;
  image.width = 400;
  image.height = 200;
  for (int y = 0; y < 200; ++y)
    for (int x = 0; x < 400; ++x)
      for (const int c : x < 200 ? std::array{190, 60, 50} : std::array{60, 140, 70})
        image.rgb.push_back(static_cast<std::uint8_t>(c));
  auto input = looking_at(layout);
  input.draped = fixtures::draped(layout.wall, image, PictureFrame{{0, 0}, 4, 2, 0});
  input.contours = std::make_shared<const ContourField>(contour_field(*input.draped));
  const auto sights = seams_from(input, {"floor", {2, -4, 1.6}});
  for (const SeamSight& s : sights) {
    const bool edge = std::abs(s.at.x - 2) < 1e-6;
    CHECK(s.on_contour == edge);
    if (edge) CHECK(s.step > 0.5);  // red to green: CIE 1976 difference about 100
    if (!edge) CHECK(s.step < 0.02);
  }
  const auto worst = worst_stretches(sights, 10);
  REQUIRE(worst.size() >= 2);
  CHECK(std::abs(worst[0].at.x - 1) < 1e-6);
  CHECK(worst[0].length_m == Approx(2).epsilon(0.01));
  CHECK(worst[0].says.find("on even ground") != std::string::npos);
  CHECK(worst_stretches(sights, 1).size() == 1);
}

TEST_CASE("a worst stretch is told at the place in it that shows most") {
  // A level seam before an eye that stands near its left end.
  auto layout = layouts::on(layouts::flat(8, 3));
  layouts::add_box(layout, 0, 0, 8, 1.5);
  layouts::add_box(layout, 0, 1.5, 8, 3);
  const auto sights = seams_from(looking_at(layout), {"door", {1, -3, 1.6}});
  for (const WorstStretch& w : worst_stretches(sights, 100)) {
    const auto at = layout.wall->position(w.place);
    REQUIRE(at);
    CHECK(glm::distance(*at, w.at) < 1e-6);                                // one place, told twice
    CHECK(w.distance_m == Approx(glm::distance(w.at, Vec3(1, -3, 1.6))));  // its numbers are of that place
    CHECK(w.length_m >= 0.05);
    double most = 0, here = -1;
    for (const SeamSight& s : sights) {
      const bool inside = std::ranges::any_of(w.line, [&](ChartPoint p) { return p == s.line.front(); }) &&
                          std::ranges::any_of(w.line, [&](ChartPoint p) { return p == s.line.back(); });
      if (!inside) continue;
      most = std::max(most, s.shows);
      if (s.place == w.place) here = s.shows;
    }
    CHECK(here == most);
  }
}

TEST_CASE("contours that only cross a seam do not mask it, however near to each other") {
  // Stripes with level edges, and an upright seam across them; those of 20 mm are nearer than the masking reaches.
  for (const int stripe : {2, 5, 50}) {
    auto layout = layouts::on(layouts::flat(4, 2));
    layouts::add_box(layout, 0, 0, 2, 2);
    layouts::add_box(layout, 2, 0, 4, 2);
    Image image;
    image.width = 400;
    image.height = 200;
    for (int y = 0; y < 200; ++y)
      for (int x = 0; x < 400; ++x)
        for (const int c : y / stripe % 2 == 0 ? std::array{190, 60, 50} : std::array{60, 140, 70})
          image.rgb.push_back(static_cast<std::uint8_t>(c));
    auto input = looking_at(layout);
    input.draped = fixtures::draped(layout.wall, image, PictureFrame{{0, 0}, 4, 2, 0});
    input.contours = std::make_shared<const ContourField>(contour_field(*input.draped));
    for (const SeamSight& s : seams_from(input, {"floor", {2, -4, 1.6}})) CHECK_FALSE(s.on_contour);
  }
}
