// The Plaster and Calendar pages: numbers typed and dragged by their names.
#include <catch2/catch.hpp>

#include "tests/window/desk.h"

using namespace pontata;

namespace {

std::string undo_name(const Json& s) { return s["undo"]; }

// Drags a control to the right or left by so many px.
void drag_by(const Desk& desk, const std::string& control, double px) {
  desk.point_at_control(control);
  const Json at = desk.state()["controls"][control];
  desk.drag_to(at[0].get<double>() + at[2].get<double>() / 2 + px, at[1].get<double>() + at[3].get<double>() / 2);
}

}  // namespace

TEST_CASE("numbers of the plan are typed, and dragged by their names: one undo step each") {
  Desk desk;
  const std::string project = desk.file("nave.pontata");
  desk.flat_wall(project, {"0.5 0.5\n2 0.5\n2 1.5\n0.5 1.5"});
  desk.open(project);
  const std::string before = desk.save(project);

  desk.stage("Plaster");
  desk.press_control("coat.final");
  desk.fill("setting.coat.final.mm", "4,5");
  desk.keys("Return");
  desk.wait("the thicker coat", [](const Json& s) { return undo_name(s).find("coat.final.mm") != std::string::npos; });
  desk.undo_to(project, before);
  drag_by(desk, "drag.mix.final.sand", 53);  // 10 steps of 5 px
  desk.wait("the leaner mix", [](const Json& s) { return undo_name(s).find("mix.final") != std::string::npos; });
  desk.save(project);
  CHECK(desk.verb("set " + project + " mix.final 2>&1").find("1:1.5 volume") != std::string::npos);
  desk.keys("ctrl+z");
  desk.wait("one step back", [](const Json& s) { return undo_name(s).empty(); });
}
