#include "engine/document/scan_codec.h"

#include <filesystem>

#include "engine/document/chart_codec.h"

namespace pontata {

namespace {

using Json = nlohmann::ordered_json;

Json numbers(const Vec3& v) { return Json::array({v.x, v.y, v.z}); }

std::optional<Vec3> place_if_there(const JsonReader& json, const char* key) {
  const auto found = json.find(key);
  return found ? std::optional(found->place3()) : std::nullopt;
}

}  // namespace

Json scan_json(const ScanSource& scan, const ChartedWall& wall, const std::string& folder) {
  const ScanOptions& o = scan.options;
  Json json = {{"path", std::filesystem::path(scan.path).lexically_relative(folder).string()},
               {"sha256", scan.sha256},
               {"unit", scan.unit},
               {"y_up", o.y_up},
               {"flip", o.flip},
               {"smoothing_m", o.smoothing_m},
               {"weld_m", o.weld_m}};
  if (o.scale != 1) json["scale"] = o.scale;
  if (o.crop) json["crop"] = {{"low", numbers(o.crop->low)}, {"high", numbers(o.crop->high)}};
  if (o.part_at) json["part_at"] = numbers(*o.part_at);
  if (o.fill_rim_m > 0) json["fill_rim_m"] = o.fill_rim_m;
  if (o.cut_at) json["cut_at"] = numbers(*o.cut_at);
  if (scan.old_plaster) json["old_plaster"] = *scan.old_plaster;
  json["places"] = chart_text(wall.places_before_openings ? *wall.places_before_openings : wall.chart->places());
  return json;
}

ScanSource read_scan_source(const JsonReader& json, const Placement3& placement, const std::string& folder) {
  json.only({"path", "sha256", "unit", "y_up", "flip", "smoothing_m", "weld_m", "scale", "crop", "part_at",
             "fill_rim_m", "cut_at", "old_plaster", "places"});
  ScanSource scan;
  scan.path = source_path(json, folder);
  scan.sha256 = hash_text(json);
  scan.unit = json.at("unit").text();
  const auto unit = scan_unit(scan.unit);
  if (!unit) json.at("unit").fault("is no unit: use mm, cm, m, ft or in");
  ScanOptions& o = scan.options;
  o.unit_m = *unit;
  o.y_up = json.at("y_up").truth();
  o.flip = json.at("flip").truth();
  o.smoothing_m = json.at("smoothing_m").number(0, 10);
  o.weld_m = json.at("weld_m").number(0, 0.1);
  o.placement = placement;
  if (const auto scale = json.find("scale")) o.scale = scale->number(0.01, 100);
  if (const auto crop = json.find("crop")) {
    crop->only({"low", "high"});
    o.crop = ScanOptions::Box{crop->at("low").place3(), crop->at("high").place3()};
    for (int k = 0; k < 3; ++k)
      if (!(o.crop->low[k] < o.crop->high[k])) crop->fault("must have its low corner below its high one");
  }
  o.part_at = place_if_there(json, "part_at");
  if (const auto rim = json.find("fill_rim_m")) o.fill_rim_m = rim->number(0, 1000);
  o.cut_at = place_if_there(json, "cut_at");
  if (const auto old = json.find("old_plaster")) scan.old_plaster = old->truth();
  return scan;
}

}  // namespace pontata
