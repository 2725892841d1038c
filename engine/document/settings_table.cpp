#include "engine/document/settings_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/units.h"
#include "engine/cartoon/cartoon.h"
#include "engine/document/record_names.h"
#include "engine/document/setting_values.h"

namespace pontata {

namespace {

struct Range {
  double least = 0, greatest = 0;
};

Problem out_of_range(const std::string& key, const std::string& value, Range range, const std::string& unit) {
  return {fmt::format("{} cannot be \"{}\"", key, value), "",
          fmt::format("Give a number from {} to {}{}{}.", format_number(range.least), format_number(range.greatest),
                      unit.empty() ? "" : " ", unit)};
}

// `at` is a generic lambda from Settings& to the number's place.
template <class At>
Setting number(std::string key, std::string unit, Range range, std::string meaning, At at) {
  Setting s{std::move(key), SettingKind::number, {}, std::move(unit), std::move(meaning), {}, {}};
  s.get = [at](const Settings& settings) { return format_number(at(settings)); };
  s.set = [at, range, name = s.key, of = s.unit](Settings& settings, const std::string& text) -> Outcome {
    const auto value = read_in_unit(text, of);
    if (!value || *value < range.least || *value > range.greatest) return out_of_range(name, text, range, of);
    at(settings) = *value;
    return Done{};
  };
  return s;
}

template <class At>
Setting whole(std::string key, Range range, std::string meaning, At at) {
  Setting s{std::move(key), SettingKind::number, {}, "", std::move(meaning), {}, {}};
  s.get = [at](const Settings& settings) { return std::to_string(at(settings)); };
  s.set = [at, range, name = s.key](Settings& settings, const std::string& text) -> Outcome {
    const auto value = parse_number(text);
    if (!value || *value < range.least || *value > range.greatest || *value != std::floor(*value))
      return Problem{fmt::format("{} cannot be \"{}\"", name, text), "",
                     fmt::format("Give a whole number from {} to {}.", range.least, range.greatest)};
    at(settings) = static_cast<int>(*value);
    return Done{};
  };
  s.whole = true;
  return s;
}

// A value of its own type T with read(text) -> Result<T> and write(T) -> text.
template <class At, class Read, class Write>
Setting written(std::string key, std::string unit, std::string meaning, At at, Read read, Write write) {
  Setting s{std::move(key), SettingKind::text, {}, std::move(unit), std::move(meaning), {}, {}};
  s.get = [at, write](const Settings& settings) { return write(at(settings)); };
  s.set = [at, read, name = s.key](Settings& settings, const std::string& text) -> Outcome {
    auto value = read(text);
    if (!value) return Problem{name + ": " + value.problem().what, "", value.problem().remedy};
    at(settings) = std::move(*value);
    return Done{};
  };
  return s;
}

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

void add_day(std::vector<Setting>& keys) {
  keys.push_back(written(
      "rate", "m²/h", "area painted in an hour, the painter's own; without it hours are unknown",
      [](auto& s) -> auto& { return s.calendar.rate_m2_per_h; }, read_rate, write_rate));
  keys.back().kind = SettingKind::number;
  keys.push_back(number(
      "window.base", "h", {1, 72}, "from the last coat until the plaster is too dry to take paint",
      [](auto& s) -> auto& { return s.calendar.window_h; }));
  keys.push_back(number(
      "window.wait", "h", {0, 24}, "after the last coat before painting begins",
      [](auto& s) -> auto& { return s.calendar.wait_h; }));
  keys.push_back(number(
      "window.stop", "h", {0, 24}, "before the window's end when painting stops",
      [](auto& s) -> auto& { return s.calendar.stop_h; }));
  keys.push_back(number(
      "day.hours", "h", {0.5, 24}, "the longest day of painting", [](auto& s) -> auto& { return s.calendar.day_h; }));
  keys.push_back(whole(
      "painters", {1, 50}, "how many giornate may be painted on one day",
      [](auto& s) -> auto& { return s.calendar.painters; }));
  keys.push_back(written(
      "start", "date", "first day of painting", [](auto& s) -> auto& { return s.calendar.start; },
      [](const std::string& text) { return parse_date(text); }, format_date));
  keys.push_back(written(
      "workdays", "", "days worked, 1 Monday to 7 Sunday: 1-5, 1-6 or 1,3,5",
      [](auto& s) -> auto& { return s.calendar.workdays; }, read_workdays, [](const std::string& s) { return s; }));
  keys.push_back(written(
      "pontata.levels", "m", "heights of the scaffold decks, rising; auto: one every 2 m from the wall's foot",
      [](auto& s) -> auto& { return s.calendar.levels_m; }, read_levels, write_levels));
}

// A rate that may be unknown, in m2/h.
template <class At>
Setting rate(std::string key, std::string meaning, At at) {
  Setting s = written(std::move(key), "m²/h", std::move(meaning), at, read_rate, write_rate);
  s.kind = SettingKind::number;
  return s;
}

void add_rates(std::vector<Setting>& keys) {
  for (const Subject subject : {Subject::faces, Subject::drapery, Subject::architecture, Subject::background}) {
    const std::string name(subject_name(subject));
    keys.push_back(rate(
        "rate.of." + name,
        "area painted in an hour of " + name + ", the painter's own; may be given as 2.5 h for 0.08 m2",
        [subject](auto& s) -> auto& { return s.calendar.subject_rates[static_cast<std::size_t>(subject)]; }));
  }
  keys.push_back(rate(
      "rate.laying", "area plastered in an hour, all coats of intonaco together; without it laying takes no time",
      [](auto& s) -> auto& { return s.calendar.lay_rate_m2_per_h; }));
  keys.push_back(number(
      "day.whole", "h", {1, 24}, "the longest day from the first coat to the last clean-up",
      [](auto& s) -> auto& { return s.calendar.whole_day_h; }));
}

void add_weather(std::vector<Setting>& keys) {
  keys.push_back(number(
      "window.temperature", "°C", {-10, 45}, "of the air at which the window holds",
      [](auto& s) -> auto& { return s.calendar.reference.temperature_c; }));
  keys.push_back(number(
      "window.humidity", "%", {0, 100}, "of the air at which the window holds",
      [](auto& s) -> auto& { return s.calendar.reference.humidity_pct; }));
  keys.push_back(number(
      "window.air", "km/h", {0, 100}, "movement of the air at which the window holds",
      [](auto& s) -> auto& { return s.calendar.reference.movement_km_h; }));
  keys.push_back(written(
      "window.weather", "", "yes: the window follows each day's weather, once ten days of the diary stand behind it",
      [](auto& s) -> auto& { return s.calendar.window_by_weather; }, read_yes, write_yes));
}

void add_site(std::vector<Setting>& keys) {
  keys.push_back(written(
      "hand", "", "the hand that paints: right or left; work goes away from it",
      [](auto& s) -> auto& { return s.calendar.left_handed; }, read_left, write_left));
  keys.push_back(written(
      "hand.against", "", "yes: work goes toward the painting hand instead",
      [](auto& s) -> auto& { return s.calendar.against_hand; }, read_yes, write_yes));
  keys.push_back(written(
      "pontata.reach", "m", "that a painter reaches above a deck: one number, or one a deck from the lowest",
      [](auto& s) -> auto& { return s.calendar.reach_m; },
      [](const std::string& text) { return read_deck_numbers(text, "reach", 0.5, 5); }, write_deck_numbers));
  keys.push_back(written(
      "pontata.load", "kg", "that a deck carries, by its tag: one number, or one a deck from the lowest; or none",
      [](auto& s) -> auto& { return s.calendar.load_kg; },
      [](const std::string& text) { return read_deck_numbers(text, "load", 1, 100000); }, write_deck_numbers));
  keys.push_back(whole(
      "scaffold.move", {0, 60}, "working days to set the scaffold for the next pontata",
      [](auto& s) -> auto& { return s.calendar.move_days; }));
  keys.push_back(whole(
      "scaffold.strike", {0, 60}, "working days to take a deck's ties and standards away",
      [](auto& s) -> auto& { return s.calendar.strike_days; }));
  keys.push_back(whole(
      "curing.days", {0, 3650}, "of the arriccio before it is signed for and painted on",
      [](auto& s) -> auto& { return s.calendar.curing_days; }));
  keys.push_back(whole(
      "secco.days", {0, 3650}, "after painting before work is finished dry",
      [](auto& s) -> auto& { return s.calendar.secco_days; }));
  keys.push_back(written(
      "plasterer.area", "m²", "that one plasterer lays of a morning; none: enough for all painters",
      [](auto& s) -> auto& { return s.calendar.plasterer_m2; }, read_area, write_rate));
  keys.back().kind = SettingKind::number;
}

// A number that may be unknown: "none".
template <class At>
Setting maybe(std::string key, std::string unit, Range range, std::string meaning, At at) {
  const auto read = [key, range, unit](const std::string& text) -> Result<std::optional<double>> {
    if (text == "none") return std::optional<double>{};
    const auto value = read_in_unit(text, unit);
    if (value && *value >= range.least && *value <= range.greatest) return std::optional<double>(*value);
    Problem problem = out_of_range(key, text, range, unit);
    problem.remedy.insert(problem.remedy.size() - 1, ", or none");
    return problem;
  };
  Setting s = written(key, unit, std::move(meaning), at, read, write_rate);
  s.kind = SettingKind::number;
  return s;
}

// Thickness, mix and grain of one coat; `at` is a generic lambda from Settings& to the Coat.
template <class At>
void add_coat(std::vector<Setting>& keys, const std::string& name, const std::string& of, double least_mm, At at) {
  keys.push_back(number(
      "coat." + name + ".mm", "mm", {least_mm, 50},
      "thickness of the " + of + (least_mm > 0 ? "" : "; 0: left out"), [at](auto& s) -> auto& {
        return at(s).thickness_mm;
      }));
  keys.push_back(written(
      "mix." + name, "",
      "lime putty : sand of the " + of + ", by volume or weight; with more a word each: 1 : 1 sand : 0.5 marble volume",
      [at](auto& s) -> auto& { return at(s).mix; }, [](const std::string& text) { return parse_mix(text); },
      format_mix));
  keys.push_back(number(
      "grain." + name + ".mm", "mm", {0.05, 20},
      "greatest grain of the sand of the " + of, [at](auto& s) -> auto& { return at(s).grain_mm; }));
}

void add_coats(std::vector<Setting>& keys, const Settings& settings) {
  for (std::size_t i = 0; i < settings.plaster.intonaco.size(); ++i) {
    const std::string& name = settings.plaster.intonaco[i].name;
    add_coat(
        keys, name, name + " coat of intonaco", 0.5, [i](auto& s) -> auto& { return s.plaster.intonaco[i]; });
  }
  add_coat(
      keys, "rinzaffo", "rinzaffo", 0, [](auto& s) -> auto& { return s.plaster.ground.rinzaffo; });
  add_coat(
      keys, "arriccio", "arriccio", 0, [](auto& s) -> auto& { return s.plaster.ground.arriccio; });
  keys.push_back(written(
      "surface.is", "",
      "what the wall as measured is: arriccio, its face, or bare wall, on which the ground comes first",
      [](auto& s) -> auto& { return s.plaster.ground.surface; }, read_surface, write_surface));
  keys.push_back(number(
      "keys.L", "L/m²", {0, 50}, "mortar that goes into joints and keys of the bare wall",
      [](auto& s) -> auto& { return s.plaster.ground.keys_L_per_m2; }));
  keys.push_back(number(
      "margin.mm", "mm", {0, 500}, "plaster laid beyond open edges, cut away in the evening",
      [](auto& s) -> auto& { return s.plaster.margin_mm; }));
  keys.push_back(number(
      "waste.pct", "%", {0, 200}, "plaster lost on the way to the wall",
      [](auto& s) -> auto& { return s.plaster.waste_pct; }));
}

void add_putty(std::vector<Setting>& keys) {
  keys.push_back(number(
      "putty.density", "kg/L", {1, 2}, "weight of lime putty, unless its solids are told",
      [](auto& s) -> auto& { return s.plaster.putty_kg_per_L; }));
  keys.push_back(maybe(
      "putty.solids", "", {0.2, 0.7}, "share of the putty's weight that is lime: its density follows from it",
      [](auto& s) -> auto& { return s.plaster.supply.putty_solids; }));
  keys.push_back(number(
      "putty.age", "months", {0, 600}, "younger putty is warned of; 3 at the least, 12 to 24 for fine work",
      [](auto& s) -> auto& { return s.plaster.supply.putty_age_months; }));
  keys.push_back(written(
      "slake.own", "", "yes: quicklime is bought and slaked instead of putty",
      [](auto& s) -> auto& { return s.plaster.supply.slakes_own; }, read_yes, write_yes));
  keys.push_back(number(
      "quicklime.purity", "", {0.3, 1}, "share of quicklime that is burnt lime",
      [](auto& s) -> auto& { return s.plaster.supply.quicklime_purity; }));
}

void add_aggregates(std::vector<Setting>& keys) {
  keys.push_back(number(
      "sand.voids", "", {0, 0.6}, "share of loose sand that is air", [](auto& s) -> auto& { return s.plaster.voids; }));
  keys.push_back(number(
      "sand.density", "kg/L", {0.8, 2.5}, "weight of loose dry sand",
      [](auto& s) -> auto& { return s.plaster.sand_kg_per_L; }));
  keys.push_back(number(
      "sand.moisture", "%", {0, 30}, "water in the sand as it is measured out, of its dry weight",
      [](auto& s) -> auto& { return s.plaster.supply.sand_moisture_pct; }));
  keys.push_back(maybe(
      "sand.bulking", "%", {0, 60},
      "how much more room damp sand takes, as you measured; none: found from its moisture",
      [](auto& s) -> auto& { return s.plaster.supply.sand_bulking_pct; }));
  keys.push_back(number(
      "marble.density", "kg/L", {0.5, 2.5}, "weight of loose marble dust",
      [](auto& s) -> auto& { return s.plaster.supply.marble_kg_per_L; }));
  keys.push_back(number(
      "marble.voids", "", {0, 0.7}, "share of loose marble dust that is air",
      [](auto& s) -> auto& { return s.plaster.supply.marble_voids; }));
  keys.push_back(number(
      "pozzolana.density", "kg/L", {0.3, 2}, "weight of loose pozzolana",
      [](auto& s) -> auto& { return s.plaster.supply.pozzolana_kg_per_L; }));
  keys.push_back(number(
      "pozzolana.voids", "", {0, 0.8}, "share of loose pozzolana that is air",
      [](auto& s) -> auto& { return s.plaster.supply.pozzolana_voids; }));
}

void add_plaster(std::vector<Setting>& keys, const Settings& settings) {
  add_coats(keys, settings);
  add_putty(keys);
  add_aggregates(keys);
  keys.push_back(number(
      "bucket.L", "L", {1, 50}, "what one bucket carries", [](auto& s) -> auto& { return s.plaster.supply.bucket_L; }));
  keys.push_back(number(
      "reserve.pct", "%", {0, 200}, "bought beyond what the plan needs",
      [](auto& s) -> auto& { return s.plaster.supply.reserve_pct; }));
  keys.push_back(number(
      "level.straightedge", "m", {0.5, 6}, "hollows and bumps shorter than this are levelled by the arriccio",
      [](auto& s) -> auto& { return s.plaster.level.straightedge_m; }));
  keys.push_back(number(
      "level.least.mm", "mm", {0, 50}, "thinnest arriccio of the levelling coat",
      [](auto& s) -> auto& { return s.plaster.level.least_mm; }));
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
  add_day(keys);
  add_rates(keys);
  add_weather(keys);
  add_site(keys);
  auto from = mark(SettingGroup::day, 0);
  add_plaster(keys, settings);
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
  return Problem{"there is no setting \"" + key + "\"", "", ""};
}

}  // namespace pontata
