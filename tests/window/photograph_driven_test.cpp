// A photograph set onto an apse by hand: the same five places clicked on the photograph and on the wall, the error read
// from what the window says. The photograph is synthetic: a known camera looks at the apse of the demo, on which rings
// are drawn round known chart places, so that the true setting is known in closed form.
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>

#include "engine/document/project_file.h"
#include "tests/window/desk.h"

using namespace pontata;

namespace {

constexpr std::array<ChartPoint, 5> kPlaces{{{0.7, 0.6}, {4.0, 0.8}, {1.45, 3.2}, {3.25, 3.35}, {2.4, 1.9}}};

WallRef demo_apse() {
  const ShapeSpec spec{.kind = ShapeKind::apse, .height = 2.5, .span = 3};
  return build_wall(spec, Placement3{{5.3, 0, 0.7}, -90}, "apse").value();
}

Camera photographer() {
  return eye_camera({1.6, 0.5, 1.7}, {6.3, 0, 2.6}, {0, 0, 1}, 56, PictureSize{1600, 1200}).value();
}

// Light plaster with a grid of fine lines each quarter metre and a ring round each place.
std::array<std::uint8_t, 3> colour_at(ChartPoint p) {
  for (const ChartPoint& place : kPlaces) {
    const double away = std::hypot(p.u - place.u, p.v - place.v);
    if (away < 0.012 || (away > 0.03 && away < 0.05)) return {110, 30, 20};
  }
  const auto near_line = [](double m) { return std::abs(m - 0.25 * std::round(m / 0.25)) < 0.004; };
  if (near_line(p.u) || near_line(p.v)) return {150, 150, 120};
  return {230, 220, 195};
}

Image photograph(const ChartedWall& wall, const Camera& camera) {
  Image image{1600, 1200, std::vector<std::uint8_t>(std::size_t{1600} * 1200 * 3, 60)};
  for (int y = 0; y < image.height; ++y)
    for (int x = 0; x < image.width; ++x) {
      const auto hit = wall.pick.cast(camera.eye, *sight_line(camera, {x + 0.5, y + 0.5}));
      if (!hit) continue;
      const auto colour = colour_at(wall.chart->address(hit->point));
      std::copy(colour.begin(), colour.end(), image.rgb.begin() + (std::ptrdiff_t{y} * image.width + x) * 3);
    }
  return image;
}

void add_picture(const Desk& desk, const std::string& path) {
  desk.stage("Design");
  desk.press_control("design.choose");
  desk.choose_file(path);
  desk.wait("the picture", [](const Json& s) { return s["picture"] != "" && s["work"] == ""; });
}

void mark_pixel(const Desk& desk, Vec2 pixel) {
  desk.press_control("pair.whole-picture");
  desk.wait("the whole photograph", [](const Json& s) {
    const Json view = s["picture_view"];
    return std::abs(view["px_per_pixel"].get<double>() * 1200 / view["at"][3].get<double>() - 0.95) < 0.05;
  });
  desk.near_pixel(pixel.x, pixel.y, 4);
  desk.point_at_pixel(pixel.x, pixel.y);
  desk.click();
}
void mark_wall(const Desk& desk, ChartPoint place) {
  desk.press_control("fit");
  desk.wait("the whole apse", [](const Json& s) {  // its chart is 4.856 m high: the drum and a quarter of a circle
    return std::abs(s["flat_map"]["px_per_m"].get<double>() * 4.856 / s["views"]["flat"][3].get<double>() - 0.92) <
           0.07;
  });
  desk.near(place.u, place.v, 0.4);
  desk.point_at(place.u, place.v);
  desk.click();
}

}  // namespace

TEST_CASE("a photograph is set onto an apse by five points clicked on both, and its likely error is told") {
  Desk desk;
  const WallRef wall = demo_apse();
  const Camera camera = photographer();
  const std::string file = desk.file("photograph.png"), project = desk.file("apse.pontata");
  REQUIRE(write_png(photograph(*wall, camera), file));
  desk.verb("wall " + project + " apse --shape apse --span 3m --height 2.5m --at 5.3,0,0.7 --turn -90 2>&1");
  desk.open(project);
  add_picture(desk, file);
  desk.press_control("design.way.points");
  desk.press_control("design.pair-tool");
  desk.wait("the picture itself", [](const Json& s) { return s["tool"] == "Pair" && s["picture_view"].is_object(); });
  desk.screenshot("pair-begun");
  for (std::size_t i = 0; i < kPlaces.size(); ++i) {
    const Vec2 pixel = *pontata::project(camera, *wall->position(kPlaces[i]));
    if (i % 2 == 0) {  // in either order
      mark_pixel(desk, pixel);
      mark_wall(desk, kPlaces[i]);
    } else {
      mark_wall(desk, kPlaces[i]);
      mark_pixel(desk, pixel);
    }
    desk.wait("a pair more", [&](const Json& s) { return s["pairs"]["whole"] == i + 1; });
  }
  desk.press_control("pair.whole-picture");
  desk.press_control("fit");
  const Json told = desk.wait("the likely error", [](const Json& s) {
    return s["pairs"]["working"] == false && s["pairs"].contains("likely_px") && s["pairs"]["likely_px"].is_number();
  });
  desk.screenshot("pair-five");
  INFO(told["pairs"].dump(1));
  CHECK(told["pairs"]["kind"] == "camera");
  CHECK(told["pairs"]["likely_px"].get<double>() < 4);
  CHECK(told["pairs"]["likely_mm"].get<double>() < 12);
  CHECK(told["undo"].get<std::string>().find("oints") == std::string::npos);  // nothing is set yet
  desk.press_control("pair.set");
  desk.wait("it set", [](const Json& s) { return s["pairs"]["changes"] == 0 && s["pictures"][0]["points"] == 5; });
  desk.wait("its contours", [](const Json& s) { return s["contours"] == true && s["work"] == ""; });
  desk.screenshot("pair-set");
  desk.keys("ctrl+s");
  desk.wait("saved", [](const Json& s) { return s["saved"] == true && s["error"] == false; });

  // The setting against the true camera, at places all over what the photograph shows.
  const auto loaded = open_project(project, LoadOptions{});
  REQUIRE(loaded);
  const PlacedPicture& placed = *loaded->document->walls.front()->pictures.front();
  double sum = 0, most = 0;
  int count = 0;
  for (double v = 0.3; v < 4; v += 0.2)
    for (double u = 0.3; u < 4.5; u += 0.2) {
      const auto at = wall->position({u, v});
      const auto truly = at ? pontata::project(camera, *at) : std::nullopt;
      if (!truly || truly->x < 0 || truly->y < 0 || truly->x > 1600 || truly->y > 1200) continue;
      const auto set = pixel_at(placed.lay, placed.plate, placed.size, {u, v}, *at);
      REQUIRE(set);
      const double off = glm::length(*set - *truly);
      sum += off * off, most = std::max(most, off), ++count;
    }
  REQUIRE(count > 100);
  INFO("root mean square " << std::sqrt(sum / count) << " px, most " << most << " px");
  CHECK(std::sqrt(sum / count) < 2);
  CHECK(most < 6);

  desk.keys("ctrl+z");  // one step
  desk.wait("it lies as before", [](const Json& s) { return s["pictures"][0]["points"] == 0; });
  desk.keys("ctrl+shift+z");
  desk.wait("it set again", [](const Json& s) { return s["pictures"][0]["points"] == 5; });
  desk.keys("ctrl+q");
}

TEST_CASE("marks are moved, taken back and taken away by mouse and keys, and choose nothing of the project") {
  Desk desk;
  Image image{300, 200, std::vector<std::uint8_t>(300 * 200 * 3, 200)};
  REQUIRE(write_png(image, desk.file("sketch.png")));
  const std::string project = desk.file("flat.pontata");
  desk.verb("wall " + project + " nave --shape flat --width 3m --height 2m 2>&1");
  desk.open(project);
  add_picture(desk, desk.file("sketch.png"));
  const std::string before = desk.state()["undo"];
  desk.keys("p");
  desk.wait("the picture itself", [](const Json& s) { return s["picture_view"].is_object(); });
  desk.press_control("pair.beside.flat");
  const std::array<Vec2, 3> pixels{{{50, 150}, {250, 150}, {150, 40}}};
  const std::array<ChartPoint, 3> places{{{0.5, 0.5}, {2.5, 0.5}, {1.5, 1.6}}};
  for (std::size_t i = 0; i < 3; ++i) {
    desk.point_at_pixel(pixels[i].x, pixels[i].y);
    desk.click();
    desk.point_at(places[i].u, places[i].v);
    desk.click();
    desk.wait("a pair more", [&](const Json& s) { return s["pairs"]["whole"] == i + 1; });
  }
  const Json told = desk.wait("the error", [](const Json& s) {
    return s["pairs"].contains("likely_px") && s["pairs"]["likely_px"].is_number();
  });
  // Three pairs of one similarity, 1 px to 1 cm; a click is good to half a px of the screen.
  CHECK(told["pairs"]["kind"] == "similarity");
  CHECK(told["pairs"]["likely_mm"].get<double>() < 40);

  desk.point_at(places[2].u, places[2].v);  // the third mark, dragged 30 cm aside
  const auto [x, y] = desk.flat_px(places[2].u + 0.3, places[2].v);
  desk.drag_to(x, y);
  const Json moved = desk.wait("the greater error", [&](const Json& s) {
    return s["pairs"].contains("likely_mm") && s["pairs"]["likely_mm"].is_number() && s["pairs"]["changes"] == 7 &&
           s["pairs"]["likely_mm"].get<double>() > 100;
  });
  CHECK(moved["undo"] == before);
  desk.screenshot("pair-moved");
  desk.keys("ctrl+z");  // the drag is one step
  desk.wait("the mark back", [&](const Json& s) {
    return s["pairs"]["changes"] == 6 && s["pairs"].contains("likely_mm") && s["pairs"]["likely_mm"].is_number() &&
           s["pairs"]["likely_mm"] == told["pairs"]["likely_mm"];
  });
  desk.press_control("pair.row.3");
  desk.press_control("pair.remove");
  desk.wait("two pairs", [](const Json& s) { return s["pairs"]["count"] == 2; });
  desk.point_at_pixel(100, 100);
  desk.click();
  desk.wait("half a pair", [](const Json& s) { return s["pairs"]["count"] == 3 && s["pairs"]["whole"] == 2; });
  desk.keys("Escape");
  desk.wait("it taken back", [](const Json& s) { return s["pairs"]["count"] == 2 && s["tool"] == "Pair"; });
  desk.keys("Escape");
  const Json away = desk.wait("Look, without the picture",
                              [](const Json& s) { return s["tool"] == "Look" && s["picture_view"].is_null(); });
  CHECK(away["undo"] == before);
}
