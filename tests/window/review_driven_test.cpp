// The Seams page and the layouts on the Giornate page: found, accepted, looked at from the floor, taken.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>

#include "tests/window/desk.h"

using namespace pontata;

namespace {

std::string undo_name(const Json& s) { return s["undo"]; }
bool shows(const Json& s, const std::string& control) { return s["controls"].contains(control); }

// Rows of the list of findings that can be seen, wholly or in part.
int listed(const Json& s) {
  int rows = 0;
  while (shows(s, "finding." + std::to_string(rows))) ++rows;
  return rows;
}

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

TEST_CASE("findings of one rule are listed alone, and those accepted once whose cause has changed") {
  Desk desk;
  const std::string project = desk.file("nave.pontata");
  // The second ends in a thin end; both are far too large for a day.
  desk.flat_wall(project, {"0.5 0.5\n2 0.5\n2 1.5\n0.5 1.5", "2 0.5\n3 0.5\n3 1.5\n4 1.52\n2 1.54"});
  desk.verb("set " + project + " rate 0.02");
  const Json found = Json::parse(desk.verb("review " + project + " --json"));
  std::string code;
  std::size_t thin = 0;
  for (const Json& f : found["findings"]) {
    if (f["rule"] == "too-large" && f["giornate"] == Json{1}) code = f["finding"];
    thin += f["rule"] == "thin-end" ? 1 : 0;
  }
  REQUIRE(!code.empty());
  REQUIRE(thin > 0);
  REQUIRE(found["findings"].size() > thin);
  desk.verb("accept " + project + " " + code + " --reason 'two painters'");
  desk.verb("set " + project + " rate 0.4");  // no longer too large: what was accepted is not there any more
  desk.open(project);
  const std::string before = desk.save(project);
  desk.stage("Seams");
  desk.press_control("seams.review");
  desk.wait("the findings", [](const Json& s) { return shows(s, "finding.0") && shows(s, "seams.rule"); });
  desk.press_control("seams.rule");
  desk.wait("the rules", [](const Json& s) { return shows(s, "rule.thin-end"); });
  CHECK_FALSE(shows(desk.state(), "rule.too-large"));
  desk.press_control("rule.thin-end");
  desk.wait("thin ends alone", [&](const Json& s) { return listed(s) == static_cast<int>(thin); });

  desk.press_control("section.outdated");
  desk.wait("what was accepted once", [&](const Json& s) { return shows(s, "outdated." + code); });
  desk.press_control("outdated." + code);
  desk.wait("forgotten", [&](const Json& s) { return !shows(s, "outdated." + code) && s["undo"] != ""; });
  desk.undo_to(project, before);
}

TEST_CASE("the review sheet is written to the file that was named") {
  Desk desk;
  const std::string project = desk.file("nave.pontata");
  desk.flat_wall(project, {"0.5 0.5\n2 0.5\n2 1.5\n0.5 1.5", "2 0.5\n3 0.5\n3 1.5\n2 1.5"});
  desk.verb("set " + project + " eye.door 1,-3,1.6");
  desk.open(project);
  desk.stage("Seams");
  desk.press_control("seams.sheet");
  const std::string sheet = desk.file("nave-review.pdf");
  desk.choose_file(sheet);
  desk.wait("the sheet", [&](const Json&) { return std::filesystem::exists(sheet); });
  std::ifstream in(sheet, std::ios::binary);
  std::string head(5, ' ');
  in.read(head.data(), 5);
  CHECK(head == "%PDF-");
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

TEST_CASE("another project's layout of the wall is compared with the one here") {
  Desk desk;
  const std::string project = desk.file("nave.pontata"), other = desk.file("copy.pontata");
  desk.flat_wall(project, {"0.5 0.5\n2 0.5\n2 1.5\n0.5 1.5", "2 0.5\n3 0.5\n3 1.5\n2 1.5"});
  desk.flat_wall(other, {"0.5 0.5\n2 0.5\n2 1.5\n0.5 1.5"});
  desk.open(project);
  const std::string before = desk.save(project);
  desk.stage("Giornate");
  desk.press_control("section.layout");
  desk.press_control("layout.compare");
  desk.choose_file(other);
  desk.wait("both layouts", [](const Json& s) { return shows(s, "layout.row.0") && shows(s, "layout.row.-1"); });
  desk.screenshot("layouts-compared");
  CHECK(desk.save(project) == before);  // nothing is changed by it
}
