#include "engine/document/job_codec.h"

#include <filesystem>

#include "engine/document/diary_codec.h"
#include "engine/document/job_checks.h"
#include "engine/document/job_parts.h"

namespace pontata {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kMostOfAKind = 100000;  // entries of one list, pairs fewer
constexpr std::size_t kMostPairs = 10000;

Json weather_json(const DayWeather& day) {
  Json json = {{"date", format_date(day.date)}, {"air", air_json(day.air)}};
  if (day.night_low_c) json["night_low_c"] = *day.night_low_c;
  return json;
}

Json pair_json(const PairRule& rule) {
  return {{"first", rule.first.value}, {"second", rule.second.value}, {"kind", pair_name(rule.kind)}};
}

Json days_off_json(const DaysOff& off) {
  Json json = {{"from", format_date(off.from)}, {"to", format_date(off.to)}, {"why", day_off_name(off.why)}};
  if (!off.remark.empty()) json["remark"] = off.remark;
  return json;
}

Json ground_json(const GroundWork& work) {
  Json json = {{"wall", work.wall.value}, {"pontata", work.pontata}, {"laid", format_date(work.laid)}};
  if (work.signed_on) json["signed_on"] = format_date(*work.signed_on);
  if (!work.signed_by.empty()) json["signed_by"] = work.signed_by;
  if (work.sound) json["sound"] = true;
  if (work.no_salts) json["no_salts"] = true;
  if (work.no_damp) json["no_damp"] = true;
  if (!work.remark.empty()) json["remark"] = work.remark;
  return json;
}

Json putty_json(const PuttyBatch& batch) {
  Json json = {{"name", batch.name}, {"slaked", format_date(batch.slaked)}, {"litres", batch.litres}};
  if (!batch.remark.empty()) json["remark"] = batch.remark;
  return json;
}

Json giornata_json(const GiornataJob& told) {
  Json json = {{"id", told.id.value}};
  if (told.day) json["day"] = format_date(*told.day);
  if (told.behind_scaffold) json["behind_scaffold"] = true;
  if (!told.palette.empty()) json["palette"] = told.palette;
  return json;
}

Json accepted_json(const AcceptedFinding& accepted) {
  Json json = {{"wall", accepted.wall.value}, {"rule", accepted.rule}, {"giornate", Json::array()}};
  for (const GiornataId id : accepted.giornate) json["giornate"].push_back(id.value);
  json["cause"] = accepted.cause;
  json["reason"] = accepted.reason;
  return json;
}

Json secco_json(const SeccoWork& work) {
  Json json = {{"id", work.id},         {"giornata", work.giornata.value}, {"what", work.what},
               {"binder", work.binder}, {"area_m2", work.area_m2},         {"hours", work.hours}};
  if (work.date) json["date"] = format_date(*work.date);
  return json;
}

template <class List, class One>
void put(Json& json, const char* key, const List& list, One one) {
  if (list.empty()) return;
  json[key] = Json::array();
  for (const auto& item : list) json[key].push_back(one(item));
}

DayWeather read_weather_day(const JsonReader& json) {
  json.only({"date", "air", "night_low_c"});
  DayWeather day{read_date(json.at("date")), read_air(json.at("air")), std::nullopt};
  if (const auto night = json.find("night_low_c")) day.night_low_c = night->number(-60, 60);
  return day;
}

PairRule read_pair_rule(const JsonReader& json) {
  json.only({"first", "second", "kind"});
  PairRule rule{GiornataId{json.at("first").id()}, GiornataId{json.at("second").id()}, PairKind::before};
  const std::string kind = json.at("kind").text();
  for (const PairKind known : {PairKind::before, PairKind::apart, PairKind::together})
    if (kind == pair_name(known)) rule.kind = known;
  if (kind != pair_name(rule.kind)) json.at("kind").fault("must be before, apart or together");
  return rule;
}

DaysOff read_days_off(const JsonReader& json) {
  json.only({"from", "to", "why", "remark"});
  DaysOff off{read_date(json.at("from")), read_date(json.at("to")), DayOffWhy::other, words_if_there(json, "remark")};
  const std::string why = json.at("why").text();
  for (const DayOffWhy known : {DayOffWhy::rest, DayOffWhy::dust, DayOffWhy::scaffold})
    if (why == day_off_name(known)) off.why = known;
  if (why != day_off_name(off.why)) json.at("why").fault("must be rest, dust, scaffold or other");
  return off;
}

bool truth_if_there(const JsonReader& json, const char* key) {
  const auto found = json.find(key);
  return found && found->truth();
}

GroundWork read_ground(const JsonReader& json) {
  json.only({"wall", "pontata", "laid", "signed_on", "signed_by", "sound", "no_salts", "no_damp", "remark"});
  GroundWork work;
  work.wall = WallId{json.at("wall").id()};
  work.pontata = static_cast<int>(json.at("pontata").whole(0, 1000));
  work.laid = read_date(json.at("laid"));
  work.signed_on = date_if_there(json, "signed_on");
  work.signed_by = words_if_there(json, "signed_by");
  work.sound = truth_if_there(json, "sound");
  work.no_salts = truth_if_there(json, "no_salts");
  work.no_damp = truth_if_there(json, "no_damp");
  work.remark = words_if_there(json, "remark");
  return work;
}

PuttyBatch read_putty(const JsonReader& json) {
  json.only({"name", "slaked", "litres", "remark"});
  return {json.at("name").text(), read_date(json.at("slaked")), json.at("litres").number(0, 1e6),
          words_if_there(json, "remark")};
}

GiornataJob read_giornata_job(const JsonReader& json) {
  json.only({"id", "day", "behind_scaffold", "palette"});
  GiornataJob told;
  told.id = GiornataId{json.at("id").id()};
  told.day = date_if_there(json, "day");
  told.behind_scaffold = truth_if_there(json, "behind_scaffold");
  if (const auto palette = json.find("palette"))
    for (const auto& pigment : palette->items()) told.palette.push_back(pigment.text());
  return told;
}

SeccoWork read_secco(const JsonReader& json) {
  json.only({"id", "giornata", "what", "binder", "area_m2", "hours", "date"});
  SeccoWork work;
  work.id = json.at("id").id();
  work.giornata = GiornataId{json.at("giornata").id()};
  work.what = json.at("what").text();
  work.binder = json.at("binder").text();
  work.area_m2 = json.at("area_m2").number(0, 1e5);
  work.hours = json.at("hours").number(0, 10000);
  work.date = date_if_there(json, "date");
  return work;
}

AcceptedFinding read_accepted(const JsonReader& json) {
  json.only({"wall", "rule", "giornate", "cause", "reason"});
  AcceptedFinding accepted;
  accepted.wall = WallId{json.at("wall").id()};
  accepted.rule = json.at("rule").text();
  for (const auto& id : json.at("giornate").items()) accepted.giornate.push_back(GiornataId{id.id()});
  accepted.cause = json.at("cause").text();
  accepted.reason = json.at("reason").text();
  return accepted;
}

template <class List, class One>
void take(const JsonReader& json, const char* key, List& list, One one, std::size_t most = kMostOfAKind) {
  const auto found = json.find(key);
  if (!found) return;
  const auto items = found->items();
  if (items.size() > most) found->fault("is too long");
  for (const auto& item : items) list.push_back(one(item));
}

}  // namespace

Json job_json(const Job& job, const std::string& folder) {
  Json json = Json::object();
  put(json, "diary", job.diary, [&](const DiaryRef& entry) { return entry_json(*entry, folder); });
  put(json, "weather", job.weather, weather_json);
  put(json, "pairs", job.pairs, pair_json);
  put(json, "days_off", job.days_off, days_off_json);
  put(json, "ground", job.ground, ground_json);
  put(json, "putty", job.putty, putty_json);
  put(json, "giornate", job.giornate, giornata_json);
  put(json, "secco", job.secco, secco_json);
  if (job.next_secco != 1) json["next_secco"] = job.next_secco;
  put(json, "accepted", job.accepted, accepted_json);
  return json;
}

JobRef read_job(const JsonReader& json, const std::string& folder) {
  json.only(
      {"diary", "weather", "pairs", "days_off", "ground", "putty", "giornate", "secco", "next_secco", "accepted"});
  Job job;
  take(json, "diary", job.diary,
       [&](const JsonReader& item) { return std::make_shared<const DiaryEntry>(read_entry(item, folder)); });
  take(json, "weather", job.weather, read_weather_day);
  take(json, "pairs", job.pairs, read_pair_rule, kMostPairs);
  take(json, "days_off", job.days_off, read_days_off);
  take(json, "ground", job.ground, read_ground);
  take(json, "putty", job.putty, read_putty);
  take(json, "giornate", job.giornate, read_giornata_job);
  take(json, "secco", job.secco, read_secco);
  if (const auto next = json.find("next_secco")) job.next_secco = next->id();
  take(json, "accepted", job.accepted, read_accepted);
  return shared_job(std::move(job));
}

}  // namespace pontata
