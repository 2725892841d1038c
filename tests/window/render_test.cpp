// Pictures without a display, and what the window says where there is none.
#include <sys/wait.h>

#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "editor/view/camera.h"
#include "editor/view/flat_sheet.h"
#include "editor/view/render_image.h"
#include "editor/view/state_colours.h"
#include "engine/document/edits.h"
#include "engine/review/heat_line.h"
#include "tests/fixtures/places.h"

using namespace pontata;
namespace fs = std::filesystem;

namespace {

fs::path scratch() {
  const fs::path folder = fs::temp_directory_path() / ("pontata-render-" + std::to_string(::getpid()));
  fs::create_directories(folder);
  return folder;
}

DocumentRef flat_wall_with_giornata() {
  ShapeSpec spec;
  spec.width = 4;
  spec.height = 3;
  auto wall = add_shape_wall({}, "nave", spec, {});
  REQUIRE(wall);
  auto drawn =
      draw_outline(*wall->document, wall->document->walls[0]->id, {{1, 1}, {3, 1}, {3, 2.4}, {1, 2.4}}, false, "");
  REQUIRE(drawn);
  return drawn->document;
}

Image rendered(const Document& doc, const std::string& view) {
  Flow flow;
  RenderOptions options;
  options.view = view;
  options.width = 400;
  options.height = 300;
  const std::string path = (scratch() / (view + ".png")).string();
  const Outcome done = render_image(doc, flow, options, path);
  INFO((done ? std::string() : done.problem().message()));
  REQUIRE(done);
  auto image = read_image(path);
  REQUIRE(image);
  return *image;
}

std::array<int, 3> pixel(const Image& image, Vec2 at) {
  const auto i =
      (static_cast<std::size_t>(at.y) * static_cast<std::size_t>(image.width) + static_cast<std::size_t>(at.x)) * 3;
  return {image.rgb[i], image.rgb[i + 1], image.rgb[i + 2]};
}

}  // namespace

TEST_CASE("a picture is drawn without any display, in both views, and is not blank") {
  ::unsetenv("DISPLAY");
  ::unsetenv("WAYLAND_DISPLAY");
  const DocumentRef doc = flat_wall_with_giornata();
  for (const char* view : {"flat", "3d"}) {
    const Image image = rendered(*doc, view);
    CHECK(image.width == 400);
    CHECK(image.height == 300);
    std::map<std::array<int, 3>, int> colours;
    for (int y = 0; y < 300; ++y)
      for (int x = 0; x < 400; ++x) ++colours[pixel(image, {x, y})];
    CHECK(colours.size() > 20);
  }
}

TEST_CASE("a planned giornata has its state's colour over the plaster, inside its outline only") {
  const Image image = rendered(*flat_wall_with_giornata(), "flat");
  const FlatCamera camera = flat_fit({4, 3}, {400, 300});
  const auto inside = pixel(image, camera.to_px({1.3, 1.3}, {400, 300}));
  const auto outside = pixel(image, camera.to_px({0.5, 0.5}, {400, 300}));
  const Rgb planned = rgb(0xEBDDB0);  // editor/view/state_colours.h
  const std::array<int, 3> tint{planned.r, planned.g, planned.b};
  for (std::size_t c = 0; c < 3; ++c) CHECK(std::abs(inside[c] - (outside[c] + 0.45 * (tint[c] - outside[c]))) < 3);
  CHECK(inside != outside);
}

TEST_CASE("a picture lies where it was put: its corners at its corners, upright") {
  const fs::path file = scratch() / "quarters.png";
  Image quarters{200, 150, std::vector<std::uint8_t>(200 * 150 * 3, 255)};
  for (int y = 0; y < 75; ++y)  // the upper left quarter of the picture is red
    for (int x = 0; x < 100; ++x)
      quarters.rgb[static_cast<std::size_t>((y * 200 + x) * 3 + 1)] =
          quarters.rgb[static_cast<std::size_t>((y * 200 + x) * 3 + 2)] = 0;
  REQUIRE(write_png(quarters, file.string()));
  const DocumentRef doc = flat_wall_with_giornata();
  auto draped = drape_picture(*doc, doc->walls[0]->id, file.string(), {0, 0}, 4, 0, "");
  REQUIRE(draped);
  const Image image = rendered(*draped->document, "flat");
  const FlatCamera camera = flat_fit({4, 3}, {400, 300});
  CHECK(pixel(image, camera.to_px({0.5, 2.5}, {400, 300})) == std::array<int, 3>{255, 0, 0});
  CHECK(pixel(image, camera.to_px({3.5, 2.5}, {400, 300})) == std::array<int, 3>{255, 255, 255});
  CHECK(pixel(image, camera.to_px({0.5, 0.5}, {400, 300})) == std::array<int, 3>{255, 255, 255});
}

namespace {

std::size_t different(const Image& a, const Image& b) {
  std::size_t n = 0;
  for (std::size_t i = 0; i < a.rgb.size(); ++i) n += std::abs(int{a.rgb[i]} - int{b.rgb[i]}) > 8;
  return n;
}

Image rendered_walls(const Document& doc, const std::string& view, const std::string& wall) {
  Flow flow;
  RenderOptions options;
  options.view = view;
  options.wall = wall;
  options.width = 400;
  options.height = 300;
  const std::string path = (scratch() / "walls.png").string();
  REQUIRE(render_image(doc, flow, options, path));
  return *read_image(path);
}

}  // namespace

TEST_CASE("without a wall's name all walls are drawn together, with one only that one") {
  const DocumentRef one = flat_wall_with_giornata();
  ShapeSpec spec;
  spec.width = 4;
  spec.height = 3;
  const auto two = add_shape_wall(*one, "end", spec, {{4, 0, 0}, -90});
  REQUIRE(two);
  for (const char* view : {"3d", "flat"}) {
    const Image both = rendered_walls(*two->document, view, "");
    CHECK(different(rendered_walls(*two->document, view, "nave"), rendered_walls(*one, view, "")) == 0);
    CHECK(different(both, rendered_walls(*one, view, "")) > 5000);
    CHECK(different(both, rendered_walls(*two->document, view, "end")) > 5000);
  }
}

TEST_CASE("charts side by side: at one scale, apart from each other, in order, with room for their names") {
  const std::vector<ChartBox> charts{{6, 6.3}, {6, 3}, {0.4, 0.2}, {1, 9}, {6, 3}};
  const ViewSize picture{1200, 900};
  const FlatSheet sheet = lay_out_charts(charts, picture, 20, 25);
  REQUIRE(sheet.cells.size() == charts.size());
  for (std::size_t i = 0; i < charts.size(); ++i) {
    const SheetCell& a = sheet.cells[i];
    CHECK(a.size.width == Approx(charts[i].width * sheet.metre_px));
    CHECK(a.size.height == Approx(charts[i].height * sheet.metre_px));
    CHECK(a.corner.x >= 19.9);
    CHECK(a.corner.y >= 19.9);
    CHECK(a.corner.x + a.size.width <= picture.width - 19.9);
    CHECK(a.corner.y + a.size.height + 25 <= picture.height - 19.9);
    for (std::size_t j = 0; j < i; ++j) {
      const SheetCell& b = sheet.cells[j];
      const bool beside = b.corner.x + b.size.width <= a.corner.x - 19.9;
      const bool above = b.corner.y + b.size.height + 25 <= a.corner.y + 0.1;
      CHECK((beside || above));
    }
  }
}

TEST_CASE("seams are drawn by how much they show from an eye point, with what the grades mean") {
  const DocumentRef doc = flat_wall_with_giornata();
  const std::string path = (scratch() / "heat.png").string();
  Flow flow;
  RenderOptions options;
  options.width = 800, options.height = 600;
  const auto pixels_of = [](const Image& image, Rgb c, int from_row, int to_row) {
    int n = 0;
    for (int y = from_row; y < to_row; ++y)
      for (int x = 0; x < image.width; ++x) {
        const std::size_t at =
            3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width) + static_cast<std::size_t>(x));
        n += std::abs(image.rgb[at] - c.r) + std::abs(image.rgb[at + 1] - c.g) + std::abs(image.rgb[at + 2] - c.b) < 12;
      }
    return n;
  };
  // 2 m before the wall a joint of 1 mm is 1.7 minutes of arc wide: it shows plainly. From behind nothing is seen.
  const Rgb plain = rgb(heat_grades().back().rgb);
  for (const std::string view : {"flat", "3d"}) {
    INFO(view);
    options.view = view;
    options.seams_from = EyePoint{"door", {2, -2, 1.6}};
    REQUIRE(render_image(*doc, flow, options, path));
    const Image near = *read_image(path);
    CHECK(pixels_of(near, plain, 0, 520) > 300);
    CHECK(pixels_of(near, rgb(heat_grades().front().rgb), 520, 600) > 15);  // the legend has all grades
    options.seams_from = EyePoint{"behind", {2, 2, 1.6}};
    REQUIRE(render_image(*doc, flow, options, path));
    CHECK(pixels_of(*read_image(path), plain, 0, 520) == 0);
  }
}

TEST_CASE("drawing refuses what it cannot draw, and leaves no file") {
  const DocumentRef doc = flat_wall_with_giornata();
  const std::string path = (scratch() / "none.png").string();
  Flow flow;
  RenderOptions options;
  options.wall = "choir";
  CHECK_FALSE(render_image(*doc, flow, options, path));
  options = {};
  options.view = "side";
  CHECK_FALSE(render_image(*doc, flow, options, path));
  options = {};
  options.width = 4;
  CHECK_FALSE(render_image(*doc, flow, options, path));
  CHECK_FALSE(render_image(Document{}, flow, {}, path));
  CHECK_FALSE(fs::exists(path));
  CHECK_FALSE(render_image(*doc, flow, {}, "/nowhere/at/all.png"));
}

TEST_CASE("without a display the window says so in one line and the verbs are named") {
  const fs::path said = scratch() / "said.txt";
  const std::string command =
      "env -u DISPLAY -u WAYLAND_DISPLAY " + fixtures::program_path() + " edit > /dev/null 2> " + said.string();
  const int status = std::system(command.c_str());
  CHECK(WEXITSTATUS(status) == 1);
  std::ifstream in(said);
  std::stringstream text;
  text << in.rdbuf();
  const std::string line = text.str();
  CHECK(std::count(line.begin(), line.end(), '\n') == 1);
  CHECK(line.find("display") != std::string::npos);
  CHECK(line.find("verb") != std::string::npos);
}
