// Seams taken out of the window and brought in again, by hand.
#include <catch2/catch.hpp>
#include <fstream>

#include "tests/window/desk.h"

using namespace pontata;

TEST_CASE("seams are taken out and brought in from the Giornate page; one undo takes them away again") {
  Desk desk;
  const std::string project = desk.file("wall.pontata"), drawing = desk.file("seams.svg");
  desk.verb("wall " + project + " wall --shape flat --width 4m --height 3m");
  std::ofstream(desk.file("two.svg"))
      << R"(<svg width="4000mm" height="3000mm" viewBox="0 0 4 3"><rect x="1" y="1" width="1" height="1"/>)"
      << R"(<rect x="2" y="1" width="1" height="1"/><path d="M0.999 1.5H3.001"/></svg>)";
  desk.open(project);
  desk.stage("Giornate");
  const auto choose = [&](const char* button, const std::string& path) {
    desk.press_control(button);
    desk.choose_file(path);
  };
  choose("seams.in", desk.file("two.svg"));
  desk.wait("the choices", [](const Json& s) { return s["controls"].contains("seams.bring"); });
  desk.screenshot("seams-in");
  desk.press_control("seams.bring");
  desk.wait("the giornate", [](const Json& s) { return s["giornate"] == 4 && s["work"] == ""; });
  choose("seams.out", drawing);
  desk.wait("the file", [&](const Json&) { return std::ifstream(drawing).good(); });
  desk.keys("ctrl+z");
  desk.wait("none", [](const Json& s) { return s["giornate"] == 0; });
  choose("seams.in", drawing);
  desk.wait("the choices", [](const Json& s) { return s["controls"].contains("seams.bring"); });
  desk.press_control("seams.bring");
  desk.wait("the giornate again", [](const Json& s) { return s["giornate"] == 4 && s["work"] == ""; });
}
