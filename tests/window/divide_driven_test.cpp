// A giornata divided in the window: by clicks near its rim and by typing; and how its parts are then called.
#include <catch2/catch.hpp>

#include "tests/window/desk.h"

using namespace pontata;

namespace {

// A flat wall with one square of 1 m, its giornata chosen, Hug let go.
std::string open_with_divide(Desk& desk, const std::string& project) {
  desk.open(project);
  desk.stage("Giornate");
  desk.press_control("giornata.1");
  desk.near(1.5, 1.5, 1.6);
  const std::string before = desk.save(project);
  desk.take_tool("d", "Divide");
  desk.press_control("divide.hug");
  desk.wait("Hug off", [](const Json& s) { return s["hug"] == false; });
  return before;
}

double area(const Json& s) { return s["chosen"]["area_m2"]; }

}  // namespace

TEST_CASE("a giornata is divided by clicks near its rim and by typing, and a line that ends inside is refused") {
  Desk desk;
  const std::string project = desk.file("nave.pontata");
  desk.flat_wall(project, {"1 1\n2 1\n2 2\n1 2"});
  const std::string before = open_with_divide(desk, project);
  int points = 0;
  for (const double u : {1.015, 1.985}) {  // 4 px and less from the rim: it is meant
    desk.point_at(u, 1.4);
    desk.click();
    ++points;
    desk.wait("a point", [&](const Json& s) { return s["points"] == points; });
  }
  desk.screenshot("divide");
  desk.keys("Return");
  const Json drawn = desk.wait("two giornate", [](const Json& s) { return s["giornate"] == 2; });
  CHECK(drawn["points"] == 0);
  CHECK(drawn["chosen"]["id"] == 2);
  CHECK(area(drawn) == Approx(0.4).epsilon(0.02));  // the lower part; a pixel is 4 mm
  desk.undo_to(project, before);

  desk.type_places("divide", {"1 1,25", "2m 125cm"});
  desk.wait("two points", [](const Json& s) { return s["points"] == 2; });
  desk.press_control("divide.go");
  const Json typed = desk.wait("two giornate", [](const Json& s) { return s["giornate"] == 2; });
  CHECK(area(typed) == Approx(0.25).epsilon(1e-6));
  desk.undo_to(project, before);

  desk.type_places("divide", {"1 1.5", "1.6 1.5"});
  desk.wait("two points", [](const Json& s) { return s["points"] == 2; });
  desk.press_control("divide.go");
  const Json refused = desk.wait("the refusal", [](const Json& s) { return s["error"] == true; });
  CHECK(refused["fault"].is_array());
  CHECK(refused["giornate"] == 1);
  CHECK(refused["saved"] == true);
}

TEST_CASE("once its cartoon was printed a divided giornata keeps its number with a and b, both flagged") {
  Desk desk;
  const std::string project = desk.file("nave.pontata");
  desk.flat_wall(project, {"1 1\n2 1\n2 2\n1 2"});
  desk.verb("cartoon " + project + " --out " + desk.file("cartoon") + " --paper A0 2>&1");
  open_with_divide(desk, project);
  CHECK(desk.state()["chosen"]["printed"] == true);
  desk.type_places("divide", {"1 1.25", "2 1.25"});
  desk.press_control("divide.go");
  const Json smaller = desk.wait("two giornate", [](const Json& s) { return s["giornate"] == 2; });
  CHECK(smaller["chosen"]["label"] == "1b");
  CHECK(smaller["chosen"]["changed"] == true);
  desk.press_control("giornata.1");
  const Json larger = desk.wait("the larger part", [](const Json& s) { return s["chosen"]["id"] == 1; });
  CHECK(larger["chosen"]["label"] == "1a");
  CHECK(larger["chosen"]["changed"] == true);
  CHECK(area(larger) == Approx(0.75).epsilon(1e-6));
  desk.screenshot("divided-a-b");
}
