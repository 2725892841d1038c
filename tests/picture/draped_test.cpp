#include "engine/picture/draped.h"

#include <catch2/catch.hpp>
#include <random>
#include <set>
#include <thread>

#include "engine/base/parallel.h"
#include "engine/picture/shown_area.h"
#include "engine/picture/sight.h"
#include "tests/fixtures/pictures.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kRounding = 1.01 / 65535;  // of a sample, and a float's own

ChartPoint place(const Draped& draped, int i, int j) { return {i * draped.spacing(), j * draped.spacing()}; }

DrapedRef all(const WallRef& wall, std::vector<PlacedRef> pictures, double spacing = 0, DrapedRef before = nullptr,
              std::vector<WallRef> others = {}) {
  return Draped::make({wall, std::move(pictures), std::move(others)}, std::move(before), spacing);
}

// A picture with something to see in it everywhere.
PictureRef busy(PictureSize size, unsigned seed) {
  return ruled(size, [seed](int x, int y) {
    const unsigned h = (static_cast<unsigned>(x / 5) * 2654435761u) ^ (static_cast<unsigned>(y / 7) * 40503u * seed);
    return std::array<std::uint8_t, 4>{static_cast<std::uint8_t>(h >> 8), static_cast<std::uint8_t>(h >> 16),
                                       static_cast<std::uint8_t>(h >> 24), 255};
  });
}

bool same_tiles(const Draped& a, const Draped& b) {
  for (int y = 0; y < a.tiles_up(); ++y)
    for (int x = 0; x < a.tiles_across(); ++x) {
      const auto p = a.tile(x, y), q = b.tile(x, y);
      if (!p != !q || (p && p->rgba != q->rgba)) return false;
    }
  return true;
}

// Greatest distance (px of the picture, or of a sample where those are larger) by which a sample shows another pixel
// than the lay says, over the samples the picture covers well; -1 where there are none. The picture shows ramps().
double off_place(const Draped& draped, const PlacedPicture& picture, double inset) {
  const ChartedWall& wall = *draped.input().wall;
  double most = -1;
  for (int j = 0; j < draped.rows(); ++j)
    for (int i = 0; i < draped.columns(); ++i) {
      const ChartPoint p = place(draped, i, j);
      const auto at = wall.position(p);
      const auto c = working_sample(draped, i, j);
      if (!at) {
        CHECK(c[3] == 0);
        continue;
      }
      const auto pixel = pixel_at(picture.lay, picture.plate, picture.size, p, *at);
      if (!pixel || pixel->x < inset || pixel->y < inset || pixel->x > picture.size.width - inset ||
          pixel->y > picture.size.height - inset)
        continue;
      if (c[3] == 0) continue;  // hidden
      REQUIRE(c[3] == 1);
      most = std::max({most, std::abs(c[0] * 255 + 0.5 - pixel->x), std::abs(c[1] * 255 + 0.5 - pixel->y)});
    }
  return most;
}

double covered_area(const Draped& draped) {
  double sum = 0;
  for (int j = 0; j < draped.rows(); ++j)
    for (int i = 0; i < draped.columns(); ++i) sum += working_sample(draped, i, j)[3];
  return sum * draped.spacing() * draped.spacing();
}

// An eye before the middle of a wall, away from it by `distance`, that looks at it square.
Camera eye_before(const ChartedWall& wall, double distance, double angle_deg, PictureSize size) {
  const auto box = wall.chart->box();
  const auto on = *wall.chart->locate({0.5 * box.width, 0.5 * box.height});
  const Vec3 at = position(wall.mesh(), on), n = normal(wall.mesh(), on);
  const Vec3 up = std::abs(n.z) > 0.9 ? Vec3(0, 1, 0) : Vec3(0, 0, 1);
  return eye_camera(at + n * distance, at, up, angle_deg, size).value();
}

}  // namespace

TEST_CASE("an unrolled picture shows each place the pixel of its lay, plain or turned") {
  const auto wall = flat_wall(2, 1.2);
  for (const auto& frame : {PictureFrame{{0, 0}, 2, 1.2, 0}, PictureFrame{{0.313, 0.107}, 1.1, 0.66, 0},
                            PictureFrame{{1.0, 0.05}, 0.9, 0.54, 30}, PictureFrame{{1.7, 0.6}, 1.5, 0.9, 180}}) {
    const auto picture = placed(ramps({250, 150}), frame);
    const auto on_wall = all(wall, {picture}, 0.003);
    // Bilinear between whole steps is the ramp itself: what is left is rounding to 16 bits, 1/257 of a step.
    const double off = off_place(*on_wall, *picture, 1.0);
    CHECK(off >= 0);
    CHECK(off < 255 * kRounding);
  }
}

TEST_CASE("minified, a ramp is still the ramp") {
  const auto wall = flat_wall(1, 1);
  const auto picture = placed(ramps({256, 256}), PictureFrame{{0.1, 0.1}, 0.8, 0.8, 12});
  for (const double spacing : {0.005, 0.008, 0.013}) {
    const auto on_wall = all(wall, {picture}, spacing);
    // Levels are whole steps: half a step each, four at most, and their middles.
    CHECK(off_place(*on_wall, *picture, 1.5 * spacing / (0.8 / 256) + 8) < 1.0);
  }
}

TEST_CASE("unrolled on a barrel, a picture keeps its lengths along the arc to a tenth of a millimetre") {
  // A chord c of a circle of radius R spans the arc 2 R asin(c / 2R).
  const double span = 4, rise = 1.3, radius = (0.25 * span * span + rise * rise) / (2 * rise);
  const auto wall = barrel_wall(span, 3, rise, 1e-5);
  const auto box = wall->chart->box();
  const PictureFrame frame{{0.2, 0.15}, 2.4, 2.4, 0};
  const auto picture = placed(ramps({240, 240}), frame);  // 10 mm a pixel
  const auto on_wall = all(wall, {picture}, 0.005);
  std::mt19937 rng(3);
  int arcs = 0;
  for (int k = 0; k < 2000; ++k) {
    const auto random = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(rng); };
    const bool along_u = k % 2 == 0;
    const int i = static_cast<int>(random(0.22, 2.5) / 0.005), j = static_cast<int>(random(0.17, 2.5) / 0.005);
    const int di = along_u ? static_cast<int>(random(0.22, 2.5) / 0.005) - i : 0;
    const int dj = along_u ? 0 : static_cast<int>(random(0.17, 2.5) / 0.005) - j;
    if (i * 0.005 > box.width || (j + dj) * 0.005 > box.height || j * 0.005 > box.height) continue;
    const auto p = wall->position(place(*on_wall, i, j)), q = wall->position(place(*on_wall, i + di, j + dj));
    REQUIRE(p);
    REQUIRE(q);
    const auto a = working_sample(*on_wall, i, j), b = working_sample(*on_wall, i + di, j + dj);
    const double drawn = std::abs(along_u ? b[0] - a[0] : b[1] - a[1]) * 255 * 0.01;
    const double chord = glm::length(*q - *p);
    const double arc = 2 * radius * std::asin(std::min(1.0, chord / (2 * radius)));
    const bool straight = std::abs(chord - drawn) < 1e-4;
    arcs += !straight;
    CHECK((straight || std::abs(arc - drawn) < 1e-4));
  }
  CHECK(arcs > 500);
}

TEST_CASE("between nodes no sample is further off than the stated twentieth") {
  const auto size = PictureSize{250, 200};
  for (const auto& wall : {flat_wall(1.5, 1.2), barrel_wall(1.6, 1.2, 0.6), dome_wall(1.4, 0.5), apse_wall(1.2, 0.8)}) {
    const Camera eye = eye_before(*wall, 1.1, 50, size);
    Camera bent = eye;
    bent.k1 = -0.12;
    bent.k2 = 0.03;
    for (const Lay& lay : {Lay(CameraLay{eye}), Lay(CameraLay{bent}),
                           Lay(PlaneLay{eye.eye - 1.1 * eye.right + 1.0 * eye.down, eye.right, -eye.down, 2, 1.7})}) {
      auto picture = placed(ramps(size), lay);
      const auto on_wall = all(wall, {picture}, 0.006);
      const double finest = pixel_at(lay, {}, size, {}, *wall->position({0.5, 0.5})) ? 2.5 : 0;  // px a sample at most
      const double off = off_place(*on_wall, *picture, 4);
      CHECK(off >= 0);
      CHECK(off < 0.05 * std::max(1.0, finest) + 0.9 * (finest > 1) + 255 * kRounding);
    }
  }
}

TEST_CASE("where samples are finer than pixels a camera's picture is true to a twentieth of a pixel") {
  const auto size = PictureSize{250, 200};
  for (const auto& wall : {barrel_wall(1.6, 1.2, 0.6), dome_wall(1.4, 0.5)}) {
    auto picture = placed(ramps(size), CameraLay{eye_before(*wall, 1.1, 50, size)});
    picture->plate = {100, {{60, 60}, {190, 140}, {120, 30}}, {{1.5, 0}, {0, -2}, {-1.5, 2}}, {1, 0}, {0, 0}, {0, 0}};
    const auto on_wall = all(wall, {picture}, 0.0025);
    const double off = off_place(*on_wall, *picture, 1);
    CHECK(off >= 0);
    CHECK(off < 0.051 + 255 * kRounding);
  }
}

TEST_CASE("a homography lays its picture true") {
  const auto wall = flat_wall(1.5, 1.2);
  const auto size = PictureSize{250, 200};
  const Mat3 pixel_from_chart(Vec3(140, -12, -0.11), Vec3(15, -165, 0.07), Vec3(10, 190, 1));
  const auto picture = placed(ramps(size), HomographyLay{pixel_from_chart});
  CHECK(off_place(*all(wall, {picture}, 0.004), *picture, 0.6) < 0.05 + 255 * kRounding);
}

TEST_CASE("pictures lie over each other by their order, opacity and fade") {
  // Porter & Duff 1984, over: c = c_upper + c_lower (1 - a_upper), colours multiplied by opacity.
  const auto wall = flat_wall(1, 1);
  const PictureFrame whole{{0, 0}, 1, 1, 0};
  auto low = placed(plain({200, 40, 0, 255}), whole, 1), high = placed(plain({10, 250, 90, 102}), whole, 2);
  high->fade = 0.25;
  const auto both = all(wall, {low, high}, 0.02);
  const double a = 102 / 255.0 * 0.75;
  const auto at = working_sample(*both, 20, 30);
  CHECK(at[3] == Approx(1).margin(kRounding));
  CHECK(at[0] == Approx(10 / 255.0 * a + 200 / 255.0 * (1 - a)).margin(kRounding));
  CHECK(at[1] == Approx(250 / 255.0 * a + 40 / 255.0 * (1 - a)).margin(kRounding));
  const auto turned = working_sample(*all(wall, {high, low}, 0.02), 20, 30);
  CHECK(turned[0] == Approx(200 / 255.0).margin(kRounding));
  const auto alone = working_sample(*all(wall, {high}, 0.02), 20, 30);
  CHECK(alone[3] == Approx(a).margin(kRounding));
  CHECK(alone[1] == Approx(250 / 255.0 * a).margin(kRounding));
  high->fade = 1;
  CHECK(all(wall, {high}, 0.02)->tile(0, 0) == nullptr);
  CHECK_FALSE(all(wall, {high}, 0.02)->covers({0.5, 0.5}));
}

TEST_CASE("edges are drawn by the share of a sample they leave") {
  const auto wall = flat_wall(1, 1);
  auto picture = placed(plain({90, 90, 90, 255}, {300, 200}), PictureFrame{{0.35, 0.13}, 0.6, 0.4, 27});
  CHECK(covered_area(*all(wall, {picture}, 0.01)) == Approx(0.24).epsilon(2e-3));
  picture->crop = PixelBox{30.3, 20.7, 251.9, 160.2};
  CHECK(covered_area(*all(wall, {picture}, 0.01)) == Approx(221.6 * 139.5 * 4e-6).epsilon(2e-3));
  picture->crop.reset();
  for (int k = 0; k < 60; ++k)
    picture->mask.push_back({150 + 90 * std::cos(2 * M_PI * k / 60), 100 + 90 * std::sin(2 * M_PI * k / 60)});
  const double circle = 0.5 * 60 * 90 * 90 * std::sin(2 * M_PI / 60);  // of the regular 60-gon
  const auto masked = all(wall, {picture}, 0.01);
  CHECK(covered_area(*masked) == Approx(circle * 4e-6).epsilon(2e-3));
  // Not jagged: along the edge the opacities take many values, none of them far from the share that truly shows.
  std::set<double> values;
  const ShownArea area(*picture);
  const auto& frame = std::get<PictureFrame>(picture->lay);
  for (int j = 0; j < masked->rows(); ++j)
    for (int i = 0; i < masked->columns(); ++i) {
      int share = 0;
      for (int y = 0; y < 20; ++y)
        for (int x = 0; x < 20; ++x)
          share += area.holds(
              to_pixel(frame, picture->size, {(i + (x + 0.5) / 20 - 0.5) * 0.01, (j + (y + 0.5) / 20 - 0.5) * 0.01}));
      const double drawn = working_sample(*masked, i, j)[3];
      REQUIRE(drawn == Approx(share / 400.0).margin(0.08));
      values.insert(drawn);
    }
  CHECK(values.size() > 15);
}

TEST_CASE("pictures that meet edge to edge leave no gap") {
  const auto wall = flat_wall(1, 1);
  const PictureFrame left{{0.2, -0.4}, 0.5, 2, 8};
  PictureFrame right = left;
  right.at = from_pixel(left, {100, 100}, {100, 100});
  const auto on_wall =
      all(wall, {placed(plain({60, 0, 0, 255}), left, 1), placed(plain({60, 0, 0, 255}), right, 2)}, 0.01);
  for (int j = 20; j < 80; ++j)
    for (int i = 35; i < 80; ++i) {
      const auto c = working_sample(*on_wall, i, j);
      REQUIRE(c[3] == Approx(1).margin(kRounding));
      REQUIRE(c[0] == Approx(60 / 255.0).margin(kRounding));
    }
}

TEST_CASE("a picture as large as the wall covers it up to its border") {
  for (const auto& wall : {flat_wall(1.003, 0.71), barrel_wall(0.6, 0.5, 0.2)}) {
    const auto box = wall->chart->box();
    const auto on_wall =
        all(wall, {placed(plain({10, 20, 30, 255}), PictureFrame{{0, 0}, box.width, box.height, 0})}, 0.007);
    int bare = 0;
    for (int j = 0; j < on_wall->rows(); ++j)
      for (int i = 0; i < on_wall->columns(); ++i) bare += working_sample(*on_wall, i, j)[3] < 1;
    CHECK(bare == 0);
  }
}

TEST_CASE("fine rings fade to grey in place of false ones") {
  // The mean over a square of r pixels leaves |sinc(f r)| <= 1 / (pi f r) of a wave of frequency f along an axis; the
  // rings' frequency k |p| / pi passes one a sample at some radius: beyond it at most that much of them is left.
  const double k = M_PI / 2 / 500;  // half a wave a pixel at 500 px from the middle
  const auto zones = ruled({1000, 1000}, [k](int x, int y) {
    const double dx = x + 0.5 - 500, dy = y + 0.5 - 500;
    const auto v = static_cast<std::uint8_t>(std::lround(127.5 + 127 * std::cos(k * (dx * dx + dy * dy))));
    return std::array<std::uint8_t, 4>{v, v, v, 255};
  });
  const auto wall = flat_wall(1, 1);
  for (const double turn : {0.0, 17.0}) {
    const Vec2 middle(500, 500);
    PictureFrame frame{{0, 0}, 1, 1, turn};
    const ChartPoint c = from_pixel(frame, {1000, 1000}, middle);
    frame.at = {0.5 - c.u, 0.5 - c.v};
    for (const double r : {3.0, 5.3, 8.0}) {
      const auto on_wall = all(wall, {placed(zones, frame)}, 0.001 * r);
      double worst = 0, kept = 1;
      for (int j = 0; j < on_wall->rows(); ++j)
        for (int i = 0; i < on_wall->columns(); ++i) {
          const auto s = working_sample(*on_wall, i, j);
          const Vec2 at = to_pixel(frame, {1000, 1000}, place(*on_wall, i, j)) - middle;
          const double d = glm::length(at), f = k * d / M_PI;
          if (s[3] < 1 || d > 480) continue;
          if (f * r > 1.05) worst = std::max(worst, std::abs(s[0] - 0.5));
          const double wave = 127.5 / 255 + 127.0 / 255 * std::cos(k * d * d);
          if (f * r < 0.12) kept = std::min(kept, 1 - std::abs(s[0] - wave));
        }
      CAPTURE(turn, r, worst, kept);
      CHECK(worst < 0.5 / M_PI);
      CHECK(kept > 0.95);
    }
  }
}

TEST_CASE("a tile is what is drawn at its places") {
  const auto wall = barrel_wall(1.2, 1, 0.5);
  const auto size = PictureSize{300, 300};
  auto low = placed(busy(size, 1), PictureFrame{{0.1, 0.1}, 0.9, 0.9, 9}, 1);
  auto high = placed(busy(size, 2), CameraLay{eye_before(*wall, 0.9, 40, size)}, 2);
  high->fade = 0.3;
  const auto on_wall = all(wall, {low, high}, 0.004);
  constexpr int n = DrapedTile::kSide;
  for (int b = 0; b < on_wall->tiles_up(); ++b)
    for (int a = 0; a < on_wall->tiles_across(); ++a) {
      const double s = on_wall->spacing();
      const auto raster = on_wall->draw({(a * n - 0.5) * s, (b * n - 0.5) * s}, s, n, n);
      const auto tile = on_wall->tile(a, b);
      for (int y = 0; y < n; ++y)
        for (int x = 0; x < n; ++x) {
          const std::uint8_t* p = raster.rgba.data() + 4 * ((n - 1 - y) * n + x);
          const std::uint16_t* q = tile ? tile->rgba.data() + 4 * (y * n + x) : nullptr;
          const double opacity = q ? q[3] / 65535.0 : 0;
          const bool in = a * n + x < on_wall->columns() && b * n + y < on_wall->rows();
          if (!in) continue;
          REQUIRE(p[3] == Approx(255 * opacity).margin(0.51));
          for (int c = 0; c < 3 && opacity > 0.01; ++c)
            REQUIRE(p[c] == Approx(255 * (q[c] / 65535.0) / opacity).margin(0.55 + 0.01 / opacity));
        }
    }
}

TEST_CASE("moving one of three pictures makes anew only the tiles under its two places") {
  const auto wall = barrel_wall(1.6, 1.2, 0.8);
  const auto size = PictureSize{300, 300};
  const auto still = placed(busy(size, 1), PictureFrame{{0.05, 0.05}, 1.0, 1.0, 5}, 1);
  const auto seen = placed(busy(size, 2), CameraLay{eye_before(*wall, 0.6, 60, size)}, 2);
  auto first = placed(busy(size, 3), PictureFrame{{0.2, 1.6}, 0.3, 0.3, 0}, 3);
  auto moved = std::make_shared<PlacedPicture>(*first);
  std::get<PictureFrame>(moved->lay).at.v += 0.03;
  const double spacing = 0.001;
  const auto before = all(wall, {still, seen, first}, spacing);
  for (int b = 0; b < before->tiles_up(); ++b)
    for (int a = 0; a < before->tiles_across(); ++a) before->tile(a, b);
  const auto after = all(wall, {still, seen, moved}, spacing, before);
  const double side = DrapedTile::kSide * spacing;
  int kept = 0, anew = 0;
  for (int b = 0; b < after->tiles_up(); ++b)
    for (int a = 0; a < after->tiles_across(); ++a) {
      const bool under = (b + 1) * side > 1.6 - 0.003 && b * side < 1.933 && (a + 1) * side > 0.197 && a * side < 0.503;
      const bool same = after->tile(a, b) == before->tile(a, b);
      kept += same;
      anew += !same;
      if (!under) CHECK(same);
    }
  CHECK(anew > 0);
  CHECK(anew <= 4 * 4);
  CHECK(kept > 80);
  CHECK(same_tiles(*after, *all(wall, {still, seen, moved}, spacing)));
  // Only its name is another: nothing is made anew.
  auto named = std::make_shared<PlacedPicture>(*moved);
  named->name = "another";
  const auto again = all(wall, {still, seen, named}, spacing, after);
  bool same = true;
  for (int b = 0; b < again->tiles_up(); ++b)
    for (int a = 0; a < again->tiles_across(); ++a) same = same && again->tile(a, b) == after->tile(a, b);
  CHECK(same);
  // Order, crop, mask and fade are seen.
  CHECK_FALSE(same_tiles(*all(wall, {seen, still, named}, spacing, again), *again));
  CHECK(same_tiles(*all(wall, {seen, still, named}, spacing, again), *all(wall, {seen, still, named}, spacing)));
  named = std::make_shared<PlacedPicture>(*named);
  named->fade = 0.5;
  CHECK(same_tiles(*all(wall, {still, seen, named}, spacing, again), *all(wall, {still, seen, named}, spacing)));
}

TEST_CASE("a tile not asked for in between is taken over from further back") {
  const auto wall = flat_wall(1, 0.3);
  const auto a = placed(busy({100, 100}, 1), PictureFrame{{0, 0}, 0.1, 0.1, 0}, 1);
  auto b = placed(busy({100, 100}, 2), PictureFrame{{0.8, 0}, 0.1, 0.1, 0}, 2);
  auto draped = all(wall, {a, b}, 0.001);
  const auto tile = draped->tile(0, 0);
  REQUIRE(tile);
  for (int k = 0; k < 3; ++k) {
    b = std::make_shared<PlacedPicture>(*b);
    std::get<PictureFrame>(b->lay).at.u -= 0.01;
    draped = all(wall, {a, b}, 0.001, draped);
  }
  CHECK(draped->tile(0, 0) == tile);
}

TEST_CASE("the same bytes on one thread and on many") {
  const auto wall = dome_wall(1.2, 0.5);
  const auto size = PictureSize{300, 300};
  const std::vector<PlacedRef> pictures{placed(busy(size, 1), PictureFrame{{0.1, 0.1}, 1.0, 1.0, 9}, 1),
                                        placed(busy(size, 2), CameraLay{eye_before(*wall, 0.9, 40, size)}, 2)};
  const auto draw = [&] { return all(wall, pictures, 0.002)->draw({-0.01, -0.01}, 0.0013, 1100, 1100).rgba; };
  const auto many = draw();
  const WorkerLimit one(1);
  CHECK(draw() == many);
  const auto in_order = all(wall, pictures, 0.002), at_once = all(wall, pictures, 0.002);
  {
    std::vector<std::jthread> threads;
    for (int t = 0; t < 4; ++t)
      threads.emplace_back([&, t] {
        const int count = at_once->tiles_across() * at_once->tiles_up();
        for (int n = 0; n < count; ++n) {
          const int m = (n * 7 + t * 3) % count;
          at_once->tile(m % at_once->tiles_across(), m / at_once->tiles_across());
        }
      });
  }
  CHECK(same_tiles(*in_order, *at_once));
}

TEST_CASE("cancelling leaves an empty raster, and progress rises to the end") {
  const auto on_wall = all(flat_wall(1, 1), {placed(busy({200, 200}, 1), PictureFrame{{0, 0}, 1, 1, 0})}, 0.002);
  Progress progress;
  double last = -1;
  bool rises = true;
  progress.report = [&](double f, std::string_view) {
    rises = rises && f >= last;
    last = f;
  };
  CHECK(on_wall->draw({0, 0}, 0.002, 500, 500, &progress).width == 500);
  CHECK(rises);
  CHECK(last == 1);
  progress.cancelled = true;
  const Raster none = on_wall->draw({0, 0}, 0.002, 500, 500, &progress);
  CHECK(none.width == 0);
  CHECK(none.rgba.empty());
  CHECK(draw_whole(*on_wall, 300, &progress).width == 0);
}

TEST_CASE("what stands between an eye and the wall leaves its shadow bare") {
  const auto wall = flat_wall(2, 1.5);
  const auto size = PictureSize{400, 300};
  const Camera eye = eye_before(*wall, 3, 45, size);
  const auto on = *wall->chart->locate({1, 0.75});
  const Vec3 middle = position(wall->mesh(), on), n = normal(wall->mesh(), on);
  const Vec3 along = glm::normalize(*wall->position({1.5, 0.75}) - middle);
  // A panel 1 m before the wall and a rod of 4 mm: thinner than the samples that are asked first.
  for (const Vec2 panel : {Vec2(0.5, 0.4), Vec2(0.004, 0.6), Vec2(0.03, 0.03)}) {
    const auto plain_panel = flat_wall(panel.x, panel.y);
    const auto its = *plain_panel->chart->locate({0.5 * panel.x, 0.5 * panel.y});
    const Vec3 its_along =
        glm::normalize(*plain_panel->position({panel.x, 0.5 * panel.y}) - *plain_panel->position({0, 0.5 * panel.y}));
    REQUIRE(glm::dot(its_along, along) == Approx(1));  // both as built: not turned
    const Vec3 centre = middle + n * 1.0 + along * 0.13 + Vec3(0, 0, 0.07);
    const auto before = built(flat_spec(panel.x, panel.y), 0, {centre - position(plain_panel->mesh(), its), 0});
    const double spacing = 0.003;
    const auto picture = placed(plain({100, 100, 100, 255}, size), CameraLay{eye});
    const auto on_wall = all(wall, {picture}, spacing, nullptr, {before});
    int bare = 0;
    for (int j = 0; j < on_wall->rows(); ++j)
      for (int i = 0; i < on_wall->columns(); ++i) {
        const ChartPoint p = place(*on_wall, i, j);
        const Vec3 at = *wall->position(p);
        const auto pixel = project(eye, at);
        if (!pixel || pixel->x < 2 || pixel->y < 2 || pixel->x > 398 || pixel->y > 298) continue;
        const Vec3 hit = eye.eye + (at - eye.eye) * (2.0 / 3);  // where the line of sight meets the panel's plane
        const double dx = std::abs(glm::dot(hit - centre, along)) - 0.5 * panel.x,
                     dy = std::abs(hit.z - centre.z) - 0.5 * panel.y;
        if (std::abs(std::max(dx, dy)) < 1e-6) continue;  // on the edge
        const bool hidden = std::max(dx, dy) < 0;
        REQUIRE((working_sample(*on_wall, i, j)[3] == 0) == hidden);
        REQUIRE(on_wall->covers(p) == !hidden);
        bare += hidden;
      }
    CHECK(bare > 0.8 * 2.25 * panel.x * panel.y / (spacing * spacing));
  }
}

TEST_CASE("a wall's own far side and folds stay bare") {
  const auto wall = apse_wall(1.2, 0.8);
  const auto size = PictureSize{300, 300};
  const auto box = wall->chart->box();
  const auto on = *wall->chart->locate({0.1 * box.width, 0.3 * box.height});
  // Low beside one end, looking across: near parts turn away.
  const Vec3 at = position(wall->mesh(), on), n = normal(wall->mesh(), on);
  const auto far = *wall->position({0.8 * box.width, 0.5 * box.height});
  const Vec3 eye = at - 0.05 * n;
  const Camera camera = eye_camera(eye, far, {0, 0, 1}, 70, size).value();
  const auto on_wall = all(wall, {placed(plain({100, 100, 100, 255}, size), CameraLay{camera})}, 0.005);
  const Sight sight(wall, {}, eye);
  int seen = 0, hidden = 0;
  for (int j = 0; j < on_wall->rows(); ++j)
    for (int i = 0; i < on_wall->columns(); ++i) {
      const auto where = wall->chart->locate(place(*on_wall, i, j));
      const auto pixel = where ? project(camera, position(wall->mesh(), *where)) : std::nullopt;
      if (!pixel || pixel->x < 2 || pixel->y < 2 || pixel->x > 298 || pixel->y > 298) continue;
      const bool sees = sight.sees(position(wall->mesh(), *where), normal(wall->mesh(), *where));
      CHECK((working_sample(*on_wall, i, j)[3] > 0) == sees);
      (sees ? seen : hidden) += 1;
    }
  CHECK(seen + hidden > 500);
}

TEST_CASE("nothing shows off the wall: openings, and beyond a round border") {
  const Opening window{OpeningKind::rect, {0.4, 0.3}, 0.2, 0.25, {}};
  const auto wall = build_wall(flat_spec(1, 1), {}, "test wall", 0, std::span(&window, 1)).value();
  const auto whole = placed(plain({10, 10, 10, 255}), PictureFrame{{-1, -1}, 3, 3, 0});
  const auto on_wall = all(wall, {whole}, 0.0071);
  for (int j = 0; j < on_wall->rows(); ++j)
    for (int i = 0; i < on_wall->columns(); ++i) {
      const ChartPoint p = place(*on_wall, i, j);
      const bool open = p.u > 0.4 && p.u < 0.6 && p.v > 0.3 && p.v < 0.55;
      REQUIRE((working_sample(*on_wall, i, j)[3] == 0) == open);
      REQUIRE(on_wall->covers(p) == !open);
    }
  const auto dome = dome_wall(1, 0.5, 1e-4);
  const auto on_dome = all(dome, {whole}, 0.01);
  for (int j = 0; j < on_dome->rows(); ++j)
    for (int i = 0; i < on_dome->columns(); ++i)
      REQUIRE((working_sample(*on_dome, i, j)[3] > 0) == dome->position(place(*on_dome, i, j)).has_value());
}

TEST_CASE("a place counts as covered where the picture's own pixels show") {
  const auto half = ruled({200, 100}, [](int x, int) {
    return std::array<std::uint8_t, 4>{1, 2, 3, static_cast<std::uint8_t>(x < 100 ? 0 : 255)};
  });
  const auto wall = flat_wall(2, 1);
  const auto picture = placed(half, PictureFrame{{0, 0}, 2, 1, 0});
  const auto on_wall = all(wall, {picture});
  CHECK_FALSE(on_wall->covers({0.5, 0.5}));
  CHECK(on_wall->covers({1.5, 0.5}));
  CHECK_FALSE(on_wall->covers({2.5, 0.5}));
  auto missing = std::make_shared<PlacedPicture>(*picture);
  missing->pixels = nullptr;
  const auto bare = all(wall, {missing});
  CHECK_FALSE(bare->covers({1.5, 0.5}));
  CHECK(bare->tile(0, 0) == nullptr);
  CHECK(bare->draw({0, 0}, 0.1, 20, 10).rgba == std::vector<std::uint8_t>(800, 0));
}

TEST_CASE("the working spacing is the finest picture's pixel and stays when a picture is moved a little") {
  const auto wall = flat_wall(4, 3);
  const auto coarse = placed(busy({100, 100}, 1), PictureFrame{{0, 0}, 1.3, 1.3, 0}, 1);
  CHECK(all(wall, {coarse})->spacing() == Approx(0.013));
  auto fine = placed(busy({100, 100}, 2), PictureFrame{{2, 1}, 0.5, 0.5, 33}, 2);
  CHECK(all(wall, {coarse, fine})->spacing() == Approx(0.005));
  auto finest = placed(busy({100, 100}, 2), PictureFrame{{2, 1}, 0.02, 0.02, 33}, 3);
  CHECK(all(wall, {coarse, finest})->spacing() == Approx(0.001));
  CHECK(all(wall, {coarse, finest})->finest() == Approx(0.0002));
  // Before a 4 m wall at 3 m, 60 degrees over 800 px: about 3 * 2 tan 30 / 800 = 4.3 mm a pixel.
  const auto size = PictureSize{800, 600};
  std::mt19937 rng(4);
  std::uniform_real_distribution<double> step(-0.02, 0.02);
  for (int k = 0; k < 20; ++k) {
    Camera eye = eye_before(*wall, 3, 60, size);
    eye.eye += Vec3(step(rng), step(rng), step(rng));
    const auto seen = all(wall, {placed(plain({9, 9, 9, 255}, size), CameraLay{eye})});
    CHECK(seen->spacing() == Approx(0.004));
  }
  const auto huge = all(flat_wall(40, 30), {finest});
  CHECK(static_cast<double>(huge->columns()) * huge->rows() <= 4097.0 * 4097);
  CHECK(static_cast<double>(huge->columns()) * huge->rows() > 15.5e6);
}
