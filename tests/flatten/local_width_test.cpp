#include "engine/flatten/local_width.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "engine/flatten/medial_axis.h"
#include "engine/flatten/triangulation.h"

using namespace pontata;

namespace {

constexpr double kPi = 3.14159265358979323846;
using Line = std::vector<Vec2>;

struct Flat {
  Patch patch;
  Flattening flat;
};

// A flat patch with these rims (m), its chart moved by (10, 20) so that places are not mistaken for flat points.
Flat flat_patch(const std::vector<Line>& rims) {
  Flat out;
  Triangulation tri(to_lattice({-10, -10}), to_lattice({10, 10}), {});
  for (const Line& rim : rims) {
    out.patch.rims.emplace_back();
    for (const Vec2& p : rim) out.patch.rims.back().push_back(tri.insert(to_lattice(to_chart(p))));
  }
  for (const auto& rim : out.patch.rims)
    for (std::size_t i = 0; i < rim.size(); ++i) REQUIRE(tri.fix(rim[i], rim[(i + 1) % rim.size()]));
  REQUIRE(tri.find_inside());
  out.patch.triangles = tri.region().triangles;
  for (std::uint32_t v = 0; v < tri.size(); ++v) {
    const Vec2 p = to_vec(to_chart(tri.place(v)));
    out.flat.flat.push_back(p);
    out.patch.points.emplace_back(p.x, 0, p.y);
    out.patch.places.push_back({p.x + 10, p.y + 20});
  }
  return out;
}

std::optional<ThinPlace> thin(const std::vector<Line>& rims, double width, double angle) {
  const Flat f = flat_patch(rims);
  return thin_place(f.patch, f.flat, width, angle);
}

Line box(double x0, double y0, double x1, double y1) { return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}; }

Line turned(Line line) {
  std::reverse(line.begin(), line.end());
  return line;
}

// Each side in pieces of about `step`, moved sideways by up to `grain`.
Line grained(const Line& line, double step, double grain) {
  std::mt19937 random(5);
  std::uniform_real_distribution<double> by(-grain, grain);
  Line out;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const Vec2 a = line[i], b = line[(i + 1) % line.size()];
    const int n = std::max(1, static_cast<int>(glm::distance(a, b) / step));
    for (int k = 0; k < n; ++k)
      out.push_back(a + (b - a) * (static_cast<double>(k) / n) + Vec2{by(random), by(random)});
  }
  return out;
}

}  // namespace

TEST_CASE("medial axis of a rectangle: its spine and four bisectors") {
  // Blum 1967: a rectangle a x b, a > b, has a spine of length a - b at radius b / 2 and four corner pieces b / sqrt 2
  // long.
  const std::vector<Line> rims{box(0, 0, 3, 1)};
  const MedialAxis axis = medial_axis(rims, 0.01);
  double spine = 0, corners = 0;
  for (const auto& l : axis.links) {
    const double length = glm::distance(axis.at[l.from], axis.at[l.to]);
    const bool level = axis.radius[l.from] > 0.5 - 1e-9 && axis.radius[l.to] > 0.5 - 1e-9;
    (level ? spine : corners) += length;
  }
  CHECK(spine == Approx(2).margin(1e-5));
  CHECK(corners == Approx(4 * std::sqrt(0.5)).margin(1e-5));
  for (std::size_t i = 0; i < axis.at.size(); ++i) {
    const Vec2 p = axis.at[i];
    CHECK(axis.radius[i] == Approx(std::min({p.x, 3 - p.x, p.y, 1 - p.y})).margin(2e-6));
  }
}

TEST_CASE("medial axis of an ellipse: along its long axis, radii by the closed form") {
  // The greatest disc at (x, 0) has radius b sqrt(1 - x^2 / (a^2 - b^2)) for |x| up to (a^2 - b^2) / a, where it is the
  // circle of curvature of the tip, b^2 / a (elementary; from memory).
  const double a = 1, b = 0.6;
  Line ellipse;
  for (int k = 0; k < 400; ++k) ellipse.emplace_back(a * std::cos(2 * kPi * k / 400), b * std::sin(2 * kPi * k / 400));
  const std::vector<Line> rims{ellipse};
  const MedialAxis axis = medial_axis(rims, 0.005);
  double widest = 0;
  int along = 0;
  for (std::size_t i = 0; i < axis.at.size(); ++i) {
    widest = std::max(widest, axis.radius[i]);
    const Vec2 p = axis.at[i];
    if (std::abs(p.y) > 1e-4 || std::abs(p.x) > (a * a - b * b) / a - 0.02) continue;
    CHECK(axis.radius[i] == Approx(b * std::sqrt(1 - p.x * p.x / (a * a - b * b))).margin(2e-4));
    ++along;
  }
  CHECK(along > 50);
  CHECK(widest == Approx(b).margin(1e-4));
}

TEST_CASE("medial axis of a stadium: one straight piece of one radius") {
  const double length = 1.2, radius = 0.25;
  Line stadium;
  for (int k = 0; k <= 200; ++k)
    stadium.emplace_back(length + radius * std::sin(kPi * k / 200), -radius * std::cos(kPi * k / 200));
  for (int k = 0; k <= 200; ++k)
    stadium.emplace_back(-radius * std::sin(kPi * k / 200), radius * std::cos(kPi * k / 200));
  const std::vector<Line> rims{stadium};
  const MedialAxis axis = medial_axis(rims, 0.01);
  double spine = 0;
  for (const auto& l : axis.links)
    if (axis.radius[l.from] > radius - 1e-5 && axis.radius[l.to] > radius - 1e-5)
      spine += glm::distance(axis.at[l.from], axis.at[l.to]);
  CHECK(spine == Approx(length).margin(0.02));
  CHECK(*std::max_element(axis.radius.begin(), axis.radius.end()) == Approx(radius).margin(1e-5));
}

TEST_CASE("medial axis between a point and a side is a parabola") {
  // a notch whose tip is a point near the opposite side: half way to it, the radius is half the distance
  const std::vector<Line> rims{{{0, 0}, {1, 0}, {1, 1}, {0.55, 1}, {0.5, 0.1}, {0.45, 1}, {0, 1}}};
  const MedialAxis axis = medial_axis(rims, 0.005);
  double least = 1;
  for (std::size_t i = 0; i < axis.at.size(); ++i) {
    const Vec2 p = axis.at[i];
    if (std::abs(p.x - 0.5) > 0.05 || p.y > 0.1) continue;
    CHECK(p.y == Approx(((p.x - 0.5) * (p.x - 0.5) + 0.01) / 0.2).margin(2e-6));
    least = std::min(least, axis.radius[i]);
  }
  CHECK(least == Approx(0.05).margin(1e-5));
}

TEST_CASE("a wide rectangle has no thin place, a narrow one all along") {
  CHECK_FALSE(thin({box(0, 0, 1, 0.5)}, 0.03, 30));
  const auto found = thin({box(0, 0, 1, 0.02)}, 0.03, 30);
  REQUIRE(found);
  CHECK(found->width_m == Approx(0.02).margin(1e-5));
  CHECK(found->angle_deg == 180);
  CHECK(found->at.u == Approx(found->flat.x + 10));
  CHECK(found->at.v == Approx(found->flat.y + 20));
  CHECK_FALSE(thin({box(0, 0, 1, 0.031)}, 0.03, 30));
}

TEST_CASE("corners of 90, 60 and 45 degrees are no thin places under a limit of 30") {
  CHECK_FALSE(thin({{{0, 0}, {1, 0}, {0.5, std::sqrt(0.75)}}}, 0.05, 30));
  CHECK_FALSE(thin({{{0, 0}, {1, 0}, {1, 1}}}, 0.05, 30));
}

TEST_CASE("a wedge's tip is found with its angle") {
  for (const double angle : {10.0, 20.0, 29.0, 31.0}) {
    INFO(angle);
    const double a = angle * kPi / 180;
    // an isosceles wedge with its tip at the origin; the other corners are far above the limit
    const auto found =
        thin({{{0, 0}, {std::cos(a / 2), -std::sin(a / 2)}, {std::cos(a / 2), std::sin(a / 2)}}}, 0.02, 30);
    CHECK(found.has_value() == (angle < 30));
    if (!found) continue;
    CHECK(found->angle_deg == Approx(angle).margin(0.05));
    CHECK(glm::length(found->flat) < 1e-5);
    CHECK(found->width_m == Approx(2 * 0.02 * std::sin(a / 2)).epsilon(0.1));
  }
}

TEST_CASE("the neck of a dumbbell") {
  const auto dumbbell = [](double neck, double length) {
    const double x = 0.5, y = neck / 2, e = 0.5 + length;
    return Line{{0, -0.3},         {x, -0.3}, {x, -y}, {e, -y}, {e, -0.3}, {1 + length, -0.3},
                {1 + length, 0.3}, {e, 0.3},  {e, y},  {x, y},  {x, 0.3},  {0, 0.3}};
  };
  const auto found = thin({dumbbell(0.02, 0.2)}, 0.03, 30);
  REQUIRE(found);
  CHECK(found->width_m == Approx(0.02).margin(1e-5));
  CHECK(found->flat.x > 0.48);
  CHECK(found->flat.x < 0.72);
  CHECK(std::abs(found->flat.y) < 1e-4);
  CHECK_FALSE(thin({dumbbell(0.04, 0.2)}, 0.03, 30));    // wide enough
  CHECK_FALSE(thin({dumbbell(0.02, 0.004)}, 0.03, 30));  // not narrow for long enough
}

TEST_CASE("a smooth waist is found at its narrowest") {
  Line line;
  for (int i = 0; i <= 200; ++i) line.emplace_back(i * 0.005, -0.01 - 0.5 * (i * 0.005 - 0.4) * (i * 0.005 - 0.4));
  for (int i = 200; i >= 0; --i) line.emplace_back(i * 0.005, 0.01 + 0.5 * (i * 0.005 - 0.4) * (i * 0.005 - 0.4));
  const auto found = thin({line}, 0.03, 20);
  REQUIRE(found);
  CHECK(found->width_m == Approx(0.02).margin(1e-4));
  CHECK(found->flat.x == Approx(0.4).margin(0.01));
}

TEST_CASE("plaster between an outline and a window") {
  const auto found = thin({box(0, 0, 1, 1), turned(box(0.3, 0.3, 0.985, 0.7))}, 0.03, 30);
  REQUIRE(found);
  CHECK(found->width_m == Approx(0.015).margin(1e-5));
  CHECK_FALSE(thin({box(0, 0, 1, 1), turned(box(0.3, 0.3, 0.9, 0.7))}, 0.03, 30));
}

TEST_CASE("the grain of a drawn line is no tip and hides no thin place") {
  CHECK_FALSE(thin({grained(box(0, 0, 1, 0.5), 0.004, 0.001)}, 0.03, 30));
  const auto strip = thin({grained(box(0, 0, 1, 0.02), 0.004, 0.001)}, 0.03, 30);
  REQUIRE(strip);
  CHECK(strip->width_m > 0.015);
  CHECK(strip->width_m < 0.021);
  const double a = 20 * kPi / 180;
  const auto wedge =
      thin({grained({{0, 0}, {std::cos(a / 2), -std::sin(a / 2)}, {std::cos(a / 2), std::sin(a / 2)}}, 0.004, 0.0002)},
           0.03, 30);
  REQUIRE(wedge);
  CHECK(wedge->angle_deg == Approx(20).margin(5));
}

TEST_CASE("a tongue of a large patch is thin, its wide part is not") {
  const auto found =
      thin({{{0, 0}, {1, 0}, {1, 1}, {0, 1}, {0, 0.51}, {-0.3, 0.51}, {-0.3, 0.49}, {0, 0.49}}}, 0.03, 30);
  REQUIRE(found);
  CHECK(found->width_m == Approx(0.02).margin(1e-5));
  CHECK(found->flat.x < 0.01);
}

TEST_CASE("a rim that touches itself has no width there") {
  const auto found = thin({{{0, 0}, {1, 0}, {1, 1}, {0.5, 4e-7}, {0, 1}}}, 0.03, 30);
  REQUIRE(found);
  CHECK(found->width_m == 0);
  CHECK(found->flat.x == Approx(0.5).margin(1e-5));
}
