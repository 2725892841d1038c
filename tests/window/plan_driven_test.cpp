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
  desk.press_control("section.putty");
  desk.fill("putty.name", "tub 1");
  desk.fill("putty.slaked", "2027-03-01");
  desk.fill("putty.litres", "200");
  desk.press_control("putty.add");
  desk.wait("the tub", [](const Json& s) { return s["controls"].contains("putty.tub 1.slaked"); });
  desk.screenshot("plaster-putty");
}

TEST_CASE("a giornata is dragged to another day, typed back, and days off, pairs and weather are written down") {
  Desk desk;
  const std::string project = desk.file("nave.pontata");
  desk.flat_wall(project, {"0.5 0.5\n2 0.5\n2 1.5\n0.5 1.5", "3 0.5\n4 0.5\n4 1.5\n3 1.5"});
  desk.open(project);
  desk.stage("Calendar");
  const std::string before = desk.save(project);

  // Giornata 1 is planned for Monday, 3 May, and let go on the Thursday.
  desk.point_at_control("chip.1");
  const Json day = desk.state()["controls"]["day.2027-05-06"];
  desk.drag_to(day[0].get<double>() + day[2].get<double>() / 2, day[1].get<double>() + 12);
  const Json moved = desk.wait("the move", [](const Json& s) { return !undo_name(s).empty(); });
  CHECK(moved["chosen"]["id"] == 1);
  desk.screenshot("calendar-moved");
  desk.undo_to(project, before);

  desk.fill("chosen.day", "2027-05-05");
  desk.keys("Return");
  desk.wait("the typed day", [](const Json& s) { return !undo_name(s).empty(); });
  desk.press_control("chosen.by-plan");
  desk.wait("by the plan again", [](const Json& s) { return !s["controls"].contains("chosen.by-plan"); });
  drag_by(desk, "drag.chosen.day", 13);  // two days
  desk.wait("the dragged day", [](const Json& s) { return s["controls"].contains("chosen.by-plan"); });

  desk.press_control("section.days-off");
  desk.fill("days-off.from", "2027-05-03");
  desk.fill("days-off.to", "2027-05-04");
  desk.press_control("days-off.add");
  desk.wait("the days off", [](const Json& s) { return s["controls"].contains("days-off.remove.2027-05-03"); });

  desk.press_control("section.pairs");
  desk.fill("pairs.first", "2");
  desk.fill("pairs.second", "1");
  desk.press_control("pairs.add");
  desk.wait("the pair", [](const Json& s) { return s["controls"].contains("pairs.remove.0"); });
  desk.press_control("pairs.remove.0");
  desk.wait("no pair", [](const Json& s) { return !s["controls"].contains("pairs.remove.0"); });

  desk.press_control("section.weather");
  REQUIRE(
      std::system(("printf 'date,temperature,humidity,air,night\\n2027-05-05,4,80,3,-2\\n2027-05-06,18,60,3,9\\n' > " +
                   desk.file("may.csv"))
                      .c_str()) == 0);
  desk.press_control("weather.csv");
  desk.choose_file(desk.file("may.csv"));
  desk.wait("the weather", [](const Json& s) { return s["controls"].contains("weather.2027-05-06"); });
  desk.screenshot("calendar-weather");
  desk.save(project);
  desk.verb("check " + project + " 2>&1");
}

TEST_CASE("a day is written into the diary, with the line really cut; what was left is a giornata of its own") {
  Desk desk;
  const std::string project = desk.file("nave.pontata");
  desk.flat_wall(project, {"0.5 0.5\n2.5 0.5\n2.5 1.5\n0.5 1.5"});
  desk.open(project);
  desk.stage("Calendar");
  desk.press_control("chip.1");
  desk.press_control("section.diary");
  desk.fill("diary.date", "2027-05-03");
  desk.fill("diary.hours", "6,5");
  desk.press_control("diary.cut");
  desk.press_control("diary.places");
  for (const char* place : {"2 0.5", "2 1.5"}) {
    desk.type(place);
    desk.keys("Return");
  }
  desk.press_control("diary.add");
  desk.press_control("diary.write");
  const Json written = desk.wait("the entry", [](const Json& s) { return s["giornate"] == 2; });
  CHECK(written["error"] == false);
  CHECK(written["chosen"]["state"] == "done");
  CHECK(written["chosen"]["area_m2"].get<double>() == Approx(1.5).epsilon(1e-6));
  desk.screenshot("diary-written");
  const std::string saved = desk.save(project);
  desk.press_control("diary.found-bad");
  desk.fill("diary.found-on", "2027-05-04");
  desk.fill("diary.found-why", "hollow");
  desk.press_control("diary.fail");
  desk.wait("to be done again", [](const Json& s) { return s["chosen"]["state"] == "to redo"; });
  desk.undo_to(project, saved);
}
