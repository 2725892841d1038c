// The sheets looked at before printing, by hand: how many, how much paper, each one drawn.
#include <catch2/catch.hpp>
#include <filesystem>

#include "engine/picture/image.h"
#include "tests/fixtures/places.h"
#include "tests/window/desk.h"

using namespace pontata;

namespace {

// Share of dark pixels within a control of the last state, on the shot of this name.
double ink_in(const Json& state, const std::string& control, const std::string& shot) {
  const auto image = read_image(fixtures::build_folder() + "/screenshots/" + shot + ".png");
  REQUIRE(image);
  const auto& at = state["controls"][control];
  long dark = 0, all = 0;
  for (int y = at[1].get<int>() + 3; y < at[1].get<int>() + at[3].get<int>() - 3; ++y)
    for (int x = at[0].get<int>() + 3; x < at[0].get<int>() + at[2].get<int>() - 3; ++x, ++all)
      dark += image->rgb[3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image->width) +
                              static_cast<std::size_t>(x))] < 128;
  return all > 0 ? static_cast<double>(dark) / static_cast<double>(all) : 0;
}

}  // namespace

TEST_CASE("the sheets are looked at before they are printed, and nothing is written or changed") {
  Desk desk;
  const std::string project = desk.file("wall.pontata");
  desk.flat_wall(project, {"0.5 0.5\n0.8 0.5\n0.8 0.8\n0.5 0.8", "2 0.5\n2.1 0.5\n2.1 0.6\n2 0.6"});
  desk.verb("set " + project + " paper A4 2>&1");
  // what the verb prints of the same project is what the window must foretell
  const Json printed = Json::parse(desk.verb("cartoon " + project + " --trial --json --out " + desk.file("paper")));
  const int sheets = printed["sheets"].get<int>();
  REQUIRE(sheets > 2);
  desk.open(project);
  desk.stage("Cartoon");
  const Json before = desk.state();
  desk.press_control("cartoon.look");
  const auto page_there = [](const Json& s) { return s["controls"].contains("sheets.page") && s["work"] == ""; };
  const Json first = desk.wait("the first sheet", page_there);
  CHECK(first["status"].get<std::string>().rfind(std::to_string(sheets) + " sheets of A4", 0) == 0);
  desk.screenshot("cartoon-sheet-1");
  CHECK(ink_in(first, "sheets.page", "cartoon-sheet-1") > 0.001);
  const auto& box = first["controls"]["sheets.page"];
  const double ratio = box[2].get<double>() / box[3].get<double>();
  CHECK((ratio == Approx(210.0 / 297).epsilon(0.01) || ratio == Approx(297.0 / 210).epsilon(0.01)));  // ISO 216
  for (int i = 1; i < sheets + 1; ++i) {  // to the last one; beyond it the key does nothing
    desk.keys("Right");
    desk.wait("the next sheet", page_there);
  }
  desk.screenshot("cartoon-sheet-last");
  desk.keys("Escape");
  const Json closed = desk.wait("the end", [](const Json& s) { return !s["controls"].contains("sheets.close"); });
  CHECK(closed["undo"] == before["undo"]);
  CHECK(closed["saved"] == true);
}
