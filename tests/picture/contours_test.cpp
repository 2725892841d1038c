#include "engine/picture/contours.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "tests/fixtures/figures.h"
#include "tests/fixtures/pictures.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

struct Shifts {
  double mean = 0, most = 0;  // samples
  int count = 0;
};

// How far the sub-pixel ridge places lie from the figure's outline.
Shifts shifts(const ContourField& field, const Figure& figure) {
  Shifts s;
  const auto flat = flat_wall(1, 1);
  field.each_ridge([&](int i, int j, const Ridge& ridge) {
    const auto angle = static_cast<double>(ridge.direction), shift = static_cast<double>(ridge.offset);
    const Vec2 p = (Vec2(i, j) + Vec2(std::cos(angle), std::sin(angle)) * shift) * field.spacing;
    const double d = distance_to(*flat, figure, to_chart(p)) / field.spacing;
    s.mean += d;
    s.most = std::max(s.most, d);
    ++s.count;
  });
  s.mean /= std::max(1, s.count);
  return s;
}

ContourField field_on(const WallRef& wall, const PictureFrame& frame, const Image& image,
                      const ContourSettings& settings = {}, double spacing = 0) {
  return contour_field(*draped(wall, image, frame, spacing), settings);
}

constexpr double kSide = 0.24;  // m
ContourField field_of(const Figure& figure, const Vec3& ground, const Vec3& colour, double noise = 0) {
  const PictureFrame frame{{0, 0}, kSide, kSide, 0};
  auto image = drawn(frame, 240, 240, figure, ground, colour);
  std::mt19937 rng(7);
  std::normal_distribution<double> grain(0, noise);
  if (noise > 0) {
    for (auto& c : image.rgb) c = static_cast<std::uint8_t>(std::clamp(c + grain(rng), 0.0, 255.0));
  }
  return field_on(flat_wall(kSide, kSide), frame, image);
}

int ridges(const ContourField& field) {
  int count = 0;
  field.each_ridge([&](int, int, const Ridge&) { ++count; });
  return count;
}

bool same(const ContourField& a, const ContourField& b) {
  if (a.columns != b.columns || a.rows != b.rows || a.spacing != b.spacing) return false;
  for (int j = 0; j < a.rows; ++j)
    for (int i = 0; i < a.columns; ++i)
      if (!(a.at(i, j) == b.at(i, j))) return false;
  return true;
}

}  // namespace

// The bound of 0.15 px is ours; the reference library's contours lie 0.27 px off on such pictures (DEVELOPERS.md,
// peers).
TEST_CASE("the ridge of a disc, a line and a small circle lies within 0.15 px of the true outline") {
  const Figure disc = blob({0.1213, 0.1192}, 0.08), small = blob({0.1213, 0.1192}, 0.012);
  const Figure slanted = cornered({{-0.1, 0.031}, {0.4, 0.191}, {0.4, 0.5}, {-0.1, 0.5}});
  for (const auto& figure : {disc, small, slanted}) {
    const auto s = shifts(field_of(figure, {0.9, 0.85, 0.8}, {0.2, 0.25, 0.3}), figure);
    CAPTURE(s.mean, s.most);
    // Blurring by sigma moves the edge of a disc of radius r outward by about sigma^2 / 2r, here 0.09 px for the small
    // one.
    CHECK(s.count > 60);
    CHECK(s.mean < (figure.outline[0] == small.outline[0] ? 0.15 : 0.05));
    CHECK(s.most < 0.3);
  }
}

TEST_CASE("colours of equal grey part at a contour too") {
  // Di Zenzo 1986: the sum of the channels' gradients does not see an edge whose channels change against each other.
  const Figure disc = blob({0.1213, 0.1192}, 0.08);
  const Vec3 red(0.8, 0.2, 0.3), green(0.2, 0.2 + 0.6 * 0.299 / 0.587, 0.3);  // Rec. 601 luma weights
  const auto field = field_of(disc, red, green);
  const auto s = shifts(field, disc);
  CAPTURE(s.mean, s.most);
  CHECK(s.count > 450);
  CHECK(s.mean < 0.08);
}

TEST_CASE("grain of eight levels leaves the disc's contour and no other") {
  const Figure disc = blob({0.1213, 0.1192}, 0.08);
  const auto s = shifts(field_of(disc, Vec3(0.8), Vec3(0.3), 8), disc);
  CAPTURE(s.mean, s.most);
  CHECK(s.mean < 0.15);
  CHECK(s.most < 0.5);  // so no ridge lies anywhere else
  CHECK(s.count > 450);
}

TEST_CASE("strength is the contrast of the edge") {
  // A sharp step of contrast c, blurred by sigma, has gradient c / (sigma sqrt(2 pi)) at its middle; reading and pixels
  // add about 0.5 px of blur of their own to the 1.5.
  const Figure half = cornered({{-1, -1}, {0.12, -1}, {0.12, 1}, {-1, 1}});
  for (const double c : {0.2, 0.5, 0.8}) {
    const auto field = field_of(half, Vec3(0.1), Vec3(0.1 + c));
    const Ridge ridge = field.at(120, 120);
    CHECK(static_cast<double>(ridge.strength) == Approx(c).epsilon(0.12));
    CHECK(std::abs(std::cos(static_cast<double>(ridge.direction))) == Approx(1).margin(1e-3));
  }
}

TEST_CASE("contrast below the lower threshold is no contour") {
  const Figure half = cornered({{-1, -1}, {0.12, -1}, {0.12, 1}, {-1, 1}});
  CHECK(ridges(field_of(half, Vec3(0.5), Vec3(0.53))) == 0);
}

TEST_CASE("the picture's own outer edge is no contour, and nothing lies beyond it") {
  const auto wall = flat_wall(0.3, 0.3);
  for (const double turn : {0.0, 20.0}) {
    const PictureFrame frame{{0.1, 0.05}, 0.15, 0.15, turn};
    Image dark{150, 150, std::vector<std::uint8_t>(3 * 150 * 150, 20)};
    CHECK(ridges(field_on(wall, frame, dark)) == 0);
  }
  const Figure disc = blob({0.1, 0.1}, 0.03);
  const PictureFrame frame{{0.05, 0.05}, 0.1, 0.1, 0};
  const auto field = field_on(wall, frame, drawn(frame, 100, 100, disc));
  field.each_ridge([&](int i, int j, const Ridge&) {
    const ChartPoint p{i * field.spacing, j * field.spacing};
    REQUIRE_FALSE((p.u < 0.0499 || p.v < 0.0499 || p.u > 0.1501 || p.v > 0.1501));
  });
  CHECK(ridges(field) > 150);
}

TEST_CASE("outside a round wall the field is empty") {
  const auto wall = dome_wall(0.4, 0.2, 1e-4);
  const auto box = wall->chart->box();
  const PictureFrame frame{{0, 0}, box.width, box.width, 0};
  std::mt19937 rng(1);
  Image noise{60, 60, {}};
  for (int k = 0; k < 3 * 60 * 60; ++k) noise.rgb.push_back(static_cast<std::uint8_t>(rng()));
  const auto field = field_on(wall, frame, noise, {.strength = 0.01}, 0.001);
  int near = 0;
  field.each_ridge([&](int i, int j, const Ridge&) {
    const ChartPoint p{i * field.spacing, j * field.spacing};
    const double d = std::hypot(p.u - box.width / 2, p.v - box.height / 2);
    REQUIRE(d <= box.width / 2 + 1e-6);
    near += d > box.width / 2 - 0.01;
  });
  CHECK(near > 100);  // they go on to the rim
  const Image grey{60, 60, std::vector<std::uint8_t>(3 * 60 * 60, 20)};
  CHECK(ridges(field_on(wall, frame, grey, {.strength = 0.01}, 0.001)) == 0);  // and the rim is none
}

TEST_CASE("fine stripes fade to grey in place of false contours") {
  // 3.5 pixels to a sample, stripes of 2 pixels: beyond what samples can show (Nyquist), so they must leave nothing.
  const auto wall = flat_wall(0.2, 0.2);
  const PictureFrame frame{{0, 0}, 0.2, 0.2, 0};
  Image stripes{700, 700, {}};
  for (int y = 0; y < 700; ++y) {
    for (int x = 0; x < 700; ++x)
      stripes.rgb.insert(stripes.rgb.end(), 3, static_cast<std::uint8_t>(((x + y) / 2) % 2 ? 250 : 5));
  }
  const auto field = field_on(wall, frame, stripes);
  CHECK(field.spacing == Approx(0.001));
  CHECK(ridges(field) == 0);
}

TEST_CASE("a soft edge is as strong at the rim of a dome as at its crown") {
  // The same edge in surface metres, drawn through the chart at both places: along the ring at colatitude t the chart
  // is t / sin t wider than the wall, so an edge across that direction must be drawn wider there to be the same.
  const auto wall = dome_wall(2, 1, 1e-4);
  const auto box = wall->chart->box();
  const double colatitude = 1.2, widened = colatitude / std::sin(colatitude), middle = box.width / 2;
  const auto strength = [&](ChartPoint at, double chart_width) {
    const PictureFrame frame{{0, 0}, box.width, box.width, 0};
    Image image{1600, 1600, {}};
    for (int y = 0; y < 1600; ++y) {
      for (int x = 0; x < 1600; ++x) {
        const auto p = from_pixel(frame, image, {x + 0.5, y + 0.5});
        const double level = 127.5 * (1 + std::tanh((p.u - at.u) / chart_width));
        image.rgb.insert(image.rgb.end(), 3, static_cast<std::uint8_t>(std::lround(level)));
      }
    }
    const auto field = field_on(wall, frame, image, {.strength = 0.02}, box.width / 1600);
    const int j = static_cast<int>(std::lround(at.v / field.spacing));
    float most = 0;
    for (int i = 0; i < field.columns; ++i) most = std::max(most, field.at(i, j).strength);
    return static_cast<double>(most);
  };
  const double crown = strength({middle, middle}, 0.03), rim = strength({middle, middle - colatitude}, 0.03 * widened);
  CHECK(rim / crown == Approx(1).epsilon(0.02));
}

TEST_CASE("the same picture gives the same field, bit for bit") {
  const Figure disc = blob({0.1213, 0.1192}, 0.08, 0.2);
  const auto a = field_of(disc, Vec3(0.9), Vec3(0.2), 5), b = field_of(disc, Vec3(0.9), Vec3(0.2), 5);
  CHECK(ridges(a) > 400);
  CHECK(same(a, b));
}

TEST_CASE("samples: the picture's own pixels, at least a millimetre, at most 16 megapixels") {
  const auto wall = flat_wall(0.5, 0.4);
  const Image coarse{50, 40, std::vector<std::uint8_t>(6000, 9)},
      fine{2000, 1600, std::vector<std::uint8_t>(9600000, 9)};
  const PictureFrame frame{{0, 0}, 0.5, 0.4, 0};
  CHECK(field_on(wall, frame, coarse).spacing == Approx(0.01));
  CHECK(field_on(wall, frame, fine).spacing == Approx(0.001));
  const auto wide = field_on(flat_wall(40, 30), {{0, 0}, 2, 1.6, 0}, fine);
  CHECK(static_cast<double>(wide.columns) * wide.rows <= 4097.0 * 4097);
  CHECK(static_cast<double>(wide.columns) * wide.rows > 15.5e6);
}

TEST_CASE("cancelling gives an empty field, and progress rises to the end") {
  Progress progress;
  double last = -1;
  bool rises = true;
  progress.report = [&](double f, std::string_view) {
    rises = rises && f >= last;
    last = f;
  };
  const auto wall = flat_wall(0.5, 0.5);
  const Image image{500, 500, std::vector<std::uint8_t>(750000, 9)};
  const auto on_wall = draped(wall, image, PictureFrame{{0, 0}, 0.5, 0.5, 0});
  CHECK(contour_field(*on_wall, {}, nullptr, &progress).columns > 0);
  CHECK(rises);
  CHECK(last == 1);
  progress.cancelled = true;
  CHECK(contour_field(*on_wall, {}, nullptr, &progress).columns == 0);
}

TEST_CASE("the distance to a contour is in surface metres") {
  const auto wall = barrel_wall(0.4, 0.4, 0.2, 1e-5);
  const Figure half = cornered({{-1, -1}, {0.2, -1}, {0.2, 2}, {-1, 2}});
  const PictureFrame frame{{0, 0}, 0.4, 0.4, 0};
  const auto field = field_on(wall, frame, drawn(frame, 400, 400, half));
  for (const double off : {0.0, 0.004, -0.0113, 0.03}) {
    CHECK(distance_to_contour(*wall, field, {0.2 + off, 0.31}, 0.05, 0.1) == Approx(std::abs(off)).margin(2e-4));
  }
  CHECK(distance_to_contour(*wall, field, {0.3, 0.31}, 0.05, 0.1) == 0.05);   // none within reach
  CHECK(distance_to_contour(*wall, field, {0.2, 0.31}, 0.05, 0.99) == 0.05);  // none that strong
  CHECK(distance_to_contour(*wall, {}, {0.2, 0.31}, 0.05, 0.1) == 0.05);

  // At colatitude 1.2 on a dome of radius 1 the ring direction is 1.2 / sin 1.2 wider in the chart than on the wall.
  const auto dome = dome_wall(2, 1, 1e-4);
  const auto box = dome->chart->box();
  const double middle = box.width / 2, widened = 1.2 / std::sin(1.2);
  const Figure side = cornered({{-1, -1}, {middle, -1}, {middle, 5}, {-1, 5}});
  const PictureFrame whole{{0, 0}, box.width, box.width, 0};
  const auto rim = field_on(dome, whole, drawn(whole, 1500, 1500, side));
  CHECK(distance_to_contour(*dome, rim, {middle + 0.02 * widened, middle - 1.2}, 0.06, 0.1) ==
        Approx(0.02).margin(6e-4));
}
