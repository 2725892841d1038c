#include "engine/document/diary_codec.h"

#include <filesystem>

#include "engine/document/record_names.h"

namespace pontata {

namespace {

using Json = nlohmann::ordered_json;

Json rings_json(const std::vector<Ring>& rings) {
  Json json = Json::array();
  for (const Ring& ring : rings) {
    Json places = Json::array();
    for (const LatticePoint& p : ring) places.push_back({p.x, p.y});
    json.push_back(std::move(places));
  }
  return json;
}

Json areas_json(const SubjectAreas& areas) {
  Json json = Json::object();
  for (std::size_t i = 0; i < kSubjects; ++i)
    if (areas[i] != 0) json[std::string(subject_name(static_cast<Subject>(i)))] = areas[i];
  return json;
}

// Hours and words.
void put_what_is_told(Json& json, const DiaryEntry& entry) {
  if (entry.hours) json["hours"] = *entry.hours;
  if (entry.lay_hours) json["lay_hours"] = *entry.lay_hours;
  if (entry.window_h) json["window_h"] = *entry.window_h;
  if (entry.air) json["air"] = air_json(*entry.air);
  for (const auto& [key, words] : {std::pair("light", &entry.light), std::pair("mix", &entry.mix),
                                   std::pair("putty", &entry.putty), std::pair("remarks", &entry.remarks)})
    if (!words->empty()) json[key] = *words;
}

Json failed_json(const DiaryEntry& entry) {
  Json json = Json::object();
  if (entry.failed_on) json["on"] = format_date(*entry.failed_on);
  if (!entry.failed_why.empty()) json["why"] = entry.failed_why;
  return json;
}

std::optional<double> number_if_there(const JsonReader& json, const char* key, double least, double most) {
  const auto found = json.find(key);
  return found ? std::optional(found->number(least, most)) : std::nullopt;
}

SubjectAreas read_areas(const JsonReader& json) {
  json.only({"none", "faces", "drapery", "architecture", "background"});
  SubjectAreas areas{};
  for (std::size_t i = 0; i < kSubjects; ++i)
    areas[i] = number_if_there(json, std::string(subject_name(static_cast<Subject>(i))).c_str(), 0, 1e7).value_or(0);
  return areas;
}

std::vector<Ring> read_rings(const JsonReader& json) {
  std::vector<Ring> rings;
  for (const auto& item : json.items()) rings.push_back(item.ring());
  return rings;
}

void read_what_is_told(const JsonReader& json, DiaryEntry& entry) {
  entry.hours = number_if_there(json, "hours", 0, 24);
  entry.lay_hours = number_if_there(json, "lay_hours", 0, 24);
  entry.window_h = number_if_there(json, "window_h", 0, 200);
  if (const auto air = json.find("air")) entry.air = read_air(*air);
  entry.light = words_if_there(json, "light");
  entry.mix = words_if_there(json, "mix");
  entry.putty = words_if_there(json, "putty");
  entry.remarks = words_if_there(json, "remarks");
}

void read_failed(const JsonReader& json, DiaryEntry& entry) {
  json.only({"on", "why"});
  entry.failed = true;
  entry.failed_on = date_if_there(json, "on");
  entry.failed_why = words_if_there(json, "why");
}

}  // namespace

Json air_json(const Air& air) {
  return {
      {"temperature_c", air.temperature_c}, {"humidity_pct", air.humidity_pct}, {"movement_km_h", air.movement_km_h}};
}

Air read_air(const JsonReader& json) {
  json.only({"temperature_c", "humidity_pct", "movement_km_h"});
  return {json.at("temperature_c").number(-60, 60), json.at("humidity_pct").number(0, 100),
          json.at("movement_km_h").number(0, 200)};
}

Date read_date(const JsonReader& json) {
  const auto date = parse_date(json.text());
  if (!date) json.fault("must be a date, like 2027-05-04");
  return *date;
}

std::optional<Date> date_if_there(const JsonReader& json, const char* key) {
  const auto found = json.find(key);
  return found ? std::optional(read_date(*found)) : std::nullopt;
}

std::string words_if_there(const JsonReader& json, const char* key) {
  const auto found = json.find(key);
  return found ? found->text() : std::string();
}

Json entry_json(const DiaryEntry& entry, const std::string& folder) {
  Json json = {{"id", entry.id}};
  if (entry.corrects != 0) json["corrects"] = entry.corrects;
  json["giornata"] = entry.giornata.value;
  json["attempt"] = entry.attempt;
  json["date"] = format_date(entry.date);
  put_what_is_told(json, entry);
  if (!entry.photo.empty())
    json["photo"] = {{"path", std::filesystem::path(entry.photo).lexically_relative(folder).string()},
                     {"sha256", entry.photo_sha256}};
  json["area_m2"] = entry.area_m2;
  if (Json areas = areas_json(entry.areas); !areas.empty()) json["areas_m2"] = std::move(areas);
  if (entry.planned_on) json["planned_on"] = format_date(*entry.planned_on);
  if (entry.planned_hours) json["planned_hours"] = *entry.planned_hours;
  if (!entry.planned.empty()) json["planned"] = rings_json(entry.planned);
  if (!entry.cut.empty()) json["cut"] = rings_json(entry.cut);
  if (entry.rest) json["rest"] = entry.rest.value;
  if (entry.failed) json["failed"] = failed_json(entry);
  return json;
}

DiaryEntry read_entry(const JsonReader& json, const std::string& folder) {
  json.only({"id",         "corrects",      "giornata", "attempt", "date",    "hours", "lay_hours", "window_h",
             "air",        "light",         "mix",      "putty",   "remarks", "photo", "area_m2",   "areas_m2",
             "planned_on", "planned_hours", "planned",  "cut",     "rest",    "failed"});
  DiaryEntry entry;
  entry.id = json.at("id").id();
  if (const auto corrects = json.find("corrects")) entry.corrects = corrects->id();
  entry.giornata = GiornataId{json.at("giornata").id()};
  entry.attempt = static_cast<int>(json.at("attempt").whole(1, 1000));
  entry.date = read_date(json.at("date"));
  read_what_is_told(json, entry);
  if (const auto photo = json.find("photo")) {
    photo->only({"path", "sha256"});
    entry.photo = source_path(*photo, folder);
    entry.photo_sha256 = hash_text(*photo);
  }
  entry.area_m2 = json.at("area_m2").number(0, 1e7);
  if (const auto areas = json.find("areas_m2")) entry.areas = read_areas(*areas);
  entry.planned_on = date_if_there(json, "planned_on");
  entry.planned_hours = number_if_there(json, "planned_hours", 0, 1e6);
  if (const auto planned = json.find("planned")) entry.planned = read_rings(*planned);
  if (const auto cut = json.find("cut")) entry.cut = read_rings(*cut);
  if (const auto rest = json.find("rest")) entry.rest = GiornataId{rest->id()};
  if (const auto failed = json.find("failed")) read_failed(*failed, entry);
  return entry;
}

}  // namespace pontata
