#include <catch2/catch.hpp>
#include <set>

#include "engine/cartoon/squared_picture.h"
#include "tests/cartoon/reader.h"
#include "tests/fixtures/cartoons.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

std::vector<DrawnPath> of_width(const std::vector<DrawnPath>& paths, double mm) {
  std::vector<DrawnPath> out;
  for (const DrawnPath& p : paths)
    if (std::abs(p.width_mm - mm) < 0.005 && p.rgb[0] + p.rgb[1] + p.rgb[2] < 0.01) out.push_back(p);
  return out;
}

Vec2 lowest(const DrawnPath& p) {
  Vec2 low{1e9, 1e9};
  for (const Vec2& q : p.points) low = glm::min(low, q);
  return low;
}

}  // namespace

TEST_CASE("squares are printed on the pattern at their true places") {
  // A barrel unrolls: distances on the print are distances on the wall (closed form), here from the patch's corner.
  auto l = layouts::on(layouts::barrel(4, 3, 2), 0);
  layouts::add_box(l, 0.3, 0.3, 1.1, 0.85);
  auto input = cartoon_input(l);
  input.walls[0].squaring_m = 0.25;
  const TempFolder folder;
  const auto report = write_cartoon(input, folder.path(), {*paper_named("A0")});
  if (!report) FAIL(report.problem().message());
  REQUIRE(report->sheets == 1);
  const auto paths = drawn_paths(folder.file("cartoon.pdf"), 1);
  const auto outline = of_width(paths, 0.4), lines = of_width(paths, 0.18);
  REQUIRE(outline.size() == 1);
  // The sheet may be turned: then up on the wall runs to the left on the page.
  Vec2 low = lowest(outline[0]), high{-1e9, -1e9};
  for (const Vec2& q : outline[0].points) high = glm::max(high, q);
  const bool turned = high.y - low.y > high.x - low.x;
  // Centre line at 1.5 m: uprights at 0.5, 0.75 and 1.0; levels at 0.5 and 0.75.
  std::set<int> uprights, levels;
  for (const DrawnPath& line : lines) {
    const Vec2 d = line.points.back() - line.points.front();
    const bool upright = (std::abs(d.y) > std::abs(d.x)) != turned;
    for (const Vec2& q : line.points) {
      const double mm = 300 + (upright ? (turned ? q.y - low.y : q.x - low.x) : (turned ? high.x - q.x : q.y - low.y));
      const double nearest = std::round(mm / 250) * 250;
      CHECK(std::abs(mm - nearest) < 0.1);
      (upright ? uprights : levels).insert(static_cast<int>(nearest));
    }
  }
  CHECK(uprights == std::set<int>{500, 750, 1000});
  CHECK(levels == std::set<int>{500, 750});
  const std::string words = text_of_page(folder.file("cartoon.pdf"), 1);
  CHECK(words.find("squares of 0.25 m") != std::string::npos);
}

TEST_CASE("without squares asked for none are printed") {
  auto l = layouts::on(layouts::barrel(4, 3, 2), 0);
  layouts::add_box(l, 0.3, 0.3, 1.1, 0.85);
  const auto input = cartoon_input(l);
  const TempFolder folder;
  REQUIRE(write_cartoon(input, folder.path(), {*paper_named("A0")}).ok());
  CHECK(of_width(drawn_paths(folder.file("cartoon.pdf"), 1), 0.18).empty());
}

TEST_CASE("a squared picture carries the wall's lines at the picture's own places") {
  const auto wall = flat_wall(3, 2);
  // 2 m wide from (0.5, 0.5): the line at u = 1 (the centre line is 1.5) lies a quarter across.
  const auto picture = placed(*ruled_picture(400, 200), PictureFrame{{0.5, 0.5}, 2, 1, 0});
  const TempFolder folder;
  const auto written = write_squared_picture(*wall, *picture, 0.5, folder.file("sketch.pdf"));
  if (!written) FAIL(written.problem().message());
  const auto paths = drawn_paths(folder.file("sketch.pdf"), 1);
  std::vector<double> across;
  double left = 1e9, width = 0;
  for (const DrawnPath& p : paths)
    if (p.closed && p.points.size() >= 4) {
      Vec2 low = lowest(p), high{-1e9, -1e9};
      for (const Vec2& q : p.points) high = glm::max(high, q);
      if (high.x - low.x > width) left = low.x, width = high.x - low.x;
    }
  for (const DrawnPath& p : of_width(paths, 0.3)) {
    const Vec2 d = p.points.back() - p.points.front();
    if (!p.closed && std::abs(d.y) > 10 * std::abs(d.x)) across.push_back((p.points[0].x - left) / width);
  }
  std::sort(across.begin(), across.end());
  REQUIRE(across.size() == 5);  // 0.5, 1.0, 1.5, 2.0, 2.5 m
  for (std::size_t k = 0; k < 5; ++k) CHECK(across[k] == Approx(0.25 * static_cast<double>(k)).margin(1e-3));
}

TEST_CASE("a squared picture is refused in plain words and leaves nothing behind") {
  const auto wall = flat_wall(3, 2);
  auto picture =
      std::make_shared<PlacedPicture>(*placed(*ruled_picture(40, 20), PictureFrame{{0.52, 0.52}, 0.2, 0.1, 0}));
  const TempFolder folder;
  CHECK_FALSE(write_squared_picture(*wall, *picture, 0.5, folder.file("a.png")).ok());  // between two lines
  CHECK_FALSE(write_squared_picture(*wall, *picture, 0.01, folder.file("a.gif")).ok());
  CHECK_FALSE(write_squared_picture(*wall, *picture, 0, folder.file("a.png")).ok());
  CHECK_FALSE(write_squared_picture(*wall, *picture, 0.01, folder.file("no/such/a.png")).ok());
  picture->pixels = nullptr;
  CHECK_FALSE(write_squared_picture(*wall, *picture, 0.01, folder.file("a.png")).ok());
  CHECK(std::filesystem::is_empty(folder.path()));
}
