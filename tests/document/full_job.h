// The small project with something of every kind written down on the job.
#pragma once

#include "engine/document/job_edits.h"
#include "tests/document/small_project.h"

namespace pontata {

inline DiaryEntry entry_of(std::uint32_t giornata, Date date) {
  DiaryEntry entry;
  entry.giornata = GiornataId{giornata};
  entry.date = date;
  return entry;
}

inline DiaryEntry full_entry(std::uint32_t giornata, Date date, const std::string& photo = "") {
  DiaryEntry entry = entry_of(giornata, date);
  entry.hours = 6.5;
  entry.lay_hours = 1.25;
  entry.window_h = 9.5;
  entry.air = Air{18, 62, 2};
  entry.light = "north light";
  entry.mix = "1:1.5 volume";
  entry.putty = "tub 3";
  entry.remarks = "l\u2019azzurro \u00e8 asciutto";
  entry.photo = photo;
  return entry;
}

// Giornata 1 was cut along a line: its rest is giornata 3; 2 failed and was done again.
inline DocumentRef full_job(const std::string& photo = "") {
  auto doc = small_project();
  const WallId wall = doc->walls[0]->id;
  const GiornataId one{1}, two{2};
  doc = done(set_ground(*doc, {wall, 0, {2027, 3, 1}, Date{2027, 4, 2}, "mason", true, true, true, "firm"}));
  doc = done(set_ground(*doc, {wall, 2, {2027, 3, 5}, std::nullopt, "", false, false, false, ""}));
  const std::vector<DayWeather> days{{{2027, 5, 4}, {21, 55, 3}, 9.0}, {{2027, 5, 3}, {20, 60, 0}, std::nullopt}};
  doc = done(add_weather(*doc, days));
  doc = done(add_days_off(*doc, {{2027, 6, 1}, {2027, 6, 3}, DayOffWhy::dust, "floor sanded"}));
  doc = done(set_putty(*doc, {"tub 3", {2025, 9, 1}, 60, "beech-fired"}));
  doc = done(add_pair(*doc, {one, two, PairKind::before}));
  doc = done(move_to_day(*doc, two, Date{2027, 5, 6}));
  doc = done(set_palette(*doc, one, {"PR 102", "PB 28"}));
  doc = done(set_secco(*doc, {0, one, "blue of the mantle", "casein", 0.2, 3, Date{2027, 8, 1}}));
  doc = done(write_diary(*doc, full_entry(1, {2027, 5, 4}, photo), {{1.0, 0.5}, {1.0, 1.5}}, ChartPoint{0.75, 1}));
  doc = done(write_diary(*doc, full_entry(2, {2027, 5, 6})));
  doc = done(fail_giornata(*doc, two, {2027, 5, 9}, "hollow"));
  doc = done(set_behind_scaffold(*doc, GiornataId{3}, true));
  Finding edge;
  edge.rule = "kink", edge.giornate = {one, two}, edge.value = 80, edge.limit = 70;
  doc = done(accept_finding(*doc, wall, edge, "hidden by the cornice"));
  return done(write_diary(*doc, entry_of(2, {2027, 5, 12})));
}

}  // namespace pontata
