#include "engine/document/settings_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/units.h"
#include "engine/cartoon/cartoon.h"
#include "engine/document/eye_points.h"
#include "engine/document/record_names.h"
#include "engine/document/setting_makers.h"
#include "engine/document/setting_values.h"

namespace pontata {

using namespace making;

namespace {

Setting copies() {
  Setting s{"copies", SettingKind::text, {}, "", "", {}, {}};
  s.meaning =
      "prick: patterns carry marks to prick; incision: a trimmed copy for the stylus; sinopia: sheets for the "
      "arriccio; some of these with commas, or none";
  s.get = [](const Settings& settings) { return write_copies(settings.cartoon.print); };
  s.set = [](Settings& settings, const std::string& text) -> Outcome {
    auto print = read_copies(text, settings.cartoon.print);
    if (!print) return Problem{"copies: " + print.problem().what, "", print.problem().remedy};
    settings.cartoon.print = *print;
    return Done{};
  };
  return s;
}

void add_review_limits(std::vector<Setting>& keys) {
  keys.push_back(number(
      "smooth.m", "m", {0.01, 100}, "a longer stretch of seam across smooth ground shows",
      [](auto& s) -> auto& { return s.review.smooth_m; }));
  keys.push_back(number(
      "smooth.round.mm", "mm", {10, 1000}, "ground with no contour so near to either side of a seam is smooth",
      [](auto& s) -> auto& { return s.review.smooth_round_mm; }));
  keys.push_back(number(
      "meeting.mm", "mm", {0.1, 500}, "seams that meet a seam from both sides so near each other make a cross",
      [](auto& s) -> auto& { return s.review.meeting_mm; }));
  keys.push_back(number(
      "line.m", "m", {0.05, 100}, "seams that run on in line for longer are told",
      [](auto& s) -> auto& { return s.review.line_m; }));
  keys.push_back(whole(
      "line.meetings", {1, 50}, "past so many other seams or more",
      [](auto& s) -> auto& { return s.review.line_meetings; }));
  keys.push_back(number(
      "line.deg", "deg", {0.5, 60}, "seams that turn more than this are not in line",
      [](auto& s) -> auto& { return s.review.line_deg; }));
  keys.push_back(number(
      "kink.deg", "deg", {5, 179}, "a seam that turns sharper than this has a kink",
      [](auto& s) -> auto& { return s.review.kink_deg; }));
  keys.push_back(number(
      "kink.mm", "mm", {1, 500}, "length to either side that a kink is judged over",
      [](auto& s) -> auto& { return s.review.kink_mm; }));
  keys.push_back(number(
      "small.share", "", {0, 1}, "a giornata that needs less of the day's hours is too small",
      [](auto& s) -> auto& { return s.review.small_share; }));
  keys.push_back(number(
      "wide.m", "m", {0.1, 100}, "widest giornata along the deck", [](auto& s) -> auto& { return s.review.wide_m; }));
  keys.push_back(number(
      "reach.slack", "m", {0, 2}, "that a giornata may go beyond its deck's reach, up or down",
      [](auto& s) -> auto& { return s.review.reach_slack_m; }));
  keys.push_back(number(
      "rib.mm", "mm", {0.1, 500}, "a seam nearer to a rib or arris runs along it",
      [](auto& s) -> auto& { return s.review.rib_mm; }));
  keys.push_back(number(
      "rib.share", "", {0, 1}, "share of a seam along a rib that is let pass",
      [](auto& s) -> auto& { return s.review.rib_share; }));
  keys.push_back(number(
      "seam.width.mm", "mm", {0.05, 50}, "width of a joint as it shows",
      [](auto& s) -> auto& { return s.review.joint_mm; }));
  keys.push_back(number(
      "eye.limit", "", {0.05, 60}, "minutes of arc: a joint that looks wider from an eye point is resolved",
      [](auto& s) -> auto& { return s.review.eye_arcmin; }));
  keys.push_back(written(
      "eyes", "", "places that the seams are looked at from: door 0.5,0,1.6; altar 4,0,1.6 (m); or none; also eye.NAME",
      [](auto& s) -> auto& { return s.review.eyes; }, read_eyes, write_eyes));
}

void add_review(std::vector<Setting>& keys) {
  keys.push_back(number(
      "tip.mm", "mm", {1, 1000}, "narrower than this is a thin end", [](auto& s) -> auto& { return s.review.tip_mm; }));
  keys.push_back(number(
      "tip.deg", "deg", {1, 170}, "a tip sharper than this is a thin end",
      [](auto& s) -> auto& { return s.review.tip_deg; }));
  keys.push_back(number(
      "contour.mm", "mm", {0.5, 500}, "farther from the picture's contour counts as off it",
      [](auto& s) -> auto& { return s.review.contour_mm; }));
  keys.push_back(number(
      "contour.share", "", {0, 1}, "share of a seam that may lie off the contour",
      [](auto& s) -> auto& { return s.review.off_contour_share; }));
  keys.push_back(number(
      "splash.m", "m", {0, 10}, "how far to the side drips and splashes reach below wet work",
      [](auto& s) -> auto& { return s.review.splash_m; }));
  add_review_limits(keys);
}

void add_contours(std::vector<Setting>& keys) {
  keys.push_back(number(
      "contours.scale", "mm", {0, 100}, "width of a change of colour that still is a contour; 0: as fine as it can be",
      [](auto& s) -> auto& { return s.contours.scale_mm; }));
  keys.push_back(number(
      "contours.strength", "", {0.005, 1}, "contrast a contour needs, 0 to 1",
      [](auto& s) -> auto& { return s.contours.strength; }));
}

void add_drawing(std::vector<Setting>& keys) {
  keys.push_back(number(
      "hug.width", "m", {0.001, 2}, "how far Hug may lead a line away from the stroke",
      [](auto& s) -> auto& { return s.hug.reach_m; }));
  keys.push_back(number(
      "hug.seam", "m", {0, 0.5}, "seams, edges of the wall and its arrises attract within this, before contours",
      [](auto& s) -> auto& { return s.hug.seam_reach_m; }));
  keys.push_back(number(
      "hug.snap", "m", {0, 0.1}, "a click within this of a contour is drawn to it; 0 leaves it where it is",
      [](auto& s) -> auto& { return s.hug.snap_m; }));
  keys.push_back(number(
      "hug.strength", "", {0.001, 1}, "contours of this contrast lead Hug; weaker ones lead it less",
      [](auto& s) -> auto& { return s.hug.strength; }));
  keys.push_back(number(
      "hug.simplify", "mm", {0, 10}, "how far the drawn line may lie from the way that Hug found",
      [](auto& s) -> auto& { return s.hug.simplify_mm; }));
  keys.push_back(number(
      "squaring.step", "m", {0, 10}, "side of the squares drawn over pictures and wall for squaring up; 0: none",
      [](auto& s) -> auto& { return s.squaring.step_m; }));
  keys.push_back(written(
      "paper", "", "the cartoon's paper: A4 A3 A2 A1 A0 roll610 roll914",
      [](auto& s) -> auto& { return s.cartoon.paper; }, read_paper, [](const std::string& s) { return s; }));
  keys.push_back(number(
      "overlap.mm", "mm", {5, 50}, "overlap of neighbouring sheets of one giornata",
      [](auto& s) -> auto& { return s.cartoon.overlap_mm; }));
  keys.push_back(whole(
      "picture.dpi", {20, 300}, "dots to the inch of the picture printed inside the outline",
      [](auto& s) -> auto& { return s.cartoon.picture_dpi; }));
  keys.push_back(number(
      "relief.mm", "mm", {0.5, 20},
      "a printed pattern may be off the wall by so much; a curved one is cut until it is not",
      [](auto& s) -> auto& { return s.cartoon.relief_mm; }));
}

void add_print(std::vector<Setting>& keys) {
  keys.push_back(written(
      "picture.print", "", "what the patterns show of the picture: full, faded, or contours alone",
      [](auto& s) -> auto& { return s.cartoon.print.picture; }, read_printed_picture, write_printed_picture));
  keys.push_back(copies());
  keys.push_back(number(
      "prick.face.mm", "mm", {1, 50}, "from mark to mark to prick along contours in keep-whole zones",
      [](auto& s) -> auto& { return s.cartoon.print.prick_face_mm; }));
  keys.push_back(number(
      "prick.drapery.mm", "mm", {1, 50}, "the same in detail zones",
      [](auto& s) -> auto& { return s.cartoon.print.prick_drapery_mm; }));
  keys.push_back(number(
      "prick.architecture.mm", "mm", {1, 100}, "the same elsewhere",
      [](auto& s) -> auto& { return s.cartoon.print.prick_architecture_mm; }));
  keys.push_back(written(
      "mirrored", "", "patterns are printed mirrored, for tracing from behind: yes or no",
      [](auto& s) -> auto& { return s.cartoon.print.mirrored; }, read_yes, write_yes));
  keys.push_back(number(
      "lines.step", "m", {0.1, 10}, "between the level and plumb lines snapped on the wall, where no squares are drawn",
      [](auto& s) -> auto& { return s.cartoon.lines_step_m; }));
  keys.push_back(written(
      "plan.by", "", "the key plan tells giornate apart by pontata or by week",
      [](auto& s) -> auto& { return s.cartoon.plan.by; }, read_plan_by, write_plan_by));
  keys.push_back(written(
      "plan.eye", "", "the key plan also as seen from a place, X,Y,Z looking at X,Y,Z (a space between); or none",
      [](auto& s) -> auto& { return s.cartoon.plan.eye; }, read_eye, write_eye));
}

SettingRow row_of(const Setting& setting, const Settings& settings) {
  return {setting.key, setting.get(settings), setting.unit, setting.get(Settings{}), setting.meaning};
}

void add_zone_rows(std::vector<SettingRow>& rows, const Document& doc) {
  for (const auto& wall : doc.walls)
    for (const auto& zone : wall->zones)
      if (zone.kind == ZoneKind::detail && !zone.name.empty())
        rows.push_back({"rate." + zone.name, write_rate(zone.rate_m2_per_h), "m²/h", "none",
                        "area painted in an hour inside this zone of " + wall->name});
}

void add_eye_rows(std::vector<SettingRow>& rows, const Document& doc) {
  for (const EyePoint& e : doc.settings.review.eyes)
    rows.push_back({"eye." + e.name, write_place(e.at), "m", "none", "where the eye of whoever stands there is"});
}

// What is written down of one giornata: mm, name, note, state.
std::vector<SettingRow> rows_of(const Giornata& g) {
  const std::string of = " of giornata " + label_of(g), key = fmt::format("giornata.{}.", g.id.value);
  return {{key + "mm", g.intonaco_mm ? format_number(*g.intonaco_mm) : "none", "mm", "none",
           "own thickness of intonaco" + of},
          {key + "name", g.name, "", "", "name" + of},
          {key + "note", g.note, "", "", "note" + of},
          {key + "state", std::string(state_name(g.state)), "", "planned",
           "state" + of + ": planned, ready, today, done or redo"}};
}

// The thickness, note and state of those that have their own.
void add_giornata_rows(std::vector<SettingRow>& rows, const Document& doc) {
  for (const auto& g : doc.giornate) {
    if (!g.alive) continue;
    for (auto& row : rows_of(g))
      if (row.value != row.standard && !row.key.ends_with(".name")) rows.push_back(std::move(row));
  }
}

void add_wall_rows(std::vector<SettingRow>& rows, const Document& doc) {
  for (const auto& wall : doc.walls)
    if (wall->scan)
      rows.push_back({"old-plaster." + wall->name,
                      !wall->scan->old_plaster   ? "none"
                      : *wall->scan->old_plaster ? "yes"
                                                 : "no",
                      "", "none",
                      "old plaster or paint lies on " + wall->name + ": yes, no, or none where it is not known"});
}

}  // namespace

std::vector<Setting> settings_keys(const Settings& settings) {
  std::vector<Setting> keys;
  const auto mark = [&](SettingGroup group, std::size_t from) {
    for (std::size_t i = from; i < keys.size(); ++i) keys[i].group = group;
    return keys.size();
  };
  add_day_settings(keys);
  auto from = mark(SettingGroup::day, 0);
  add_plaster_settings(keys, settings);
  from = mark(SettingGroup::plaster, from);
  add_review(keys);
  from = mark(SettingGroup::review, from);
  add_contours(keys);
  from = mark(SettingGroup::contours, from);
  add_drawing(keys);
  add_print(keys);
  mark(SettingGroup::drawing, from);
  return keys;
}

std::string settings_text(const Settings& settings, SettingGroup group) {
  std::string text;
  for (const auto& setting : settings_keys(settings))
    if (setting.group == group) text += setting.key + "=" + setting.get(settings) + "\n";
  return text;
}

std::vector<SettingRow> settings_rows(const Document& doc) {
  std::vector<SettingRow> rows;
  for (const auto& setting : settings_keys(doc.settings)) rows.push_back(row_of(setting, doc.settings));
  add_eye_rows(rows, doc);
  add_zone_rows(rows, doc);
  add_giornata_rows(rows, doc);
  add_wall_rows(rows, doc);
  return rows;
}

Problem unknown_setting(const Document& doc, const std::string& key) {
  std::string known;
  for (const auto& row : settings_rows(doc)) known += (known.empty() ? "" : ", ") + row.key;
  return {
      "there is no setting \"" + key + "\"", "",
      "The settings are " + known + ", giornata.<id>.mm, giornata.<id>.name, giornata.<id>.note, giornata.<id>.state."};
}

Result<SettingRow> setting_row(const Document& doc, const std::string& key) {
  for (auto& row : settings_rows(doc))
    if (row.key == key) return row;
  for (const auto& g : doc.giornate)
    if (g.alive && key.starts_with(fmt::format("giornata.{}.", g.id.value)))
      for (auto& row : rows_of(g))
        if (row.key == key) return row;
  return unknown_setting(doc, key);
}

Result<Settings> with_setting(const Settings& settings, const std::string& key, const std::string& value) {
  for (const auto& setting : settings_keys(settings)) {
    if (setting.key != key) continue;
    Settings changed = settings;
    if (const auto done = setting.set(changed, value); !done) return done.problem();
    return changed;
  }
  if (const auto name = eye_name(key); !name.empty()) {
    auto eyes = with_eye(settings.review.eyes, std::string(name), value);
    if (!eyes) return eyes.problem();
    Settings changed = settings;
    changed.review.eyes = std::move(*eyes);
    return changed;
  }
  return Problem{"there is no setting \"" + key + "\"", "", ""};
}

}  // namespace pontata
