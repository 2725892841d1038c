// The Wall page by hand: a shape picked by its picture, an opening, a scan with what is asked of it.
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>

#include "tests/window/desk.h"

using namespace pontata;

namespace {

// A flat sheet of 2 m by 1 m in millimetres, Y to the back.
void write_sheet(const std::string& path) {
  std::ofstream out(path);
  for (int j = 0; j <= 5; ++j)
    for (int i = 0; i <= 10; ++i) out << "v " << 200 * i << " 0 " << 200 * j << "\n";
  for (int j = 0; j < 5; ++j)
    for (int i = 0; i < 10; ++i) {
      const int a = 11 * j + i + 1;
      out << "f " << a << " " << a + 1 << " " << a + 12 << " " << a + 11 << "\n";
    }
}

}  // namespace

TEST_CASE("a vault is picked by its picture, typed and added; an opening is cut out and closed again") {
  Desk desk;
  desk.open(desk.file("vaults.pontata"));
  desk.stage("Wall");
  desk.press_control("wall.shape");
  desk.wait("all shapes", [](const Json& s) { return s["controls"].contains("wall.shape.groin"); });
  desk.screenshot("wall-shapes");
  desk.press_control("wall.shape.groin");
  desk.fill("wall.span", "4m");
  desk.fill("wall.length", "400cm");
  desk.fill("wall.rise", "2");
  desk.screenshot("wall-groin");
  desk.press_control("wall.add");
  desk.wait("the vault", [](const Json& s) { return s["walls"] == 1 && s["work"] == ""; });
  desk.press_control("wall.openings");
  desk.wait("the fields", [](const Json& s) { return s["controls"].contains("opening.width"); });
  desk.fill("opening.right", "1.5");
  desk.fill("opening.up", "1,8");
  desk.fill("opening.width", "40cm");
  desk.fill("opening.height", "0.3m");
  desk.press_control("opening.add");
  desk.wait("the opening", [](const Json& s) { return s["controls"].contains("opening.close.1") && s["work"] == ""; });
  desk.screenshot("wall-opening");
  desk.press_control("opening.close.1");
  desk.wait("it closed", [](const Json& s) { return !s["controls"].contains("opening.close.1") && s["work"] == ""; });
  desk.keys("ctrl+z");
  desk.wait("it open again", [](const Json& s) { return s["controls"].contains("opening.close.1"); });
}

TEST_CASE("a scan is brought in with its unit and old plaster asked for") {
  Desk desk;
  write_sheet(desk.file("sheet.obj"));
  desk.open(desk.file("scan.pontata"));
  desk.stage("Wall");
  desk.press_control("wall.by-scan");
  desk.press_control("wall.scan");
  desk.wait("the files", [](const Json& s) { return s["dialog"] == "files" && s["controls"].contains("files.name"); });
  desk.keys("ctrl+a");
  desk.type(desk.file("sheet.obj"));
  desk.keys("Return");
  desk.wait("its questions", [](const Json& s) { return s["controls"].contains("scan.bring-in"); });
  desk.screenshot("wall-scan");
  desk.press_control("scan.bring-in");  // an OBJ file states no unit
  const Json refused = desk.wait("the question of the unit", [](const Json& s) { return s["error"] == true; });
  CHECK(refused["status"].get<std::string>().find("unit") != std::string::npos);
  desk.press_control("scan.unit");
  desk.wait("the units", [](const Json& s) { return s["controls"].contains("scan.unit.mm"); });
  desk.press_control("scan.unit.mm");
  desk.wait("the unit chosen", [](const Json& s) { return !s["controls"].contains("scan.unit.mm"); });
  desk.press_control("scan.bring-in");
  desk.wait("the wall", [](const Json& s) { return s["walls"] == 1 && s["work"] == ""; });
  desk.wait("the question", [](const Json& s) { return s["controls"].contains("wall.old-plaster.yes"); });
  desk.press_control("wall.old-plaster.yes");
  desk.wait("the answer", [](const Json& s) { return !s["controls"].contains("wall.old-plaster.yes"); });
  desk.screenshot("wall-scan-facts");
}
