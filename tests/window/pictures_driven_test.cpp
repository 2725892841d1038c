// The pictures of a wall by hand: their order, fade, part that shows, and the Lay tool.
#include <catch2/catch.hpp>
#include <cmath>

#include "engine/picture/image.h"
#include "tests/window/desk.h"

using namespace pontata;

namespace {

// A barrel of 4 m span and 6 m length (its chart is 6 m by 2 pi m and isometric) with two pictures, each 1.5 m wide.
std::string make_vault(const Desk& desk) {
  const std::string project = desk.file("vault.pontata");
  desk.verb("wall " + project + " vault --shape barrel --span 4m --length 6m --rise 2m 2>&1");
  for (const auto& [name, shade, at] :
       {std::tuple{"border", std::uint8_t{90}, "1,1"}, std::tuple{"scene", std::uint8_t{190}, "2,1.5"}}) {
    Image image{300, 200, std::vector<std::uint8_t>(300 * 200 * 3, shade)};
    for (std::size_t i = 0; i < image.rgb.size(); i += 3) image.rgb[i] = static_cast<std::uint8_t>(i / 900);
    REQUIRE(write_png(image, desk.file(std::string(name) + ".png")));
    desk.verb("picture " + project + " vault " + desk.file(std::string(name) + ".png") + " --width 1.5m --at " + at +
              " 2>&1");
  }
  return project;
}

std::string undo_of(const Json& s) { return s["undo"]; }

}  // namespace

TEST_CASE("pictures change their order, fade and name on the Design page, each by one step") {
  Desk desk;
  desk.open(make_vault(desk));
  desk.stage("Design");
  const Json first = desk.wait("both pictures", [](const Json& s) { return s["pictures"].size() == 2; });
  CHECK(first["picture"] == "scene");  // the topmost one
  CHECK(first["undo"] == "");
  desk.screenshot("design-page");

  desk.press_control("design.picture.border");
  desk.wait("it chosen", [](const Json& s) { return s["picture"] == "border"; });
  desk.press_control("design.up");
  desk.wait("it on top",
            [](const Json& s) { return s["pictures"][1]["name"] == "border" && s["picture"] == "border"; });

  desk.point_at_control("design.fade");
  const Json bar = desk.state()["controls"]["design.fade"];
  const double x = bar[0].get<double>(), y = bar[1].get<double>() + bar[3].get<double>() / 2, w = bar[2].get<double>();
  const std::string before = undo_of(desk.state());
  desk.hold();
  for (const double share : {0.2, 0.4, 0.6}) desk.mouse_to(x + share * w, y);
  CHECK(undo_of(desk.state()) == before);  // nothing while the slider is held
  desk.let_go();
  const Json faded = desk.wait("the fade", [](const Json& s) { return s["pictures"][1]["fade"] > 0; });
  CHECK(faded["pictures"][1]["fade"].get<double>() == Approx(0.6).margin(0.05));
  desk.screenshot("design-faded");
  desk.keys("ctrl+z");
  const Json clear = desk.wait("it undone", [](const Json& s) { return s["pictures"][1]["fade"] == 0; });
  CHECK(undo_of(clear) == before);  // the drag was one step

  desk.fill("design.name", "garland");
  desk.keys("Return");
  desk.wait("the name", [](const Json& s) { return s["picture"] == "garland"; });
  desk.fill("design.crop.Left", "40");
  desk.keys("Return");
  desk.wait("the crop", [](const Json& s) { return s["pictures"][1]["crop"] == Json({40, 0, 300, 200}); });
  desk.press_control("design.remove");
  desk.wait("it gone", [](const Json& s) { return s["pictures"].size() == 1 && s["picture"] == "scene"; });
}

TEST_CASE("Lay drags a picture along the wall and scales it by a corner, each by one step") {
  Desk desk;
  desk.open(make_vault(desk));
  desk.stage("Design");
  desk.wait("both pictures", [](const Json& s) { return s["pictures"].size() == 2 && s["contours"] == true; });
  desk.take_tool("a", "Lay");
  const double metre = desk.state()["flat_map"]["px_per_m"];
  const double good = 2 / metre;  // m: a click is good to a px, at both ends

  desk.point_at(2.5, 1.9);
  const auto [x, y] = desk.flat_px(3.5, 2.9);
  desk.hold();
  desk.mouse_to(x, y);
  const Json held = desk.wait("the drag", [&](const Json& s) {
    return s["laying"].is_object() && std::abs(s["laying"]["u"].get<double>() - 3) < good;
  });
  CHECK(held["undo"] == "");  // an outline only, so far
  CHECK(held["pictures"][1]["by_size"]["u"].get<double>() == Approx(2));
  desk.screenshot("lay-held");
  desk.let_go();
  const Json moved = desk.wait("it there", [](const Json& s) { return s["undo"] != "" && s["laying"].is_null(); });
  const Json size = moved["pictures"][1]["by_size"];
  CHECK(size["u"].get<double>() == Approx(3).margin(good));
  CHECK(size["v"].get<double>() == Approx(2.5).margin(good));
  CHECK(size["width_m"].get<double>() == Approx(1.5).margin(1e-3));

  // The upper right corner (4.5, 3.5) half as far again from the lower left one, which stays.
  const double u = size["u"], v = size["v"];
  desk.point_at(u + 1.5, v + 1);
  const auto [cx, cy] = desk.flat_px(u + 2.25, v + 1.5);
  desk.drag_to(cx, cy);
  const Json grown = desk.wait("it larger", [](const Json& s) {
    return s["pictures"][1]["by_size"]["width_m"].get<double>() > 1.6 && s["laying"].is_null();
  });
  CHECK(grown["pictures"][1]["by_size"]["width_m"].get<double>() == Approx(2.25).margin(2 * good));
  CHECK(grown["pictures"][1]["by_size"]["u"].get<double>() == Approx(u).margin(1e-4));
  CHECK(grown["pictures"][1]["by_size"]["v"].get<double>() == Approx(v).margin(1e-4));
  desk.screenshot("lay-larger");

  desk.point_at(u + 0.5, v + 0.5);  // given up by Esc
  desk.hold();
  desk.wait("a drag", [](const Json& s) { return s["laying"].is_object(); });
  desk.keys("Escape");
  desk.wait("it given up", [](const Json& s) { return s["laying"].is_null() && s["tool"] == "Lay"; });
  desk.let_go();
  desk.keys("ctrl+z");
  desk.keys("ctrl+z");
  const Json back = desk.wait("both steps undone", [](const Json& s) { return s["undo"] == ""; });
  CHECK(back["pictures"][1]["by_size"]["u"].get<double>() == Approx(2).margin(1e-6));

  desk.point_at(1.3, 1.3);  // only the lower picture lies there
  desk.click();
  desk.wait("the other one chosen", [](const Json& s) { return s["picture"] == "border"; });
}

TEST_CASE("Trim: a box and a free outline are drawn in the picture itself") {
  Desk desk;
  desk.open(make_vault(desk));
  desk.stage("Design");
  desk.press_control("design.trim");
  desk.wait("the picture itself", [](const Json& s) { return s["tool"] == "Trim" && s["picture_view"].is_object(); });
  const double pixel = 1 / desk.state()["picture_view"]["px_per_pixel"].get<double>();  // of the picture, a px

  desk.point_at_pixel(60, 50);
  const auto [x, y] = desk.picture_px(240, 160);
  desk.drag_to(x, y);
  const Json boxed = desk.wait("the box", [](const Json& s) { return s["pictures"][1]["crop"].is_array(); });
  const std::array<double, 4> wanted{60, 50, 240, 160};
  for (std::size_t i = 0; i < 4; ++i)
    CHECK(boxed["pictures"][1]["crop"][i].get<double>() == Approx(wanted[i]).margin(2 * pixel + 1));

  desk.press_control("trim.outline");
  for (const auto& [px, py] : {std::pair{70, 60}, std::pair{230, 60}, std::pair{230, 150}, std::pair{150, 110}}) {
    const int points = desk.state()["points"];
    desk.point_at_pixel(px, py);
    desk.click();
    desk.wait("a corner", [&](const Json& s) { return s["points"] == points + 1; });
  }
  desk.keys("Return");
  const Json cut = desk.wait("the outline", [](const Json& s) { return s["pictures"][1]["mask"] == 4; });
  const std::string name = undo_of(cut);
  desk.screenshot("trim");
  desk.point_at_pixel(230, 60);
  const auto [cx, cy] = desk.picture_px(200, 90);
  desk.drag_to(cx, cy);
  desk.wait("a corner moved", [&](const Json& s) { return s["redo"] == "" && s["work"] == ""; });
  desk.keys("ctrl+z");
  desk.wait("it back", [&](const Json& s) { return s["redo"] != "" && undo_of(s) == name; });
  desk.keys("ctrl+z");
  desk.wait("no outline", [](const Json& s) { return s["pictures"][1]["mask"] == 0; });
  desk.press_control("trim.corners");
  for (const char* corner : {"70 60", "230 60,5", "150 150"}) {
    desk.type(corner);
    desk.keys("Return");
  }
  desk.press_control("trim.set");
  desk.wait("the typed outline", [](const Json& s) { return s["pictures"][1]["mask"] == 3; });
  desk.keys("ctrl+z");
  desk.wait("no outline", [](const Json& s) { return s["pictures"][1]["mask"] == 0; });
  desk.keys("Escape");
  desk.wait("Look", [](const Json& s) { return s["tool"] == "Look" && s["picture_view"].is_null(); });
}

TEST_CASE("a picture is thrown onto the wall from the eye of the present view") {
  Desk desk;
  desk.open(make_vault(desk));
  desk.stage("Design");
  desk.press_control("design.way.eye");
  desk.press_control("design.eye.take");
  desk.press_control("design.eye.lay");
  const Json laid = desk.wait("it laid", [](const Json& s) { return s["undo"] != "" && s["work"] == ""; });
  CHECK(laid["pictures"][1]["by_size"].is_null());
  CHECK(laid["pictures"][1]["points"] == 0);
  desk.screenshot("design-eye");
  desk.keys("ctrl+z");
  desk.wait("it lies as before", [](const Json& s) { return s["pictures"][1]["by_size"].is_object(); });
}
