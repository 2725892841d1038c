// A design made to be seen from one place, laid by that eye and looked at from it again.
#include "engine/picture/eye_view.h"

#include <catch2/catch.hpp>
#include <thread>

#include "engine/base/parallel.h"
#include "tests/picture/eye_scenes.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kHalfMinute = 0.5 / 60 * kPi / 180;  // rad

double angle_between(const Vec3& a, const Vec3& b) { return std::atan2(glm::length(glm::cross(a, b)), glm::dot(a, b)); }

// The direction in which a pixel of a flat original stands before the eye: straight from the definition of an eye at
// distance d before a picture of width 2 d tan(angle / 2), not by Camera.
Vec3 flat_original(const EyeScene& scene, double angle_deg, PictureSize size, Vec2 pixel) {
  const Vec3 ahead = glm::normalize(scene.look - scene.eye);
  const Vec3 right = glm::normalize(glm::cross(ahead, scene.up)), down = glm::cross(ahead, right);
  const double half = std::tan(angle_deg / 2 * kPi / 180);
  return glm::normalize(ahead + (2 * pixel.x / size.width - 1) * half * right +
                        (2 * pixel.y - size.height) / size.width * half * down);
}

// Middle of the darkness within `reach` px of a pixel; nothing where there is next to none.
std::optional<Vec2> dot_near(const Image& image, Vec2 at, int reach, double least_ink) {
  double ink = 0;
  Vec2 sum{0, 0};
  for (int y = static_cast<int>(at.y) - reach; y <= static_cast<int>(at.y) + reach; ++y)
    for (int x = static_cast<int>(at.x) - reach; x <= static_cast<int>(at.x) + reach; ++x) {
      if (x < 0 || y < 0 || x >= image.width || y >= image.height) return std::nullopt;
      const double dark = 1 - image.rgb[static_cast<std::size_t>(3 * (y * image.width + x))] / 255.0;
      ink += dark, sum += dark * Vec2(x + 0.5, y + 0.5);
    }
  return ink > least_ink ? std::optional<Vec2>(sum / ink) : std::nullopt;
}

constexpr double kAngle = 56;
const PictureSize kDesign{2000, 1500};

std::vector<Vec2> lattice() {
  std::vector<Vec2> out;
  for (int j = 0; j < 13; ++j)
    for (int i = 0; i < 17; ++i) out.push_back({83.3 + 114.7 * i, 71.9 + 113.1 * j});
  return out;
}

Camera design_eye(const EyeScene& scene) {
  return eye_camera(scene.eye, scene.look, scene.up, kAngle, kDesign).value();
}

double worst_on_surface(const EyeScene& scene) {
  const CameraLay lay{design_eye(scene)};
  Random random(21);
  const auto box = scene.wall->chart->box();
  double worst = 0;
  int met = 0;
  for (int k = 0; k < 40'000; ++k) {
    const ChartPoint p{random.uniform(0, box.width), random.uniform(0, box.height)};
    const auto on = scene.wall->chart->locate(p);
    if (!on) continue;
    const auto pixel = pixel_at(lay, {}, kDesign, p, position(scene.wall->mesh(), *on));
    if (!pixel || pixel->x < 0 || pixel->y < 0 || pixel->x > kDesign.width || pixel->y > kDesign.height) continue;
    ++met;
    worst =
        std::max(worst, angle_between(flat_original(scene, kAngle, kDesign, *pixel), scene.exact(p).place - scene.eye));
  }
  CHECK(met > 2000);
  return worst;
}

// Laid by the eye, seen again by a camera that is turned, of another width and other pixels.
void check_dots(const EyeScene& scene) {
  const auto middles = lattice();
  constexpr double kRadius = 9;
  const auto picture = placed(dots(kDesign, middles, kRadius), CameraLay{design_eye(scene)});
  const auto draped = Draped::make({scene.wall, {picture}, {scene.screen}});
  const PictureSize seen_size{1700, 1500};
  const Vec3 ahead = glm::normalize(scene.look - scene.eye);
  const Vec3 tilted = scene.up + 0.25 * glm::normalize(glm::cross(ahead, scene.up));
  const auto camera =
      eye_camera(scene.eye, scene.look + 0.1 * glm::length(scene.look - scene.eye) * tilted, tilted, 66, seen_size);
  REQUIRE(camera.ok());
  EyeViewOptions options;
  options.shaded = false;
  const std::vector<SeenWall> walls{{scene.wall, draped}, {scene.screen, nullptr}};
  const auto seen = eye_view(walls, *camera, seen_size, options);
  REQUIRE(seen.ok());

  double worst = 0;
  int found = 0, bare = 0;
  for (const Vec2& m : middles) {
    // Whole dots only: their rim on one side of every edge.
    const Vec3 direction = flat_original(scene, kAngle, kDesign, m);
    bool whole = true, hidden = true;
    for (int k = 0; k < 24; ++k) {
      const Vec2 rim = m + 2.5 * kRadius * Vec2(std::cos(k * kPi / 12), std::sin(k * kPi / 12));
      const auto hit = scene.wall->pick.cast(scene.eye, flat_original(scene, kAngle, kDesign, rim));
      if (!hit) {
        whole = hidden = false;
        break;
      }
      const double behind = scene.behind_screen(position(scene.wall->mesh(), hit->point));
      whole = whole && behind < 0;
      hidden = hidden && behind > 0;
    }
    const auto expected = project(*camera, scene.eye + direction);
    if (!expected || (!whole && !hidden)) continue;
    const bool in_frame = expected->x > 20 && expected->y > 20 && expected->x < seen_size.width - 20 &&
                          expected->y < seen_size.height - 20;
    if (!hidden && !in_frame) continue;
    const auto dot = dot_near(*seen, *expected, 13, 60);
    if (hidden) {
      // The wall behind the screen stays bare: nothing was laid there.
      const auto hit = scene.wall->pick.cast(scene.eye, direction);
      CHECK_FALSE(draped->covers(scene.wall->chart->address(hit->point)));
      ++bare;
      continue;
    }
    INFO("dot at " << m.x << ", " << m.y << ", looked for at " << expected->x << ", " << expected->y);
    REQUIRE(dot);
    worst = std::max(worst, angle_between(sight_line(*camera, *dot).value(), direction));
    ++found;
  }
  WARN("worst dot " << worst * 180 / kPi * 60 << " minutes of arc, " << found << " seen, " << bare << " hidden");
  CHECK(worst < kHalfMinute);
  CHECK(found > 20);
  CHECK(bare > 5);
}

// Where the draped design shows, and where the wall was left bare, by the closed form of what hides it.
void check_bare(const EyeScene& scene) {
  const Image white{4, 3, std::vector<std::uint8_t>(36, 255)};
  auto camera = eye_camera(scene.eye, scene.look, scene.up, 140, white);
  const auto draped = Draped::make({scene.wall, {placed(white, CameraLay{*camera})}, {scene.screen}}, nullptr, 0.01);
  Random random(22);
  const auto box = scene.wall->chart->box();
  int shown = 0, bare = 0, wrong = 0;
  for (int k = 0; k < 4000; ++k) {
    const ChartPoint p{random.uniform(0, box.width), random.uniform(0, box.height)};
    if (!scene.wall->chart->locate(p)) continue;
    const Vec3 place = scene.exact(p).place;
    const auto pixel = project(*camera, place);
    if (!pixel || pixel->x < 0.01 || pixel->y < 0.01 || pixel->x > 3.99 || pixel->y > 2.99) continue;
    const double behind = scene.behind_screen(place);
    if (std::abs(behind) < 1e-3) continue;
    ++(behind < 0 ? shown : bare);
    wrong += draped->covers(p) != (behind < 0);
  }
  CHECK(wrong == 0);
  CHECK(shown > 300);
  CHECK(bare > 300);
}

}  // namespace

TEST_CASE("every place of a barrel and of a dome gets the pixel of the flat original that stands before it") {
  for (const auto& scene : {barrel_scene(), dome_scene()}) {
    const double worst = worst_on_surface(scene);
    WARN("worst place " << worst * 180 / kPi * 60 << " minutes of arc");
    CHECK(worst < kHalfMinute);
  }
}

TEST_CASE("a design laid by an eye on a barrel, a holed wall before it, looks like the flat original to 0.5'") {
  check_dots(barrel_scene());
}

TEST_CASE("a design laid by an eye on a dome, partly behind a wall, looks like the flat original to 0.5'") {
  check_dots(dome_scene());
}

TEST_CASE("what the eye does not see of a wall stays bare") {
  check_bare(barrel_scene());
  check_bare(dome_scene());
}

TEST_CASE("the nearest wall is seen, its painted side with its picture, its back without") {
  Image red{1, 1, {255, 0, 0}};
  const auto near = flat_wall(2, 2);  // painted at y < 0
  const auto far = build_wall(flat_spec(6, 6), {{-2, 1, -2}, 0}, "far").value();
  const auto red_near = draped(near, red, PictureFrame{{0, 0}, 2, 2, 0});
  Image blue{1, 1, {0, 0, 255}};
  const auto blue_far = draped(far, blue, PictureFrame{{0, 0}, 6, 6, 0});
  const std::vector<SeenWall> walls{{far, blue_far}, {near, red_near}};
  const PictureSize size{90, 90};
  const auto look = [&](const Vec3& eye) {
    return eye_view(walls, eye_camera(eye, {1, 0.5, 1}, {0, 0, 1}, 70, size).value(), size).value();
  };
  const auto pixel = [](const Image& image, int x, int y) {
    const auto* p = image.rgb.data() + 3 * (y * image.width + x);
    return std::array<int, 3>{p[0], p[1], p[2]};
  };
  const Image before = look({1, -2, 1});
  CHECK(pixel(before, 45, 45) == std::array{255, 0, 0});
  CHECK(pixel(before, 2, 45) == std::array{0, 0, 255});
  const Image behind = look({1, 3, 1});  // both are seen from behind: masonry, no picture
  for (const int x : {2, 45}) {
    const auto c = pixel(behind, x, 45);
    CHECK(c[0] > 90);
    CHECK(std::abs(c[0] - c[2]) < 40);
  }
  const auto nothing = eye_view(walls, eye_camera({1, -2, 1}, {1, -9, 1}, {0, 0, 1}, 70, size).value(), size);
  REQUIRE_FALSE(nothing.ok());
  CHECK(nothing.problem().what.find("nothing of the walls") != std::string::npos);
}

TEST_CASE("a fine pattern seen from far is its mean, not a moire") {
  // Stripes of 1 mm, black and white, seen at some 12 mm a pixel: middle grey all over.
  Image stripes{2000, 4, {}};
  for (int y = 0; y < 4; ++y)
    for (int x = 0; x < 2000; ++x)
      for (int c = 0; c < 3; ++c) stripes.rgb.push_back(x % 2 == 0 ? 0 : 255);
  const auto wall = flat_wall(2, 2);
  const std::vector<SeenWall> walls{{wall, draped(wall, stripes, PictureFrame{{0, 0}, 2, 2, 0})}};
  const PictureSize size{60, 60};
  const auto seen = eye_view(walls, eye_camera({1, -1.3, 1}, {1, 0, 1}, {0, 0, 1}, 30, size).value(), size).value();
  for (int x = 5; x < 55; ++x) CHECK(seen.rgb[static_cast<std::size_t>(3 * (30 * 60 + x))] == Approx(127).margin(6));
}

TEST_CASE("the same view for any number of threads; a stopped one says so") {
  const auto scene = barrel_scene();
  const std::vector<SeenWall> walls{
      {scene.wall, draped(scene.wall, dots({200, 150}, {{60, 60}, {140, 80}}, 20), CameraLay{design_eye(scene)})},
      {scene.screen, nullptr}};
  const PictureSize size{160, 120};
  const auto camera = eye_camera(scene.eye, scene.look, scene.up, 60, size).value();
  const auto many = eye_view(walls, camera, size).value();
  const WorkerLimit one(1);
  CHECK(eye_view(walls, camera, size).value().rgb == many.rgb);
  Progress progress;
  progress.cancelled = true;
  const auto stopped = eye_view(walls, camera, size, {}, &progress);
  REQUIRE_FALSE(stopped.ok());
  CHECK(stopped.problem().what == "stopped");
  CHECK_FALSE(eye_view({}, camera, size).ok());
  CHECK_FALSE(eye_view(walls, camera, {20'000, 20'000}).ok());
}
