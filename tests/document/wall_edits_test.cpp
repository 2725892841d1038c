// A scan taken in again with other choices.
#include "engine/document/wall_edits.h"

#include "engine/document/atomic_file.h"
#include "engine/document/opening_edits.h"
#include "engine/document/soundness.h"
#include "tests/document/folders.h"
#include "tests/document/small_project.h"
#include "tests/fixtures/plain_scans.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

ScanOptions z_up() {
  ScanOptions options;
  options.y_up = false;
  return options;
}

// A flat wall 4 by 3 m in centimetres, its longer side to the right, with a hole of 0.5 by 0.25 m in it.
std::string write_scan(const TemporaryFolder& folder) {
  Sheet sheet = flat_sheet(400, 300, 32, 24);
  std::erase_if(sheet.triangles, [&](const Triangle& t) {
    const Vec3 c = (sheet.points[t[0]] + sheet.points[t[1]] + sheet.points[t[2]]) / 3.0;
    return c.x > 200 && c.x < 250 && c.z > 100 && c.z < 125;
  });
  const std::string path = folder.file("scan.ply");
  REQUIRE(write_file_atomically(path, ply_bytes(sheet, PlainKind::ply_little)).ok());
  return path;
}

DocumentRef scanned(const std::string& path) {
  return done(add_scan_wall(Document{}, "apse wall", path, "cm", z_up()));
}

// The options that the wall has now, to be changed in one thing.
ScanOptions now_of(const Document& doc) { return doc.walls[0]->scan->options; }
double area_of(const Document& doc) { return doc.walls[0]->wall->metric->raw_area(); }

void check_refused(const Result<Edited>& edited, const std::string& part) {
  REQUIRE_FALSE(edited.ok());
  INFO(edited.problem().message());
  CHECK(edited.problem().message().find(part) != std::string::npos);
}

}  // namespace

// Areas of flat rectangles: closed forms.
TEST_CASE("scale, filling and box change the wall as they say, and the old document stays as it was") {
  const TemporaryFolder folder;
  const auto doc = scanned(write_scan(folder));
  const double bare = 4 * 3 - 0.5 * 0.25;
  CHECK(area_of(*doc) == Approx(bare).epsilon(1e-6));

  ScanOptions options = now_of(*doc);
  options.scale = 1.1;
  const auto larger = done(change_scan(*doc, WallId{1}, options));
  CHECK(area_of(*larger) == Approx(1.21 * bare).epsilon(1e-6));
  CHECK(now_of(*larger).scale == 1.1);

  options = now_of(*larger);
  options.scale = 1;
  options.fill_rim_m = 2;  // the hole's rim is 1.5 m
  const auto filled = done(change_scan(*larger, WallId{1}, options));
  CHECK(area_of(*filled) == Approx(12).epsilon(1e-6));

  options.crop = ScanOptions::Box{{1, -1, 0.5}, {3, 1, 2}};
  const auto cropped = done(change_scan(*filled, WallId{1}, options));
  CHECK(area_of(*cropped) == Approx(2 * 1.5).epsilon(1e-6));

  for (const auto& each : {larger, filled, cropped}) {
    Flow flow;
    for (const auto& fault : document_faults(*each, flow)) FAIL_CHECK(fault.message());
    CHECK(each->walls[0]->id == WallId{1});
    CHECK(each->walls[0]->name == "apse wall");
  }
  CHECK(area_of(*doc) == Approx(bare).epsilon(1e-6));
  CHECK(now_of(*doc).scale == 1);
}

TEST_CASE("taken in again with the choices it had, a scan is the same wall to the bit") {
  const TemporaryFolder folder;
  const auto doc = scanned(write_scan(folder));
  const auto again = done(change_scan(*doc, WallId{1}, now_of(*doc)));
  const auto &then = *doc->walls[0]->wall, &now = *again->walls[0]->wall;
  CHECK(now.mesh().points == then.mesh().points);
  CHECK(now.mesh().triangles == then.mesh().triangles);
  CHECK(now.chart->places() == then.chart->places());
}

TEST_CASE("a giornata can be drawn over the hole that was filled") {
  const TemporaryFolder folder;
  const auto doc = scanned(write_scan(folder));
  ScanOptions options = now_of(*doc);
  options.fill_rim_m = 2;
  const auto filled = done(change_scan(*doc, WallId{1}, options));
  const auto drawn = done(draw_outline(*filled, WallId{1}, box(1.75, 0.75, 1, 1), false, "over the filled hole"));
  Flow flow;
  CHECK(flow.figures(*drawn, WallId{1})->measure.giornate.at(0).area_m2 == Approx(1).epsilon(1e-6));
}

TEST_CASE("a wall that is drawn on keeps its surface until giornate, zones and openings are taken away") {
  const TemporaryFolder folder;
  const auto doc = scanned(write_scan(folder));
  const auto drawn = done(draw_outline(*doc, WallId{1}, box(0.5, 0.5, 1, 1), false, ""));
  check_refused(change_scan(*drawn, WallId{1}, now_of(*drawn)), "apse wall");
  const auto zoned = done(add_zone(*doc, WallId{1}, ZoneKind::detail, box(0.5, 0.5, 0.3, 0.3), "face", 0.06));
  check_refused(change_scan(*zoned, WallId{1}, now_of(*zoned)), "zones");
  const auto holed = done(add_opening(*doc, WallId{1}, {OpeningKind::rect, {0.5, 0.5}, 0.5, 1, {}}));
  check_refused(change_scan(*holed, WallId{1}, now_of(*holed)), "openings");
  const auto closed = done(remove_opening(*holed, WallId{1}, 0));
  CHECK(change_scan(*closed, WallId{1}, now_of(*closed)).ok());
  const auto bare = done(remove_giornata(*drawn, drawn->giornate.at(0).id));
  CHECK(change_scan(*bare, WallId{1}, now_of(*bare)).ok());
}

TEST_CASE("a wall of known shape, a scan that changed and one that is gone are refused by name") {
  const TemporaryFolder folder;
  check_refused(change_scan(*flat_wall("plain"), WallId{1}, z_up()), "plain");
  const std::string path = write_scan(folder);
  const auto doc = scanned(path);
  const std::string bytes = bytes_of(path);
  REQUIRE(write_file_atomically(path, bytes + " ").ok());
  check_refused(change_scan(*doc, WallId{1}, now_of(*doc)), path);
  std::filesystem::remove(path);
  check_refused(change_scan(*doc, WallId{1}, now_of(*doc)), path);
  REQUIRE(write_file_atomically(path, bytes).ok());
  CHECK(change_scan(*doc, WallId{1}, now_of(*doc)).ok());
}
