#include <filesystem>

#include "engine/document/job_codec.h"
#include "engine/document/json_text.h"
#include "engine/document/picture_codec.h"
#include "engine/document/plain_text.h"
#include "engine/document/project_file.h"
#include "engine/document/record_names.h"
#include "engine/document/scan_codec.h"
#include "engine/document/settings_table.h"
#include "engine/seams/network_codec.h"

namespace pontata {

namespace {

using Json = nlohmann::ordered_json;

Json numbers(const Vec3& v) { return Json::array({v.x, v.y, v.z}); }

// A number stands as a number, "none" as null.
Json settings_json(const Settings& settings) {
  Json json = Json::object();
  for (const auto& setting : settings_keys(settings)) {
    const std::string value = setting.get(settings);
    if (setting.kind == SettingKind::text)
      json[setting.key] = value;
    else
      json[setting.key] = value == "none" ? Json() : Json::parse(value);
  }
  return json;
}

Json shape_json(const ShapeSpec& shape) {
  Json json = {{"kind", shape_name(shape.kind)}};
  for (const auto measure : measures_of(shape.kind)) json[std::string(measure)] = measure_of(shape, measure);
  return json;
}

Json ring_json(const Ring& ring) {
  Json json = Json::array();
  for (const auto& p : ring) json.push_back({p.x, p.y});
  return json;
}

Json zone_json(const Zone& zone) {
  Json json = {{"id", zone.id.value},
               {"kind", zone_kind_name(zone.kind)},
               {"name", zone.name},
               {"rate_m2_per_h", zone.rate_m2_per_h ? Json(*zone.rate_m2_per_h) : Json()},
               {"ring", ring_json(zone.ring)}};
  if (zone.subject != Subject::none) json["subject"] = subject_name(zone.subject);
  for (const Ring& ring : zone.more) json["more"].push_back(ring_json(ring));
  return json;
}

Json opening_json(const Opening& opening) {
  Json json = {{"kind", opening_name(opening.kind)}};
  if (opening.kind == OpeningKind::free) {
    json["outline"] = Json::array();
    for (const auto& p : opening.outline) json["outline"].push_back({p.u, p.v});
    return json;
  }
  json["at"] = {opening.at.u, opening.at.v};
  json["width"] = opening.width;
  if (opening.kind != OpeningKind::round) json["height"] = opening.height;
  return json;
}

Json wall_json(const WallItem& wall, const std::string& folder) {
  Json json = {{"id", wall.id.value}, {"name", wall.name}};
  if (wall.shape) json["shape"] = shape_json(*wall.shape);
  if (wall.scan) json["scan"] = scan_json(*wall.scan, *wall.wall, folder);
  json["at"] = numbers(wall.placement.at);
  json["turn_deg"] = wall.placement.turn_deg;
  for (const auto& opening : wall.openings) json["openings"].push_back(opening_json(opening));
  for (const auto& picture : wall.pictures) json["pictures"].push_back(picture_json(*picture, folder));
  json["zones"] = Json::array();
  for (const auto& zone : wall.zones) json["zones"].push_back(zone_json(zone));
  json["network"] = Json(NetworkCodec::to_json(wall.network));
  return json;
}

Json giornata_json(const Giornata& g) {
  return {{"id", g.id.value},
          {"wall", g.wall.value},
          {"number", g.number},
          {"part", g.part},
          {"name", g.name},
          {"note", g.note},
          {"printed", g.printed},
          {"changed", g.changed},
          {"intonaco_mm", g.intonaco_mm ? Json(*g.intonaco_mm) : Json()},
          {"state", state_name(g.state)},
          {"alive", g.alive}};
}

Outcome check_paths(const Document& doc) {
  std::vector<std::string> paths;
  for (const auto& wall : doc.walls) {
    if (wall->scan) paths.push_back(wall->scan->path);
    for (const auto& picture : wall->pictures) paths.push_back(picture->path);
  }
  for (const auto& entry : doc.job().diary) paths.push_back(entry->photo);
  for (const std::string& path : paths)
    if (!is_plain_text(path))
      return Problem{"its name holds characters that cannot be written in the project", path, "Rename the file."};
  return Done{};
}

}  // namespace

Result<std::string> project_text(const Document& doc, const std::string& folder) {
  if (const auto good = check_paths(doc); !good) return good.problem();
  Json json = {{"format", "pontata project"}, {"version", kProjectVersion}};
  json["settings"] = settings_json(doc.settings);
  json["next_wall"] = doc.next_wall;
  json["next_zone"] = doc.next_zone;
  json["next_picture"] = doc.next_picture;
  json["numbers_frozen"] = doc.numbers_frozen;
  json["giornate"] = Json::array();
  for (const auto& g : doc.giornate) json["giornate"].push_back(giornata_json(g));
  json["walls"] = Json::array();
  for (const auto& wall : doc.walls) json["walls"].push_back(wall_json(*wall, folder));
  if (doc.written) json["job"] = job_json(*doc.written, folder);
  return json_text(json);
}

Outcome save_project(const Document& doc, const std::string& path) {
  const auto folder = std::filesystem::absolute(path).lexically_normal().parent_path().string();
  const auto text = project_text(doc, folder);
  if (!text) return text.problem();
  return write_file_atomically(path, *text);
}

}  // namespace pontata
