// What was decided when a scan was taken in is stored, and applied again when the project is opened.
#include "engine/document/json_text.h"
#include "engine/document/project_file.h"
#include "engine/document/settings_table.h"
#include "tests/document/folders.h"
#include "tests/document/small_project.h"
#include "tests/fixtures/plain_scans.h"

using namespace pontata;
using namespace pontata::fixtures;
using Json = nlohmann::ordered_json;

namespace {

// A curved wall 4 by 3 m with a chip of 0.5 by 0.25 m out of it, and a small wall beside it, in centimetres, Z up.
std::string write_scan(const TemporaryFolder& folder) {
  Sheet sheet = grid_sheet(32, 24, [](double s, double t) { return Vec3{400 * s, 20 * std::sin(3 * s), 300 * t}; });
  std::erase_if(sheet.triangles, [&](const Triangle& t) {
    const Vec3 c = (sheet.points[t[0]] + sheet.points[t[1]] + sheet.points[t[2]]) / 3.0;
    return c.x > 200 && c.x < 250 && c.z > 100 && c.z < 125;
  });
  Sheet other = flat_sheet(150, 100, 6, 4);
  for (Vec3& p : other.points) p.x += 500;
  append(sheet, other);
  const std::string path = folder.file("scan.ply");
  REQUIRE(write_file_atomically(path, ply_bytes(sheet, PlainKind::ply_little)).ok());
  return path;
}

ScanOptions decided() {
  ScanOptions options;
  options.y_up = false;
  options.scale = 1.02;
  options.crop = ScanOptions::Box{{0.5, -1, 0.25}, {3.75, 1, 2.5}};
  options.part_at = Vec3{10, 2, 1};
  options.fill_rim_m = 2;
  options.placement = {{10, 0, 0}, 90};
  return options;
}

}  // namespace

TEST_CASE("box, part, filling, scale and old plaster come back with the project, and the same wall with them") {
  const TemporaryFolder folder;
  auto doc = done(add_scan_wall(Document{}, "wall", write_scan(folder), "cm", decided()));
  const WallId id = doc->walls[0]->id;
  CHECK(doc->walls[0]->wall->metric->raw_area() == Approx(3.25 * 2.25).epsilon(0.01));
  CHECK_FALSE(doc->walls[0]->scan->old_plaster.has_value());
  doc = done(set_old_plaster(*doc, id, true));
  doc = done(draw_outline(*doc, id, box(1, 1, 1, 1), false, ""));
  REQUIRE(save_project(*doc, folder.file("a.pontata")).ok());
  const auto loaded = load_project(folder.file("a.pontata"));
  INFO((loaded ? std::string() : loaded.problem().message()));
  REQUIRE(loaded.ok());
  const ScanSource &was = *doc->walls[0]->scan, &is = *(*loaded)->walls[0]->scan;
  CHECK(is.options.scale == was.options.scale);
  CHECK(is.options.crop->low == was.options.crop->low);
  CHECK(is.options.crop->high == was.options.crop->high);
  CHECK(is.options.part_at == was.options.part_at);
  CHECK(is.options.fill_rim_m == was.options.fill_rim_m);
  CHECK(is.options.unit_m == 0.01);
  CHECK(is.old_plaster == true);
  const auto &then = *doc->walls[0]->wall, &now = *(*loaded)->walls[0]->wall;
  CHECK(now.mesh().points == then.mesh().points);
  CHECK(now.mesh().triangles == then.mesh().triangles);
  CHECK(now.scan->says == then.scan->says);
  CHECK(now.scan->hole_list.at(0).filled);
  REQUIRE(save_project(**loaded, folder.file("b.pontata")).ok());
  CHECK(*read_file(folder.file("a.pontata")) == *read_file(folder.file("b.pontata")));
}

TEST_CASE("a decision of the file that makes no sense is refused by its place") {
  const TemporaryFolder folder;
  const auto doc = done(add_scan_wall(Document{}, "wall", write_scan(folder), "cm", decided()));
  const Json json = Json::parse(*project_text(*doc, folder.path()));
  const auto refused = [&](const char* key, const Json& value) {
    Json changed = json;
    changed["walls"][0]["scan"][key] = value;
    const auto loaded = project_from_text(json_text(changed), "p", folder.path());
    REQUIRE_FALSE(loaded.ok());
    CHECK(loaded.problem().message().find(key) != std::string::npos);
  };
  refused("scale", 0);
  refused("scale", "large");
  refused("crop", {{"low", {1, 0, 0}}, {"high", {0, 1, 1}}});
  refused("crop", {{"low", {1, 0, 0}}});
  refused("part_at", {1, 2});
  refused("fill_rim_m", -1);
  refused("old_plaster", "yes");
}

TEST_CASE("old plaster is set by its key, for scans only") {
  const TemporaryFolder folder;
  auto doc = done(add_scan_wall(*flat_wall("plain"), "wall", write_scan(folder), "cm", decided()));
  const auto value = [&] { return setting_row(*doc, "old-plaster.wall")->value; };
  CHECK(value() == "none");
  for (const std::string answer : {"yes", "no", "none"}) {
    doc = done(set_parameter(*doc, "old-plaster.wall", answer));
    CHECK(value() == answer);
  }
  CHECK_FALSE(set_parameter(*doc, "old-plaster.wall", "perhaps").ok());
  CHECK_FALSE(set_parameter(*doc, "old-plaster.plain", "yes").ok());
  CHECK_FALSE(set_parameter(*doc, "old-plaster.nowhere", "yes").ok());
}
