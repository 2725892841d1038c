// The project file obeys assets/project.schema.json, and the schema lists what the program writes.
#include <algorithm>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>

#include "engine/document/opening_edits.h"
#include "engine/document/project_file.h"
#include "engine/document/settings_table.h"
#include "tests/document/folders.h"
#include "tests/document/small_project.h"
#include "tests/fixtures/places.h"
#include "tests/fixtures/plain_scans.h"

using namespace pontata;
using Json = nlohmann::json;

namespace {

bool has_type(const Json& value, const std::string& type) {
  if (type == "null") return value.is_null();
  if (type == "object") return value.is_object();
  if (type == "array") return value.is_array();
  if (type == "string") return value.is_string();
  if (type == "boolean") return value.is_boolean();
  if (type == "integer") return value.is_number_integer();
  return type == "number" && value.is_number();
}

bool has_a_type(const Json& value, const Json& types) {
  if (types.is_string()) return has_type(value, types);
  return std::any_of(types.begin(), types.end(), [&](const Json& t) { return has_type(value, t); });
}

void add_faults(const Json& schema, const Json& value, const std::string& at, std::vector<std::string>& faults);

void add_object_faults(const Json& schema, const Json& value, const std::string& at, std::vector<std::string>& faults) {
  const Json properties = schema.value("properties", Json::object());
  for (const auto& key : schema.value("required", Json::array()))
    if (!value.contains(key.get<std::string>())) faults.push_back(at + " lacks " + key.dump());
  for (const auto& item : value.items()) {
    if (properties.contains(item.key()))
      add_faults(properties[item.key()], item.value(), at + "/" + item.key(), faults);
    else if (!schema.value("additionalProperties", true))
      faults.push_back(at + " holds " + item.key());
  }
}

// The keywords of JSON Schema (draft 2020-12) that the schema uses; any other fails the test.
void add_faults(const Json& schema, const Json& value, const std::string& at, std::vector<std::string>& faults) {
  const auto fault = [&](const std::string& what) { faults.push_back(at + ": " + what); };
  for (const auto& [keyword, wanted] : schema.items()) {
    if (keyword == "type" && !has_a_type(value, wanted)) fault("type");
    if (keyword == "const" && value != wanted) fault("const");
    if (keyword == "enum" && std::find(wanted.begin(), wanted.end(), value) == wanted.end()) fault("enum");
    if (keyword == "minimum" && value.is_number() && value < wanted) fault("minimum");
    if (keyword == "maximum" && value.is_number() && value > wanted) fault("maximum");
    if (keyword == "minItems" && value.size() < wanted) fault("minItems");
    if (keyword == "maxItems" && value.size() > wanted) fault("maxItems");
    if (keyword == "pattern" && !std::regex_search(value.get<std::string>(), std::regex(wanted.get<std::string>())))
      fault("pattern");
    if (keyword == "items")
      for (std::size_t i = 0; i < value.size(); ++i) add_faults(wanted, value[i], at + "/" + std::to_string(i), faults);
    static const std::set<std::string> known{"type",        "const",      "enum",     "minimum",
                                             "maximum",     "minItems",   "maxItems", "pattern",
                                             "items",       "properties", "required", "additionalProperties",
                                             "description", "title",      "$schema"};
    if (!known.contains(keyword)) fault("keyword " + keyword);
  }
  if (value.is_object()) add_object_faults(schema, value, at, faults);
}

Json schema() { return Json::parse(bytes_of(fixtures::source_folder() + "/assets/project.schema.json")); }

}  // namespace

TEST_CASE("projects obey the schema") {
  const TemporaryFolder folder;
  auto doc = small_project();
  Image image;
  image.width = image.height = 4;
  image.rgb.assign(48, 100);
  REQUIRE(write_png(image, folder.file("a.png")).ok());
  doc = done(drape_picture(*doc, doc->walls[0]->id, folder.file("a.png"), {}, 0, 0, ""));
  doc = done(remove_giornata(*doc, GiornataId{1}));
  for (const char* opening : {"rect:3,1,0.5,1", "round:3,2.5,0.4", "arched:0.1,0,0.3,0.4"})
    doc = done(add_opening(*doc, doc->walls[0]->id, parse_opening(opening).value()));
  for (const auto& d : {std::make_shared<const Document>(), doc, done(set_intonaco(*doc, GiornataId{2}, 8.0))}) {
    std::vector<std::string> faults;
    add_faults(schema(), Json::parse(*project_text(*d, folder.path())), "", faults);
    CHECK(faults == std::vector<std::string>{});
  }
}

TEST_CASE("a scan with every decision made obeys the schema") {
  const TemporaryFolder folder;
  const auto sheet = fixtures::flat_sheet(4, 3, 8, 6);
  REQUIRE(write_file_atomically(folder.file("a.obj"), fixtures::obj_text(sheet)).ok());
  ScanOptions options;
  options.y_up = false;
  options.scale = 1.5;
  options.crop = ScanOptions::Box{{1, -1, 0}, {5, 1, 4}};
  options.part_at = options.cut_at = Vec3{2, 0, 2};
  options.fill_rim_m = 0.5;
  auto doc = done(add_scan_wall(Document{}, "wall", folder.file("a.obj"), "m", options));
  doc = done(set_old_plaster(*doc, doc->walls[0]->id, false));
  const Json json = Json::parse(*project_text(*doc, folder.path()));
  for (const char* key : {"scale", "crop", "part_at", "cut_at", "fill_rim_m", "old_plaster"})
    CHECK(json["walls"][0]["scan"].contains(key));
  std::vector<std::string> faults;
  add_faults(schema(), json, "", faults);
  CHECK(faults == std::vector<std::string>{});
}

TEST_CASE("the schema refuses what the program does not know") {
  Json json = Json::parse(*project_text(*small_project(), "/"));
  json["colour"] = "red";
  json["walls"][0]["turn_deg"] = "30";
  std::vector<std::string> faults;
  add_faults(schema(), json, "", faults);
  CHECK(faults.size() == 2);
}

TEST_CASE("the schema lists the settings, no more and no fewer") {
  std::set<std::string> listed, known;
  const Json settings = schema()["properties"]["settings"]["properties"];
  for (const auto& item : settings.items()) listed.insert(item.key());
  for (const auto& setting : settings_keys({})) known.insert(setting.key);
  CHECK(listed == known);
}
