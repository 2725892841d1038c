// The Seams page and the layouts on the Giornate page: found, accepted, looked at from the floor, taken.
#include <catch2/catch.hpp>

#include "tests/window/desk.h"

using namespace pontata;

namespace {

std::string undo_name(const Json& s) { return s["undo"]; }
bool shows(const Json& s, const std::string& control) { return s["controls"].contains(control); }

}  // namespace

TEST_CASE("a finding is accepted with a reason and opened again, each an undo step") {
  Desk desk;
  const std::string project = desk.file("nave.pontata");
  desk.flat_wall(project, {"0.5 0.5\n2 0.5\n2 1.5\n0.5 1.5", "2 0.5\n3 0.5\n3 1.5\n2 1.5"});
  desk.verb("set " + project + " rate 0.02");  // far too large for a day
  desk.open(project);
  const std::string before = desk.save(project);

  desk.stage("Seams");
  desk.press_control("seams.review");
  desk.wait("the findings", [](const Json& s) { return shows(s, "finding.0"); });
  desk.press_control("finding.0");
  desk.wait("the fields of the chosen one", [](const Json& s) { return shows(s, "finding.accept"); });
  desk.press_control("finding.accept");
  desk.wait("no reason is a complaint", [](const Json& s) { return s["error"] == true; });
  desk.fill("finding.reason", "two painters");
  desk.press_control("finding.accept");
  desk.wait("accepted", [](const Json& s) { return undo_name(s).find("Accept") == 0; });
  desk.wait("the box for accepted ones", [](const Json& s) { return shows(s, "seams.accepted"); });
  desk.press_control("seams.accepted");
  desk.wait("the way back", [](const Json& s) { return shows(s, "finding.open"); });
  desk.point_at_control("finding.0");
  desk.wheel(-30);  // accepted ones stand last in the list
  desk.wait("the list's end", [](const Json& s) { return s["controls"]["finding.open"][1].get<double>() < 600; });
  desk.screenshot("seams-accepted");
  desk.press_control("finding.open");
  desk.wait("open again", [](const Json& s) { return undo_name(s).find("Open again") == 0; });
  desk.keys("ctrl+z");
  desk.wait("accepted again", [](const Json& s) { return shows(s, "finding.open"); });
  desk.undo_to(project, before);
  desk.wait("and open", [](const Json& s) { return !shows(s, "finding.open"); });
}

TEST_CASE("an eye point is set, the seams are looked at from there, and the worst stretch is flown to") {
  Desk desk;
  const std::string project = desk.file("nave.pontata");
  desk.flat_wall(project, {"0.5 0.5\n2 0.5\n2 1.5\n0.5 1.5", "2 0.5\n3 0.5\n3 1.5\n2 1.5"});
  desk.open(project);
  const std::string before = desk.save(project);
  desk.stage("Seams");
  desk.press_control("section.floor");
  desk.fill("eye.name", "door");
  desk.fill("eye.place", "1, -3, 1.6");
  desk.press_control("eye.set");
  desk.wait("the eye point", [](const Json& s) { return shows(s, "eye.look.door"); });
  desk.press_control("eye.look.door");
  desk.wait("the worst stretch", [](const Json& s) { return shows(s, "worst.0"); });
  desk.press_control("worst.0");
  desk.screenshot("seams-from-the-floor");
  desk.press_control("floor.shown");
  desk.press_control("eye.remove.door");
  desk.wait("no eye point", [](const Json& s) { return !shows(s, "eye.look.door"); });
  desk.keys("ctrl+z");
  desk.wait("it is back", [](const Json& s) { return shows(s, "eye.look.door"); });
  desk.undo_to(project, before);
}

TEST_CASE("a layout is found, looked at and taken: one undo step") {
  Desk desk;
  const std::string project = desk.file("nave.pontata");
  desk.flat_wall(project, {});
  desk.verb("set " + project + " rate 0.4");  // 18 m2: 45 h
  desk.open(project);
  const std::string before = desk.save(project);
  desk.stage("Giornate");
  desk.press_control("section.layout");
  desk.fill("layout.size", "2");
  desk.press_control("layout.find");
  desk.wait("more than a day is refused", [](const Json& s) { return s["error"] == true; });
  desk.fill("layout.size", "0.9");
  desk.press_control("layout.find");
  desk.wait("the layouts", [](const Json& s) { return shows(s, "layout.row.1") && shows(s, "layout.take"); });
  CHECK(desk.state()["giornate"] == 0);  // nothing is changed yet
  desk.screenshot("layouts");
  desk.press_control("layout.row.1");
  desk.press_control("layout.take");
  const Json taken = desk.wait("the giornate", [](const Json& s) { return s["giornate"] > 5; });
  CHECK_FALSE(undo_name(taken).empty());
  desk.screenshot("layout-taken");
  desk.undo_to(project, before);
}
