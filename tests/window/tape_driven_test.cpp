// The tape in the window: two clicks and the distance they tell.
#include <catch2/catch.hpp>
#include <cmath>

#include "tests/window/desk.h"

using namespace pontata;

TEST_CASE("the tape tells the shortest way over a barrel between two clicks") {
  Desk desk;
  const std::string project = desk.file("barrel.pontata");
  desk.verb("wall " + project + " nave --shape barrel --span 4m --length 6m --rise 2m 2>&1");
  desk.open(project);
  desk.take_tool("t", "Tape");
  desk.point_at(1, 1);
  desk.click();
  desk.wait("the first place", [](const Json& s) { return s["points"] == 1; });
  desk.point_at(4, 5);
  desk.click();
  const Json told = desk.wait("the distance", [](const Json& s) {
    return s["points"] == 2 && s["status"].get<std::string>().find("over the surface") != std::string::npos;
  });
  // A barrel develops: 3 m along and 4 m round are 5 m; a pixel either way. Through the air the chord of 4 m of arc of
  // the circle of 2 m is 4 sin 1.
  const std::string status = told["status"];
  CHECK(std::stod(status) == Approx(5).margin(0.03));
  const auto through = status.find(", ");
  REQUIRE(through != std::string::npos);
  CHECK(std::stod(status.substr(through + 2)) == Approx(std::hypot(3, 4 * std::sin(1))).margin(0.03));
  desk.point_at(2, 2);
  desk.screenshot("tape");
  // The same typed: exactly, for a barrel develops.
  desk.press_control("tape.clear");
  desk.wait("the tape put away", [](const Json& s) { return s["points"] == 0; });
  desk.type_places("tape", {"1 1", "4m 500cm"});
  const Json typed = desk.wait("two places", [](const Json& s) { return s["points"] == 2; });
  CHECK(std::stod(typed["status"].get<std::string>()) == Approx(5).margin(2e-4));
  desk.keys("Escape");
  desk.wait("the tape put away", [](const Json& s) { return s["points"] == 0; });
}
