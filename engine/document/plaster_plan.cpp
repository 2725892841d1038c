#include "engine/document/plaster_plan.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/units.h"

namespace pontata {

std::vector<WallId> walls_to_level(const Document& doc) {
  const GroundSettings& ground = doc.settings.plaster.ground;
  std::vector<WallId> walls;
  if (ground.surface != SurfaceIs::bare_wall || !(ground.arriccio.thickness_mm > 0)) return walls;
  for (const auto& item : doc.walls)
    if (item->wall->scan) walls.push_back(item->id);
  return walls;
}

namespace {

// A part of one wall: area with its offset terms, and its share of the levelling coat.
struct GroundPart {
  PatchTerms terms;
  double level_m3 = 0, level_depth_m3 = 0;  // volume; depth summed over the area

  void level(const LevelShare& share) {
    level_m3 += share.volume_m3;
    level_depth_m3 += share.mean_m * share.area_m2;
  }
};

constexpr int kRest = 1 << 20;  // behind every deck

// By deck, the highest first; the rest of the wall last.
std::map<int, GroundPart> parts_of(const Document& doc, const WallItem& item, const WallFigures& figures,
                                   const std::vector<GiornataPlan>& rows, const LevelCoat* coat) {
  std::map<int, GroundPart> parts;
  PatchTerms rest = terms_of(*item.wall);
  std::map<GiornataId, int> deck_of;
  for (const GiornataPlan& row : rows) deck_of[row.id] = row.day.pontata;
  for (const GiornataMeasure& measure : figures.measure.giornate) {
    parts[deck_of[measure.id]].terms += terms_of(measure);
    rest -= terms_of(measure);
  }
  constexpr double kNothing = 1e-6;  // m2: rounding
  const bool more = rest.area_m2 > kNothing;
  if (more) parts[kRest].terms = rest;
  if (!coat) return parts;
  const LevelShares shares = level_shares(*item.wall, *coat, item.network, doc.giornate);
  for (const LevelShare& share : shares.giornate)
    if (const auto deck = deck_of.find(share.id); deck != deck_of.end()) parts[deck->second].level(share);
  if (more) parts[kRest].level(shares.rest);
  return parts;
}

const GroundWork* work_on(const Job& job, WallId wall, std::optional<int> pontata) {
  const GroundWork* whole = nullptr;
  for (const GroundWork& work : job.ground) {
    if (work.wall != wall) continue;
    if (pontata && work.pontata == *pontata) return &work;
    if (work.pontata == 0) whole = &work;
  }
  return whole;
}

GroundRow row_of(const Document& doc, WallId wall, int deck, const GroundPart& part, const LevelCoat* coat) {
  GroundRow row;
  row.wall = wall;
  row.area_m2 = part.terms.area_m2;
  if (deck != kRest) row.pontata = deck;
  std::optional<LevelledGround> levelled;
  if (coat) levelled = LevelledGround{part.level_m3, part.level_depth_m3 / part.terms.area_m2};
  row.need = ground_need(part.terms, doc.settings.plaster, levelled).value();
  row.levelled = coat != nullptr;
  if (const GroundWork* work = work_on(doc.job(), wall, row.pontata))
    row.laid = work->laid, row.signed_for = ready_to_paint(*work);
  return row;
}

void add_ground(const Document& doc, Flow& flow, const LevelCoats& levels, PlasterPlan& plan) {
  const auto to_level = walls_to_level(doc);
  const auto rows = flow.giornate(doc);
  for (const auto& item : doc.walls) {
    const auto known = levels.find(item->id);
    const bool levelled = std::ranges::count(to_level, item->id) > 0;
    const LevelCoat* coat = levelled && known != levels.end() ? known->second.get() : nullptr;
    if (levelled && !coat)
      plan.warnings.push_back(
          fmt::format("“{}” is a scan of the bare wall: until its levelling coat is worked out, an "
                      "even arriccio of {} mm is counted.",
                      item->name, format_number(doc.settings.plaster.ground.arriccio.thickness_mm)));
    for (const auto& [deck, part] : parts_of(doc, *item, *flow.figures(doc, item->id), *rows, coat))
      plan.ground.push_back(row_of(doc, item->id, deck, part, coat));
  }
  std::erase_if(plan.ground, [](const GroundRow& row) { return row.need.coats.empty(); });
  for (const GroundRow& row : plan.ground) plan.ground_sum.add(row.need, row.area_m2);
}

double area_of(const Document& doc, Flow& flow, const GiornataPlan& row) {
  for (const auto& measure : flow.figures(doc, row.wall)->measure.giornate)
    if (measure.id == row.id) return measure.area_m2;
  return 0;
}

// The entry of a list with this key, made where there is none.
template <class Sum, class Key>
Sum& sum_of(std::vector<Sum>& sums, Key Sum::*key, const Key& value) {
  for (Sum& sum : sums)
    if (sum.*key == value) return sum;
  sums.emplace_back().*key = value;
  return sums.back();
}

void add_intonaco(const Document& doc, Flow& flow, PlasterPlan& plan) {
  for (const GiornataPlan& row : *flow.giornate(doc)) {
    const double area = area_of(doc, flow, row);
    plan.intonaco_sum.add(*row.need, area);
    sum_of(plan.per_pontata, &PontataSum::pontata, row.day.pontata).add(*row.need, area);
    const auto week = row.day.dated ? std::optional(iso_week_of(row.day.date)) : std::nullopt;
    sum_of(plan.per_week, &WeekSum::week, week).add(*row.need, area);
  }
  std::ranges::sort(plan.per_pontata, {}, &PontataSum::pontata);
  std::ranges::sort(plan.per_week, {}, &WeekSum::week);
}

std::vector<CoatNeed> coats_of(const Document& doc, const std::vector<GiornataPlan>& rows,
                               const std::vector<GroundRow>& ground, bool only_to_come) {
  std::vector<CoatNeed> coats;
  const auto take = [&](const std::vector<CoatNeed>& more) { coats.insert(coats.end(), more.begin(), more.end()); };
  for (const GroundRow& row : ground)
    if (!only_to_come || !row.signed_for) take(row.need.coats);
  for (const GiornataPlan& row : rows)
    if (!only_to_come || doc.giornata(row.id)->state != GiornataState::done) take(row.need->coats);
  return coats;
}

Date first_day_of(const Document& doc, const std::vector<GiornataPlan>& rows) {
  std::optional<Date> first;
  for (const GiornataPlan& row : rows)
    if (row.day.dated && (!first || row.day.date < *first)) first = row.day.date;
  return first.value_or(doc.settings.calendar.start);
}

// Lime putty that the coats still to come take, with the reserve.
double putty_to_come(const PlasterPlan& plan) {
  if (plan.to_come.slaking) return plan.to_come.slaking->putty_L;
  for (const PurchaseLine& line : plan.to_come.lines)
    if (line.material == "lime putty") return line.litres;
  return 0;
}

void add_warnings(const Document& doc, const std::vector<GiornataPlan>& rows, PlasterPlan& plan) {
  const PlasterSettings& settings = doc.settings.plaster;
  const auto say = [&](const std::string& words) {
    if (!words.empty() && std::ranges::find(plan.warnings, words) == plan.warnings.end())
      plan.warnings.push_back(words);
  };
  for (const auto& line : mix_warnings(settings)) say(line);
  for (const auto& line : own_coat_warnings(doc.giornate, settings)) say(line);
  for (const GiornataPlan& row : rows)
    for (const CoatNeed& coat : row.need->coats) say(coat.note);
  for (const GroundRow& row : plan.ground)
    for (const CoatNeed& coat : row.need.coats) say(coat.note);
  for (const auto& line :
       putty_warnings(plan.putty, putty_to_come(plan), plan.first_day, settings.supply.putty_age_months))
    say(line);
}

// The day `months` before, by whole months and 30.44 days for each of the rest, as ripe_on counts.
Date slaked_by(Date ripe, double months) {
  Date day = add_months(ripe, -static_cast<int>(std::floor(months)));
  while (ripe_on({"", day, 0, ""}, months) > ripe) day = add_days(day, -1);
  return day;
}

}  // namespace

Result<PlasterPlan> plaster_plan(const Document& doc, Flow& flow, const LevelCoats& levels) {
  const PlasterSettings& settings = doc.settings.plaster;
  if (const auto sound = validate(settings); !sound) return sound.problem();
  const auto rows = flow.giornate(doc);
  for (const GiornataPlan& row : *rows)
    if (!row.need) {
      Problem problem = row.need.problem();
      problem.where = "giornata " + label_of(*doc.giornata(row.id));
      return problem;
    }
  PlasterPlan plan;
  add_ground(doc, flow, levels, plan);
  add_intonaco(doc, flow, plan);
  plan.purchase = purchase_for(coats_of(doc, *rows, plan.ground, false), settings);
  plan.to_come = purchase_for(coats_of(doc, *rows, plan.ground, true), settings);
  plan.putty = doc.job().putty;
  plan.first_day = first_day_of(doc, *rows);
  if (settings.supply.slakes_own) plan.slake_by = slaked_by(plan.first_day, settings.supply.putty_age_months);
  add_warnings(doc, *rows, plan);
  return plan;
}

}  // namespace pontata
