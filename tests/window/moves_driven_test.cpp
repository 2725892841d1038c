// Seams moved in the window: by drags, by clicks and by typing; each one step, which undone gives the same file.
#include <catch2/catch.hpp>

#include "tests/window/desk.h"

using namespace pontata;

namespace {

// A flat wall of 6 x 3 m with two squares of 1 m that share the seam from (2, 1) to (2, 2).
void make_wall(const Desk& desk, const std::string& project) {
  desk.flat_wall(project, {"1 1\n2 1\n2 2\n1 2", "2 1\n3 1\n3 2\n2 2"});
}

// With the first giornata chosen, whose area tells what was moved, and the tool in hand.
std::string open_with_nudge(Desk& desk, const std::string& project) {
  desk.open(project);
  desk.stage("Giornate");
  desk.press_control("giornata.1");
  desk.wait("chosen", [](const Json& s) { return s["chosen"].is_object(); });
  const std::string before = desk.save(project);
  desk.near(2, 1.5, 1.6);
  desk.take_tool("n", "Nudge");
  return before;
}

double area(const Json& s) { return s["chosen"]["area_m2"]; }

Json wait_step(const Desk& desk) {
  return desk.wait("a step", [](const Json& s) { return s["saved"] == false && s["error"] == false; });
}

void fill_place(const Desk& desk, const std::string& control, const std::string& text) {
  desk.fill(control, text);
  desk.keys("Tab");
}

}  // namespace

TEST_CASE("a seam dragged takes its neighbourhood along, and the same typed is the same document") {
  Desk desk;
  const std::string project = desk.file("nave.pontata");
  make_wall(desk, project);
  const std::string before = open_with_nudge(desk, project);
  desk.point_at(2, 1.5);
  desk.screenshot("nudge-hover");
  const auto [x, y] = desk.flat_px(2.15, 1.5);
  desk.hold();
  desk.mouse_to(x, y);
  desk.wait("the course shown",
            [](const Json& s) { return s["status"].get<std::string>().find("mm") != std::string::npos; });
  desk.screenshot("nudge-drag");
  desk.let_go();
  const Json dragged = wait_step(desk);
  CHECK(dragged["points"] == 0);
  const double gained = area(dragged) - 1;
  CHECK(gained == Approx(0.2 * 0.15).epsilon(0.06));  // see below; a pixel is 4 mm here
  const std::string moved = desk.save(project);
  CHECK(moved != before);
  desk.keys("ctrl+z");
  desk.wait("undone", [](const Json& s) { return area(s) == Approx(1).epsilon(1e-9); });
  CHECK(desk.save(project) == before);

  // The fields hold what was dragged, to the last digit.
  desk.press_control("nudge.move");
  wait_step(desk);
  CHECK(desk.save(project) == moved);
  desk.keys("ctrl+z");
  desk.wait("undone", [](const Json& s) { return area(s) == Approx(1).epsilon(1e-9); });
  CHECK(desk.save(project) == before);

  // The share that follows is cos^2 of a quarter turn over the reach; its integral to both sides is the reach, and so
  // is the sum over equal steps. Hence the area gained: reach times move.
  fill_place(desk, "nudge.reach", "30cm");
  fill_place(desk, "nudge.from", "2 1,5");
  fill_place(desk, "nudge.by", "5cm 0");
  desk.press_control("nudge.move");
  const Json typed = wait_step(desk);
  CHECK(area(typed) - 1 == Approx(0.3 * 0.05).epsilon(1e-4));
  desk.screenshot("nudge-typed");
  desk.undo_to(project, before);
}

TEST_CASE("nodes are dragged, put in and taken away") {
  Desk desk;
  const std::string project = desk.file("nave.pontata");
  make_wall(desk, project);
  const std::string before = open_with_nudge(desk, project);
  desk.point_at(2, 2);
  const auto [x, y] = desk.flat_px(2.1, 2.1);
  desk.drag_to(x, y);
  const Json dragged = wait_step(desk);
  CHECK(area(dragged) == Approx(1.1).epsilon(0.02));  // the corner (2, 2) at (2.1, 2.1), by the shoelace formula
  desk.undo_to(project, before);

  fill_place(desk, "nudge.from", "2 2");
  fill_place(desk, "nudge.to", "2.1 210cm");
  desk.press_control("nudge.node-move");
  CHECK(area(wait_step(desk)) == Approx(1.1).epsilon(1e-6));
  desk.undo_to(project, before);

  desk.point_at(2, 1.4);
  desk.keys("i");
  const Json added = wait_step(desk);
  CHECK(area(added) == Approx(1).epsilon(1e-9));
  const std::string with_node = desk.save(project);
  const auto [x2, y2] = desk.flat_px(2.2, 1.4);
  desk.drag_to(x2, y2);  // only the node: the seam is straight from there to its ends
  const Json bent = wait_step(desk);
  CHECK(area(bent) == Approx(1 + 0.2 / 2).epsilon(0.02));
  desk.undo_to(project, with_node);
  desk.point_at(2, 1.4);
  desk.keys("x");
  const Json taken = wait_step(desk);
  CHECK(area(taken) == Approx(1).epsilon(1e-6));
}

TEST_CASE("a stretch of a seam is drawn anew by clicks and by typing") {
  Desk desk;
  const std::string project = desk.file("nave.pontata");
  make_wall(desk, project);
  const std::string before = open_with_nudge(desk, project);
  desk.keys("h");
  desk.wait("Hug off", [](const Json& s) { return s["hug"] == false; });
  int points = 0;
  for (const auto& [u, v] : {std::pair{2.0, 1.2}, {2.3, 1.5}}) {
    desk.point_at(u, v);
    desk.click();
    ++points;
    desk.wait("a point", [&](const Json& s) { return s["points"] == points; });
  }
  desk.point_at(2, 1.8);
  desk.screenshot("redraw");
  desk.click();
  const Json drawn = wait_step(desk);
  CHECK(drawn["points"] == 0);
  CHECK(area(drawn) == Approx(1 + 0.6 * 0.3 / 2).epsilon(0.01));  // a triangle more
  desk.undo_to(project, before);

  desk.type_places("nudge", {"2 1.2", "2,3 1.5", "2 180cm"});
  CHECK(area(wait_step(desk)) == Approx(1.09).epsilon(1e-6));
  desk.undo_to(project, before);
}

TEST_CASE("a move that cannot be is refused in words, with its place marked, and changes nothing") {
  Desk desk;
  const std::string project = desk.file("nave.pontata");
  make_wall(desk, project);
  const std::string before = open_with_nudge(desk, project);
  fill_place(desk, "nudge.from", "2 1.5");
  fill_place(desk, "nudge.by", "1.5 0");  // over the far seam of the second giornata
  desk.press_control("nudge.move");
  const Json refused = desk.wait("the refusal", [](const Json& s) { return s["error"] == true; });
  CHECK(refused["fault"].is_array());
  CHECK(refused["saved"] == true);
  desk.screenshot("nudge-refused");
  CHECK(desk.save(project) == before);
}

TEST_CASE("an outline takes what it overlaps, or is added to the chosen giornata") {
  Desk desk;
  const std::string project = desk.file("nave.pontata");
  make_wall(desk, project);
  desk.open(project);
  desk.stage("Giornate");
  desk.press_control("giornata.1");
  const std::string before = desk.save(project);
  desk.take_tool("o", "Outline");
  desk.keys("h");
  const auto type_box = [&] {
    desk.type_places("outline", {"1.5 1.5", "2.5 1.5", "2.5 2.5", "1.5 2.5"});
    desk.wait("the places", [](const Json& s) { return s["points"] == 4; });
  };
  desk.press_control("outline.takes");
  type_box();
  desk.press_control("outline.close");
  const Json taken = desk.wait("drawn", [](const Json& s) { return s["giornate"] == 3; });
  CHECK(area(taken) == Approx(1).epsilon(1e-9));  // all of the square of 1 m
  const std::string says = taken["status"];
  CHECK(says.find("0.250 m²") != std::string::npos);  // from each of the two
  desk.screenshot("outline-takes");
  desk.undo_to(project, before);

  desk.press_control("giornata.1");
  desk.press_control("outline.into");
  type_box();
  desk.press_control("outline.close");
  const Json into = desk.wait("added", [](const Json& s) { return s["saved"] == false && s["points"] == 0; });
  CHECK(into["giornate"] == 2);
  CHECK(into["chosen"]["id"] == 1);
  CHECK(area(into) == Approx(1.75).epsilon(1e-9));
  desk.undo_to(project, before);
}
