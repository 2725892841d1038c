// The project file obeys assets/project.schema.json, and the schema lists what the program writes.
#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "engine/document/opening_edits.h"
#include "engine/document/project_file.h"
#include "engine/document/settings_table.h"
#include "tests/document/folders.h"
#include "tests/document/full_job.h"
#include "tests/fixtures/json_schema.h"
#include "tests/fixtures/places.h"
#include "tests/fixtures/plain_scans.h"

using namespace pontata;
using Json = nlohmann::json;

namespace {

Json schema() { return Json::parse(bytes_of(fixtures::source_folder() + "/assets/project.schema.json")); }

std::vector<std::string> faults(const Json& project) { return fixtures::SchemaCheck(schema()).faults(project); }

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
  for (const auto& d : {std::make_shared<const Document>(), doc, done(set_intonaco(*doc, GiornataId{2}, 8.0)),
                        full_job(folder.file("a.png"))}) {
    CHECK(faults(Json::parse(*project_text(*d, folder.path()))) == std::vector<std::string>{});
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
  CHECK(faults(json) == std::vector<std::string>{});
}

TEST_CASE("the schema refuses what the program does not know") {
  Json json = Json::parse(*project_text(*small_project(), "/"));
  json["colour"] = "red";
  json["walls"][0]["turn_deg"] = "30";
  CHECK(faults(json).size() == 2);
}

TEST_CASE("the schema lists the settings, no more and no fewer") {
  std::set<std::string> listed, known;
  const Json settings = schema()["properties"]["settings"]["properties"];
  for (const auto& item : settings.items()) listed.insert(item.key());
  for (const auto& setting : settings_keys({})) known.insert(setting.key);
  CHECK(listed == known);
}
