// A giornata drawn by hand: clicks along a figure, Hug between them, undo, redo, save, and the same again after a
// restart.
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>

#include "engine/picture/image.h"
#include "tests/window/desk.h"

using namespace pontata;

namespace {

constexpr double kPi = 3.14159265358979323846;

// A vault whose picture holds one dark disc of radius 0.6 m round chart place (3, 2) on light ground; 1 px is 5 mm.
constexpr double kDiscU = 3, kDiscV = 2, kDiscR = 0.6;
void make_vault(const Desk& desk, const std::string& project) {
  Image image{1200, 800, std::vector<std::uint8_t>(1200 * 800 * 3, 225)};
  for (int y = 0; y < 800; ++y)
    for (int x = 0; x < 1200; ++x) {
      const double u = (x + 0.5) * 0.005, v = (800 - y - 0.5) * 0.005;
      if (std::hypot(u - kDiscU, v - kDiscV) > kDiscR) continue;
      for (int c = 0; c < 3; ++c) image.rgb[static_cast<std::size_t>((y * 1200 + x) * 3 + c)] = c == 0 ? 120 : 50;
    }
  REQUIRE(write_png(image, desk.file("disc.png")));
  desk.verb("wall " + project + " vault --shape barrel --span 4m --length 6m --rise 2m 2>&1");
  desk.verb("picture " + project + " vault " + desk.file("disc.png") + " --width 6m 2>&1");
}

void click_disc(const Desk& desk, int clicks, double first_angle = 0) {
  const auto before = desk.state()["points"].get<int>();
  for (int i = 0; i < clicks; ++i) {
    const double a = first_angle + 2 * kPi * i / clicks;
    desk.point_at(kDiscU + kDiscR * std::cos(a), kDiscV + kDiscR * std::sin(a));
    desk.click();
    desk.wait("a point more", [&](const Json& s) { return s["points"] == before + i + 1; });
  }
}

}  // namespace

TEST_CASE("an outline that hugs: drawn by mouse, undone, redone, saved, and there after a restart") {
  Desk desk;
  const std::string project = desk.file("vault.pontata");
  make_vault(desk, project);
  desk.open(project);
  desk.wait("the contours", [](const Json& s) { return s["walls"] == 1 && s["contours"] == true; });
  desk.near(kDiscU, kDiscV, 1.8);
  desk.take_tool("o", "Outline");
  click_disc(desk, 8);
  desk.screenshot("outline-in-hand");
  desk.keys("Return");
  const Json drawn =
      desk.wait("the giornata", [](const Json& s) { return s["giornate"] == 1 && s["chosen"].is_object(); });
  const double area = drawn["chosen"]["area_m2"];
  // The chart of a barrel is isometric, so the disc keeps its area pi r^2; eight straight chords would hold
  // only 0.900 of it (regular octagon, closed form), so this is the contour.
  CHECK(area == Approx(kPi * kDiscR * kDiscR).epsilon(0.02));
  CHECK(drawn["saved"] == false);
  desk.screenshot("giornata-drawn");

  desk.keys("ctrl+z");
  desk.wait("undo", [](const Json& s) { return s["giornate"] == 0 && s["redo"] != ""; });
  desk.keys("ctrl+shift+z");
  const Json redone = desk.wait("redo", [](const Json& s) { return s["giornate"] == 1; });
  CHECK(redone["undo"] == drawn["undo"]);
  desk.keys("ctrl+s");
  desk.wait("saved", [](const Json& s) { return s["saved"] == true && s["error"] == false; });
  desk.keys("ctrl+q");
  CHECK(desk.wait_exit() == 0);

  const Json measured = Json::parse(desk.verb("measure " + project + " --json"));
  const Json& giornata = measured["walls"][0]["giornate"][0];
  CHECK(giornata["area_m2"].get<double>() == Approx(area).epsilon(1e-9));
  CHECK(measured["walls"][0]["residual_m2"] == 0);

  desk.open(project);
  const Json again = desk.wait("the giornata after a restart", [](const Json& s) { return s["giornate"] == 1; });
  CHECK(again["saved"] == true);
  desk.point_at(kDiscU, kDiscV);
  desk.click();
  const Json chosen = desk.wait("chosen by a click", [](const Json& s) { return s["chosen"].is_object(); });
  CHECK(chosen["chosen"]["area_m2"].get<double>() == Approx(area).epsilon(1e-12));
  desk.screenshot("opened-again");
  desk.keys("ctrl+q");
  CHECK(desk.wait_exit() == 0);
}

TEST_CASE(
    "an outline in hand: Backspace takes back a point, Esc gives up, Shift draws straight, the first point closes") {
  Desk desk;
  const std::string project = desk.file("vault.pontata");
  make_vault(desk, project);
  desk.open(project);
  desk.wait("the contours", [](const Json& s) { return s["contours"] == true; });
  desk.near(kDiscU, kDiscV, 1.8);
  desk.keys("o");
  click_disc(desk, 4);
  desk.keys("BackSpace");
  desk.wait("three points", [](const Json& s) { return s["points"] == 3; });
  desk.keys("Escape");
  desk.wait("no point", [](const Json& s) { return s["points"] == 0 && s["tool"] == "Outline"; });

  // Four straight strokes with Hug let go: the square in the disc, 2 r^2 (closed form).
  desk.keys("h");
  desk.wait("Hug off", [](const Json& s) { return s["hug"] == false; });
  click_disc(desk, 4);
  desk.point_at(kDiscU + kDiscR, kDiscV);
  desk.click();
  const Json drawn = desk.wait("closed on the first point", [](const Json& s) { return s["giornate"] == 1; });
  CHECK(drawn["chosen"]["area_m2"].get<double>() == Approx(2 * kDiscR * kDiscR).epsilon(0.02));
  CHECK(drawn["points"] == 0);
}

TEST_CASE("the status line says what the line to the pointer follows, and the strip sets how widely it looks") {
  Desk desk;
  const std::string project = desk.file("vault.pontata");
  make_vault(desk, project);
  desk.open(project);
  desk.wait("the contours", [](const Json& s) { return s["contours"] == true; });
  desk.near(kDiscU, kDiscV, 1.8);
  desk.keys("o");
  const auto on_disc = [&](double angle) {
    desk.point_at(kDiscU + kDiscR * std::cos(angle), kDiscV + kDiscR * std::sin(angle));
  };
  on_disc(0);
  desk.click();
  desk.wait("a point", [](const Json& s) { return s["points"] == 1; });
  on_disc(0.8);
  // 0.8 of a radius of 0.6 m is 0.48 m of arc; the chord would be 0.467 m.
  const auto arc = [](const Json& s) {
    const std::string says = s["follows"];
    return says.rfind("follows a contour, 0.4", 0) == 0 && std::abs(std::stod(says.substr(19)) - 0.48) < 0.015;
  };
  desk.wait("the contour named", arc);
  desk.screenshot("follows-a-contour");
  desk.click();
  desk.wait("two points", [](const Json& s) { return s["points"] == 2; });
  desk.point_at(kDiscU + 0.3, kDiscV + 0.8);
  desk.wait("nothing there", [](const Json& s) { return s["follows"] == "straight: nothing near to follow"; });

  // A narrow search, set on the strip as one undo step: the arc leaves its chord by 0.047 m.
  desk.fill("outline.width", "2");
  desk.keys("Return");
  desk.wait("a step to undo", [](const Json& s) { return s["undo"] != ""; });
  desk.keys("BackSpace");
  desk.wait("a point left", [](const Json& s) { return s["points"] == 1; });
  on_disc(0.8);
  desk.wait("no longer the arc", [&](const Json& s) { return s["follows"] != "" && !arc(s); });
  desk.keys("Escape");
  desk.keys("ctrl+s");
  desk.wait("saved", [](const Json& s) { return s["saved"] == true; });
  CHECK(desk.verb("set " + project + " hug.width").find("0.02") != std::string::npos);
}

TEST_CASE("typing a name is not taken for shortcuts, and unsaved work is asked about before the window closes") {
  Desk desk;
  const std::string project = desk.file("vault.pontata");
  make_vault(desk, project);
  desk.verb("outline " + project + " vault --points - 2>&1 <<'END'\n1 1\n2 1\n2 2\n1 2\nEND\n");
  desk.open(project);
  desk.press_control("giornata.1");
  desk.wait("chosen", [](const Json& s) { return s["chosen"].is_object(); });
  desk.press_control("chosen.name");
  desk.type("sotto il volto");
  desk.keys("Return");
  const Json named = desk.wait("the name", [](const Json& s) { return s["chosen"]["name"] == "sotto il volto"; });
  CHECK(named["tool"] == "Look");
  CHECK(named["saved"] == false);

  desk.keys("ctrl+q");
  desk.wait("the question",
            [](const Json& s) { return s["dialog"] == "unsaved" && s["controls"].contains("unsaved.stay"); });
  desk.screenshot("unsaved-question");
  desk.press_control("unsaved.stay");
  desk.wait("back", [](const Json& s) { return s["dialog"] == ""; });
  desk.keys("ctrl+q");
  desk.press_control("unsaved.save");
  CHECK(desk.wait_exit() == 0);
  CHECK(Json::parse(desk.verb("measure " + project + " --json"))["walls"][0]["giornate"][0]["name"] ==
        "sotto il volto");
}

TEST_CASE("work that was not saved comes back after the program was killed, and the user's file is left alone") {
  Desk desk;
  const std::string project = desk.file("vault.pontata");
  make_vault(desk, project);
  const std::string saved = desk.verb("measure " + project + " --json");
  desk.open(project);
  desk.wait("the contours", [](const Json& s) { return s["contours"] == true; });
  desk.near(kDiscU, kDiscV, 1.8);
  desk.keys("o");
  click_disc(desk, 4);
  desk.keys("Return");
  desk.wait("drawn", [](const Json& s) { return s["giornate"] == 1; });
  const std::filesystem::path copies = desk.file("state") + "/pontata";
  for (int tenths = 0; tenths < 600; ++tenths) {
    std::error_code none;
    bool kept = false;
    for (std::filesystem::recursive_directory_iterator it(copies, none), end; !none && it != end; it.increment(none))
      kept |= it->is_regular_file() && it->file_size() > 100;
    if (kept) break;
    REQUIRE(tenths < 599);
    ::usleep(100000);
  }
  desk.wait("the copy complete", [](const Json& s) { return s["work"] == ""; });
  desk.kill_hard();
  CHECK(desk.verb("measure " + project + " --json") == saved);

  desk.open(project);
  desk.wait("the offer",
            [](const Json& s) { return s["dialog"] == "recover" && s["controls"].contains("recover.take"); });
  desk.screenshot("recovery-offer");
  desk.press_control("recover.take");
  const Json back = desk.wait("the work", [](const Json& s) { return s["giornate"] == 1; });
  CHECK(back["saved"] == false);
}
