#include "engine/cartoon/stretch_map.h"

#include <catch2/catch.hpp>
#include <filesystem>

#include "engine/cartoon/level_colours.h"
#include "engine/document/atomic_file.h"
#include "engine/picture/plane_lay.h"
#include "tests/document/folders.h"
#include "tests/fixtures/pictures.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

Image blank(int width, int height) {
  return {width, height, std::vector<std::uint8_t>(3 * static_cast<std::size_t>(width * height), 128)};
}

StretchMap map_of(const WallRef& wall, const Lay& lay) {
  return {"chapel", "vault", wall, placed(blank(600, 200), lay), {}};
}

// Pixels of the map's colours at one share of the ramp, within a grey level or two.
int pixels_like(const Image& image, double share) {
  const Colour c = depth_colour(share);
  int count = 0;
  for (std::size_t k = 0; k < image.rgb.size(); k += 3)
    count += std::abs(image.rgb[k] - 255 * c.red) < 2 && std::abs(image.rgb[k + 1] - 255 * c.green) < 2 &&
             std::abs(image.rgb[k + 2] - 255 * c.blue) < 2;
  return count;
}

}  // namespace

TEST_CASE("the map of an elevation darkens toward the crown and tells the range") {
  const TemporaryFolder folder;
  const auto wall = barrel_wall(4, 6, 2);
  const auto lay = place_by_plane(*wall, blank(600, 200), false, {0, 0}, 6, 0).value();
  const auto path = folder.file("stretch.png");
  const auto report = write_stretch_map(map_of(wall, lay), path, 900, 700);
  REQUIRE(report.ok());
  CHECK(report->least.times == Approx(1).margin(1e-3));
  CHECK(report->greatest.times > 20);  // at the crown it is edge-on
  const Image image = read_image(path).value();
  CHECK(image.width == 900);
  CHECK(image.height == 700);
  CHECK(pixels_like(image, 0.001) > 2000);
  CHECK(pixels_like(image, 1) > 50);
  const auto bytes = read_file(path).value();
  REQUIRE(write_stretch_map(map_of(wall, lay), path, 900, 700).ok());
  CHECK(read_file(path).value() == bytes);
}

TEST_CASE("the map of a picture that is not stretched is light all over") {
  const TemporaryFolder folder;
  const auto wall = barrel_wall(4, 6, 2);
  const auto path = folder.file("stretch.png");
  REQUIRE(write_stretch_map(map_of(wall, PictureFrame{{0, 0}, 6, 2, 0}), path, 900, 700).ok());
  const Image image = read_image(path).value();
  // Its third of the wall; the scale's own bar has as many of every shade.
  CHECK(pixels_like(image, 0) > 20'000);
  CHECK(pixels_like(image, 0.6) < 200);
}

TEST_CASE("a map that cannot be written, or of a picture that shows nowhere, is refused") {
  const TemporaryFolder folder;
  const auto wall = barrel_wall(4, 6, 2);
  const auto unwritable = write_stretch_map(map_of(wall, PictureFrame{{0, 0}, 6, 2, 0}), folder.file("no/such.png"));
  CHECK_FALSE(unwritable.ok());
  const auto path = folder.file("none.png");
  CHECK_FALSE(write_stretch_map(map_of(wall, PictureFrame{{50, 0}, 6, 2, 0}), path).ok());
  CHECK_FALSE(std::filesystem::exists(path));
}
