#include "editor/verbs/floor_report.h"

#include <fmt/format.h>

#include "engine/base/units.h"
#include "engine/document/reviewed.h"
#include "engine/document/setting_values.h"

namespace pontata {

namespace {

Json stretch_json(const WorstStretch& w, const std::string& wall) {
  Json json = {{"wall", wall}, {"giornate", Json::array()}};
  for (const GiornataId id : {w.one, w.other})
    if (id) json["giornate"].push_back(id.value);
  json["at_m"] = {w.at.x, w.at.y, w.at.z};
  json["chart"] = {w.place.u, w.place.v};
  json["length_m"] = w.length_m;
  json["distance_m"] = w.distance_m;
  json["grazing_deg"] = w.grazing_deg;
  json["joint_arcmin"] = w.joint_arcmin;
  json["step"] = w.step;
  json["masked"] = w.masked;
  json["shows"] = w.shows;
  json["says"] = w.says;
  return json;
}

}  // namespace

Result<EyePoint> eye_of(const Document& doc, const std::string& text) {
  for (const EyePoint& e : doc.settings.review.eyes)
    if (e.name == text) return e;
  const auto at = read_place(text);
  if (at) return EyePoint{"", *at};
  std::string names;
  for (const EyePoint& e : doc.settings.review.eyes) names += (names.empty() ? "" : ", ") + e.name;
  return Problem{"there is no eye point \"" + text + "\"", "",
                 names.empty() ? "Set one (set PROJECT eye.door 0.5,0,1.6), or give a place X,Y,Z."
                               : "There are: " + names + "; or give a place X,Y,Z."};
}

void add_from_floor(const Document& doc, const EyePoint& eye, std::size_t worst, Flow& flow, Progress* progress,
                    Json& json, std::string& text) {
  json["from_floor"] = {{"eye", eye.name}, {"eye_m", {eye.at.x, eye.at.y, eye.at.z}}, {"worst", Json::array()}};
  text += "from " + (eye.name.empty() ? write_place(eye.at) : eye.name) + ", what shows most:\n";
  for (const auto& item : doc.walls) {
    const auto sights = flow.from_floor(doc, item->id, eye, progress);
    for (const WorstStretch& w : worst_stretches(*sights, worst)) {
      json["from_floor"]["worst"].push_back(stretch_json(w, item->name));
      text += fmt::format("  {}, {}, at {},{}: {}\n", item->name, parted_in_words(doc, w), format_fixed(w.place.u, 2),
                          format_fixed(w.place.v, 2), w.says);
    }
  }
  json["from_floor"]["caveat"] = kFloorCaveat;
  text += std::string(kFloorCaveat) + "\n";
}

}  // namespace pontata
