// The whole job from an empty window: wall, picture, a typed outline, tables, findings; and what idling costs.
#include <catch2/catch.hpp>
#include <filesystem>

#include "engine/picture/image.h"
#include "tests/window/desk.h"

using namespace pontata;

TEST_CASE("from an empty window to findings, all by hand") {
  Desk desk;
  Image image{300, 200, std::vector<std::uint8_t>(300 * 200 * 3, 200)};
  for (std::size_t i = 0; i < image.rgb.size() / 2; ++i) image.rgb[i] = 80;
  REQUIRE(write_png(image, desk.file("design.png")));
  const std::string project = desk.file("chapel.pontata");
  desk.open(project);

  desk.stage("Wall");
  desk.fill("wall.span", "4m");
  desk.fill("wall.length", "300cm");
  desk.fill("wall.rise", "2,0");
  desk.screenshot("wall-page");
  desk.press_control("wall.add");
  desk.wait("the wall", [](const Json& s) { return s["walls"] == 1 && s["work"] == ""; });

  desk.stage("Design");
  desk.press_control("design.choose");
  desk.choose_file(desk.file("design.png"));
  desk.wait("the picture", [](const Json& s) { return s["undo"] != "" && s["contours"] == true; });

  desk.stage("Giornate");
  desk.keys("o");
  desk.press_control("outline.hug");
  desk.wait("Hug off", [](const Json& s) { return s["hug"] == false; });
  desk.type_places("outline", {"0.5 0.5", "1,5 0.5", "1.5 1.5", "0.5 1500mm"});
  desk.wait("the places", [](const Json& s) { return s["points"] == 4; });
  desk.press_control("outline.close");
  const Json drawn = desk.wait("the giornata", [](const Json& s) { return s["giornate"] == 1; });
  // A square of 1 m in the isometric chart of a barrel; the arc is a chain of chords within 0.1 mm.
  CHECK(drawn["chosen"]["area_m2"].get<double>() == Approx(1).epsilon(1e-4));

  for (const char* page : {"Plaster", "Calendar", "Seams", "Cartoon"}) {
    desk.stage(page);
    desk.screenshot(std::string("page-") + page);
  }
  desk.stage("Calendar");
  desk.fill("setting.rate", "0,25");
  desk.keys("Return");
  desk.wait("the rate", [](const Json& s) { return s["undo"].get<std::string>().find("rate") != std::string::npos; });

  desk.stage("Seams");
  desk.press_control("seams.review");
  desk.wait("the findings",
            [](const Json& s) { return s["status"].get<std::string>().find("finding") != std::string::npos; });
  desk.screenshot("findings");

  desk.keys("ctrl+s");
  desk.wait("saved", [](const Json& s) { return s["saved"] == true && s["error"] == false; });
  CHECK(std::filesystem::exists(project));
  desk.keys("ctrl+q");
  CHECK(desk.wait_exit() == 0);
  desk.verb("check " + project + " 2>&1");
}

TEST_CASE("several walls are seen together, and a click with Look on another wall chooses it") {
  Desk desk;
  const std::string project = desk.file("room.pontata");
  // An open room of 4 x 4 m: its left and right wall face each other, the eye looks in between them.
  desk.verb("wall " + project + " left --shape flat --width 4m --height 3m --at 0,2,0 2>&1");
  desk.verb("wall " + project + " right --shape flat --width 4m --height 3m --at 4,-2,0 --turn 180 2>&1");
  desk.verb("wall " + project + " end --shape flat --width 4m --height 3m --at 4,2,0 --turn -90 2>&1");
  desk.verb("outline " + project + " end --points - 2>&1 <<'END'\n1 1\n3 1\n3 2\n1 2\nEND\n");
  desk.open(project);
  const Json first = desk.wait("the walls", [](const Json& s) { return s["walls"] == 3; });
  CHECK(first["wall"] == "left");
  const auto& pane = first["views"]["space"];
  const double x = pane[0].get<double>(), y = pane[1].get<double>(), w = pane[2].get<double>(),
               h = pane[3].get<double>();
  desk.screenshot("three-walls");
  desk.mouse_to(x + 0.5 * w, y + 0.5 * h);  // straight ahead
  desk.wait("the end wall under the pointer",
            [](const Json& s) { return s["hover"].is_object() && s["hover"]["wall"] == "end"; });
  // a tool that works on the chosen wall tells where it is instead of drawing through to it
  desk.take_tool("o", "Outline");
  desk.click();
  const Json told = desk.wait(
      "the hint", [](const Json& s) { return s["status"].get<std::string>().find("Look") != std::string::npos; });
  CHECK(told["points"] == 0);
  desk.take_tool("l", "Look");
  desk.click();
  const Json chosen = desk.wait("the end wall chosen", [](const Json& s) { return s["wall"] == "end"; });
  CHECK(chosen["chosen"].is_object());  // and the giornata that lies there
  desk.screenshot("end-wall-chosen");
}

TEST_CASE("an idle window draws nothing") {
  Desk desk;
  const std::string project = desk.file("flat.pontata");
  desk.verb("wall " + project + " nave --shape flat --width 4m --height 3m 2>&1");
  desk.open(project);
  desk.keys("l");
  ::usleep(1500000);  // time in which a window that redraws by itself would draw tens of frames
  const long before = desk.state()["frames"];
  ::usleep(3000000);
  desk.keys("t");
  const Json after = desk.wait("the Tape", [](const Json& s) { return s["tool"] == "Tape"; });
  CHECK(after["frames"].get<long>() - before < 12);
}

TEST_CASE(
    "a project that cannot be opened is refused in the status line, and a folder that cannot be written keeps the "
    "work") {
  Desk desk;
  const std::string broken = desk.file("broken.pontata");
  REQUIRE(std::system(("printf '{\"half' > " + broken).c_str()) == 0);
  desk.open(broken);
  const Json refused = desk.wait("the refusal", [](const Json& s) { return s["error"] == true; });
  CHECK(refused["status"].get<std::string>().find("broken.pontata") != std::string::npos);
  CHECK(refused["walls"] == 0);
}
