// Several giornate chosen at once, by clicks, by a box and in lists, and what is then done to all of them.
#include <catch2/catch.hpp>

#include "tests/window/desk.h"

using namespace pontata;

namespace {

// A flat wall of 6 x 3 m with three squares of 1 m side by side, a fourth apart, and a zone round a face.
void make_wall(const Desk& desk, const std::string& project) {
  desk.flat_wall(project, {"1 1\n2 1\n2 2\n1 2", "2 1\n3 1\n3 2\n2 2", "3 1\n4 1\n4 2\n3 2", "5 1\n5.5 1\n5.5 2\n5 2"});
  desk.verb("zone " + project + " nave --kind keep-whole --name face --points - 2>&1 <<'END'\n" +
            "1.3 1.3\n1.6 1.3\n1.6 1.6\n1.3 1.6\nEND\n");
}

void wait_chosen(const Desk& desk, const std::vector<int>& ids) {
  desk.wait("chosen " + Json(ids).dump(), [&](const Json& s) { return s["all_chosen"] == Json(ids); });
}

void ctrl_click(const Desk& desk) {
  desk.key_down("ctrl");
  desk.click();
  desk.key_up("ctrl");
}

}  // namespace

TEST_CASE("several giornate are chosen by clicks, a box, a list and a pontata's name") {
  Desk desk;
  const std::string project = desk.file("nave.pontata");
  make_wall(desk, project);
  desk.open(project);
  desk.stage("Giornate");
  desk.point_at(1.5, 1.8);
  desk.click();
  wait_chosen(desk, {1});
  desk.point_at(3.5, 1.5);
  ctrl_click(desk);
  wait_chosen(desk, {1, 3});
  ctrl_click(desk);  // again: no longer
  wait_chosen(desk, {1});
  desk.press_control("giornata.3");
  wait_chosen(desk, {3});
  desk.key_down("shift");
  desk.press_control("giornata.1");
  desk.key_up("shift");
  wait_chosen(desk, {1, 2, 3});
  desk.screenshot("several-chosen");
  desk.press_control("of-chosen.2");
  wait_chosen(desk, {2});

  desk.keys("Escape");
  wait_chosen(desk, {});
  const auto [x0, y0] = desk.flat_px(0.8, 2.3);
  const auto [x1, y1] = desk.flat_px(3.2, 0.8);  // round the numbers of the first two
  desk.mouse_to(x0, y0);
  desk.key_down("ctrl");
  desk.hold();
  desk.mouse_to(x1, y1);
  desk.screenshot("box");
  desk.let_go();
  desk.key_up("ctrl");
  wait_chosen(desk, {1, 2});
  desk.keys("Escape");
  wait_chosen(desk, {});
  desk.press_control("pontata.1");
  desk.wait("the whole pontata", [](const Json& s) { return s["all_chosen"].size() == 4; });
}

TEST_CASE("what is done to several giornate is one step, and undone gives the same file") {
  Desk desk;
  const std::string project = desk.file("nave.pontata");
  make_wall(desk, project);
  desk.open(project);
  desk.stage("Giornate");
  const std::string before = desk.save(project);
  const auto choose_three = [&] {
    desk.press_control("giornata.1");
    wait_chosen(desk, {1});
    desk.key_down("shift");
    desk.press_control("giornata.3");
    desk.key_up("shift");
    wait_chosen(desk, {2, 3, 1});
  };
  choose_three();
  desk.press_control("chosen.remove");
  desk.wait("one left", [](const Json& s) { return s["giornate"] == 1; });
  desk.undo_to(project, before);

  choose_three();
  desk.press_control("chosen.join");
  const Json joined = desk.wait("two left", [](const Json& s) { return s["giornate"] == 2; });
  CHECK(joined["chosen"]["area_m2"].get<double>() == Approx(3).epsilon(1e-6));  // three squares of 1 m
  desk.undo_to(project, before);

  choose_three();
  desk.fill("chosen.coat", "9,5");
  desk.keys("Return");
  desk.wait("the coat",
            [](const Json& s) { return s["undo"].get<std::string>().find("3 giornate") != std::string::npos; });
  desk.verb("check " + project + " 2>&1");
  desk.undo_to(project, before);

  choose_three();
  desk.press_control("chosen.state");
  desk.press_control("state.ready");
  const Json ready = desk.wait("ready", [](const Json& s) { return s["chosen"]["state"] == "ready"; });
  CHECK(ready["undo"].get<std::string>().find("3 giornate") != std::string::npos);
  desk.undo_to(project, before);

  // The Join tool: the one that is clicked first stays.
  desk.take_tool("j", "Join");
  for (const auto& [u, points] : {std::pair{2.5, 1}, {1.5, 2}, {3.5, 3}}) {
    desk.point_at(u, 1.8);
    desk.click();
    desk.wait("one more", [points = points](const Json& s) { return s["points"] == points; });
  }
  desk.screenshot("join");
  desk.keys("Return");
  const Json by_clicks = desk.wait("joined", [](const Json& s) { return s["giornate"] == 2; });
  CHECK(by_clicks["chosen"]["id"] == 2);
  CHECK(by_clicks["chosen"]["area_m2"].get<double>() == Approx(3).epsilon(1e-6));
  desk.undo_to(project, before);
}

TEST_CASE("a zone is renamed and made a detail zone on the page, and its corner dragged with the Zone tool") {
  Desk desk;
  const std::string project = desk.file("nave.pontata");
  make_wall(desk, project);
  desk.open(project);
  desk.stage("Giornate");
  const std::string before = desk.save(project);
  desk.press_control("zone.1");
  desk.wait("the zone chosen", [](const Json& s) { return s["zone"] == 1; });
  desk.fill("zones.name", "hand");
  desk.keys("Return");
  desk.wait("the name", [](const Json& s) { return s["zones"][0]["name"] == "hand"; });
  desk.undo_to(project, before);
  desk.press_control("zones.detail");
  desk.wait("a detail zone", [](const Json& s) { return s["zones"][0]["kind"] == "detail"; });
  desk.fill("zones.rate", "0,15");
  desk.keys("Return");
  desk.wait("the rate", [](const Json& s) { return s["zones"][0]["rate"] == 0.15; });
  desk.screenshot("zones");
  desk.keys("ctrl+z");
  desk.wait("no rate", [](const Json& s) { return s["zones"][0]["rate"].is_null(); });
  desk.undo_to(project, before);

  desk.take_tool("z", "Zone");
  desk.point_at(1.6, 1.6);
  const auto [x, y] = desk.flat_px(1.8, 1.8);
  desk.drag_to(x, y);
  const Json moved = desk.wait("the corner moved", [](const Json& s) { return s["saved"] == false; });
  CHECK(moved["zones"][0]["points"] == 4);
  desk.screenshot("zone-corner");
  desk.undo_to(project, before);
}

TEST_CASE("at twice the size the tools stay above the views, and what several come to stays in its column") {
  Desk desk;
  const std::string project = desk.file("nave.pontata");
  make_wall(desk, project);
  desk.set_scale(2, 1280, 800);
  desk.open(project);
  desk.keys("ctrl+a");
  const Json all = desk.wait("all chosen", [](const Json& s) {
    return s["all_chosen"].size() == 4 && s["controls"].contains("chosen.remove");
  });
  const double views_top = all["views"]["space"][1];
  const Json panel = all["controls"]["chosen"];
  for (const auto& [name, at] : all["controls"].items()) {
    INFO(name << " " << at.dump());
    if (name.rfind("tool.", 0) == 0) CHECK(at[1].get<double>() + at[3].get<double>() <= views_top);
    if (name.rfind("chosen.", 0) == 0 || name.rfind("of-chosen.", 0) == 0)
      CHECK(at[0].get<double>() + at[2].get<double>() <= panel[0].get<double>() + panel[2].get<double>());
  }
  desk.screenshot("twice-chosen");
  for (const auto& [key, tool] : {std::pair{"n", "Nudge"}, {"o", "Outline"}, {"z", "Zone"}}) {
    desk.take_tool(key, tool);
    desk.screenshot(std::string("twice-") + tool);
  }
}

TEST_CASE("what stands beside the fields of a tool is in its column, at any size") {
  for (const double scale : {1.0, 2.0}) {
    Desk desk;
    const std::string project = desk.file("nave.pontata");
    make_wall(desk, project);
    desk.set_scale(scale, 1280, 800);
    desk.open(project);
    desk.keys("ctrl+a");
    desk.take_tool("o", "Outline");
    const Json s =
        desk.wait("the fields", [](const Json& j) { return j["controls"].contains("outline.simplify.unit"); });
    const Json panel = s["controls"]["chosen"];
    const double end = panel[0].get<double>() + panel[2].get<double>() - 8 * scale;  // less its margin
    for (const auto& [name, at] : s["controls"].items())
      if (name.rfind("outline.", 0) == 0) {
        INFO(scale << " " << name << " " << at.dump());
        CHECK(at[0].get<double>() + at[2].get<double>() <= end);
      }
    CHECK(s["controls"]["outline.hug"][1].get<double>() < panel[1].get<double>() + 80 * scale);  // at its head
    for (const char* region : {"page", "chosen"}) CHECK(s["controls"][region][2].get<double>() >= 200 * scale);
  }
}
