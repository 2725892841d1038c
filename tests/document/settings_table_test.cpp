#include "engine/document/settings_table.h"

#include <set>

#include "tests/document/small_project.h"

using namespace pontata;

TEST_CASE("every setting takes back its own text to the same text") {
  const Settings settings;
  for (const auto& setting : settings_keys(settings)) {
    INFO(setting.key);
    Settings changed = settings;
    const std::string text = setting.get(settings);
    REQUIRE(setting.set(changed, text).ok());
    CHECK(setting.get(changed) == text);
    CHECK_FALSE(setting.meaning.empty());
  }
}

TEST_CASE("every setting refuses text that is no such value and stays as it was") {
  const Settings settings;
  for (const auto& setting : settings_keys(settings))
    for (const std::string bad : {"", "x", "nan", "inf", "1e400", "-1e9", "1e9", "1:2:3", "2027-02-30", "1 2"}) {
      INFO(setting.key << " = " << bad);
      Settings changed = settings;
      const auto done = setting.set(changed, bad);
      REQUIRE_FALSE(done.ok());
      CHECK_FALSE(done.problem().remedy.empty());
      CHECK(setting.get(changed) == setting.get(settings));
    }
}

TEST_CASE("each setting changes one value and no other") {
  const Settings settings;
  const auto keys = settings_keys(settings);
  std::set<std::string> names;
  for (const auto& setting : keys) CHECK(names.insert(setting.key).second);
  const std::vector<std::pair<std::string, std::string>> samples{{"rate", "0.5"},
                                                                 {"window.base", "9"},
                                                                 {"window.wait", "1.5"},
                                                                 {"window.stop", "1.25"},
                                                                 {"day.hours", "8"},
                                                                 {"painters", "3"},
                                                                 {"start", "2028-02-29"},
                                                                 {"workdays", "1,3,5"},
                                                                 {"pontata.levels", "1.5,3"},
                                                                 {"rate.of.faces", "0.02"},
                                                                 {"rate.of.drapery", "0.2"},
                                                                 {"rate.of.architecture", "0.3"},
                                                                 {"rate.of.background", "0.6"},
                                                                 {"rate.laying", "1.5"},
                                                                 {"day.whole", "12"},
                                                                 {"window.temperature", "15"},
                                                                 {"window.humidity", "70"},
                                                                 {"window.air", "5"},
                                                                 {"window.weather", "no"},
                                                                 {"hand", "left"},
                                                                 {"hand.against", "yes"},
                                                                 {"pontata.reach", "2.1,2.4"},
                                                                 {"pontata.load", "900"},
                                                                 {"scaffold.move", "2"},
                                                                 {"scaffold.strike", "3"},
                                                                 {"curing.days", "45"},
                                                                 {"secco.days", "90"},
                                                                 {"plasterer.area", "4.5"},
                                                                 {"coat.first.mm", "5"},
                                                                 {"mix.first", "1:2 volume"},
                                                                 {"coat.final.mm", "2"},
                                                                 {"mix.final", "1:1.25 weight"},
                                                                 {"grain.first.mm", "0.8"},
                                                                 {"grain.final.mm", "0.3"},
                                                                 {"coat.rinzaffo.mm", "6"},
                                                                 {"mix.rinzaffo", "1 : 2 sand : 0.5 pozzolana volume"},
                                                                 {"grain.rinzaffo.mm", "4"},
                                                                 {"coat.arriccio.mm", "0"},
                                                                 {"grain.arriccio.mm", "2.5"},
                                                                 {"surface.is", "bare wall"},
                                                                 {"keys.L", "1.5"},
                                                                 {"putty.solids", "0.45"},
                                                                 {"putty.age", "6"},
                                                                 {"slake.own", "yes"},
                                                                 {"quicklime.purity", "0.9"},
                                                                 {"sand.moisture", "4"},
                                                                 {"sand.bulking", "22"},
                                                                 {"marble.density", "1.4"},
                                                                 {"marble.voids", "0.35"},
                                                                 {"pozzolana.density", "0.9"},
                                                                 {"pozzolana.voids", "0.5"},
                                                                 {"bucket.L", "10"},
                                                                 {"reserve.pct", "15"},
                                                                 {"margin.mm", "30"},
                                                                 {"waste.pct", "10"},
                                                                 {"sand.voids", "0.4"},
                                                                 {"putty.density", "1.38"},
                                                                 {"sand.density", "1.5"},
                                                                 {"level.straightedge", "1.5"},
                                                                 {"level.least.mm", "10"},
                                                                 {"mix.arriccio", "1:3 volume"},
                                                                 {"tip.mm", "50"},
                                                                 {"tip.deg", "30"},
                                                                 {"contour.mm", "8"},
                                                                 {"contour.share", "0.5"},
                                                                 {"splash.m", "0.75"},
                                                                 {"smooth.m", "0.4"},
                                                                 {"smooth.round.mm", "90"},
                                                                 {"meeting.mm", "25"},
                                                                 {"line.m", "2"},
                                                                 {"line.meetings", "3"},
                                                                 {"line.deg", "10"},
                                                                 {"kink.deg", "60"},
                                                                 {"kink.mm", "30"},
                                                                 {"small.share", "0.3"},
                                                                 {"wide.m", "2.5"},
                                                                 {"reach.slack", "0.2"},
                                                                 {"rib.mm", "20"},
                                                                 {"rib.share", "0.5"},
                                                                 {"seam.width.mm", "2"},
                                                                 {"eye.limit", "2"},
                                                                 {"eyes", "altar 4,0,1.6; door 0.5,0,1.6"},
                                                                 {"hug.width", "0.2"},
                                                                 {"hug.seam", "0.03"},
                                                                 {"hug.snap", "0.01"},
                                                                 {"hug.strength", "0.2"},
                                                                 {"hug.simplify", "1"},
                                                                 {"contours.scale", "3"},
                                                                 {"contours.strength", "0.2"},
                                                                 {"squaring.step", "0.5"},
                                                                 {"paper", "A3"},
                                                                 {"overlap.mm", "20"},
                                                                 {"relief.mm", "2"},
                                                                 {"picture.dpi", "150"},
                                                                 {"picture.print", "faded"},
                                                                 {"copies", "incision,sinopia"},
                                                                 {"prick.face.mm", "4"},
                                                                 {"prick.drapery.mm", "8"},
                                                                 {"prick.architecture.mm", "12.5"},
                                                                 {"mirrored", "yes"},
                                                                 {"lines.step", "0.5"},
                                                                 {"plan.by", "week"},
                                                                 {"plan.eye", "0,-3,1.6 1,0,2.5"}};
  CHECK(samples.size() == keys.size());
  for (const auto& [key, value] : samples) {
    INFO(key);
    const auto changed = with_setting(settings, key, value);
    REQUIRE(changed.ok());
    for (const auto& setting : keys)
      if (setting.key == key)
        CHECK(setting.get(*changed) == value);
      else
        CHECK(setting.get(*changed) == setting.get(settings));
  }
}

TEST_CASE("lengths come in any unit, numbers with comma or point") {
  const auto mm = with_setting({}, "coat.first.mm", "0.7cm");
  CHECK(mm->plaster.intonaco[0].thickness_mm == 7);
  CHECK(with_setting({}, "hug.width", "120mm")->hug.reach_m == Approx(0.12));
  CHECK(with_setting({}, "rate", "0,35")->calendar.rate_m2_per_h == 0.35);
  CHECK_FALSE(with_setting({}, "rate", "3mm").ok());
}

TEST_CASE("the rows list zones with a rate of their own and giornate with a thickness of their own") {
  const auto doc = done(set_intonaco(*small_project(), GiornataId{2}, 9.0));
  CHECK(setting_row(*doc, "rate.face")->value == "0.06");
  CHECK(setting_row(*doc, "giornata.2.mm")->value == "9");
  CHECK(setting_row(*doc, "window.base")->standard == "10");
  const auto unknown = setting_row(*doc, "colour");
  REQUIRE_FALSE(unknown.ok());
  CHECK(unknown.problem().remedy.find("window.base") != std::string::npos);
}

TEST_CASE("a rate may be given as the hours that one piece took") {
  const auto rate = [](const std::string& text) {
    return with_setting({}, "rate.of.faces", text).value().calendar.subject_rates[1];
  };
  CHECK(rate("2.5 h for 0.08 m2") == Approx(0.032));
  CHECK(rate("2,5h for 0.08m²") == Approx(0.032));
  CHECK(rate("0.04") == Approx(0.04));
  CHECK_FALSE(rate("none"));
  for (const char* text : {"2.5 h", "2.5 for 0.08", "h for m2", "0 h for 1 m2", "-1 h for 1 m2", "1 m2 for 2 h"}) {
    INFO(text);
    CHECK_FALSE(with_setting({}, "rate.of.faces", text).ok());
  }
}

TEST_CASE("eye points are set one by one and kept by name") {
  Settings settings;
  for (const auto& [name, value] : {std::pair{"eye.door", "0.5,0,1.6"}, {"eye.altar", "4m,-20cm,1.7"}}) {
    const auto set = with_setting(settings, name, value);
    REQUIRE(set);
    settings = *set;
  }
  REQUIRE(settings.review.eyes.size() == 2);
  CHECK(settings.review.eyes[0].name == "altar");
  CHECK(settings.review.eyes[0].at.y == Approx(-0.2));
  CHECK(with_setting(settings, "eye.door", "none")->review.eyes.size() == 1);
  CHECK(with_setting(settings, "eye.door", "1,1,1")->review.eyes[1].at.x == 1);
  for (const auto& [name, value] : {std::pair{"eye.door", "1,2"},
                                    {"eye.", "1,2,3"},
                                    {"eye.a b", "1,2,3"},
                                    {"eye.a;b", "1,2,3"},
                                    {"eye.x", "nan,0,0"},
                                    {"eyes", "a 1,2,3; a 1,2,4"},
                                    {"eyes", "limit 1,2,3"},
                                    {"eyes", "a"}})
    CHECK_FALSE(with_setting(settings, name, value).ok());
}
