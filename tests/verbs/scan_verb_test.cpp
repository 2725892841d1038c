// `wall --scan`: what is asked, what is decided, what is told.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>

#include "tests/fixtures/plain_scans.h"
#include "tests/verbs/program.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

struct Scan {
  TemporaryFolder folder;
  std::string path = folder.file("p.pontata"), file = folder.file("scan.obj");
  Scan() { write_bytes(file, obj_text(flat_sheet(4, 3, 16, 12))); }
  Ran add(const std::vector<std::string>& more) const {
    std::vector<std::string> words{"wall", path, "wall", "--scan", file};
    words.insert(words.end(), more.begin(), more.end());
    return run(words);
  }
};

bool holds(const std::string& text, const std::string& words) { return text.find(words) != std::string::npos; }

}  // namespace

TEST_CASE("a file that states no unit must be given one") {
  const Scan scan;
  const auto ran = scan.add({});
  INFO(ran.err);
  CHECK(ran.status == 2);
  CHECK(holds(ran.err, "OBJ files state no unit"));
  CHECK(holds(ran.err, "--unit mm, cm, m, ft or in"));
  CHECK_FALSE(std::filesystem::exists(scan.path));
  const auto json = scan.add({"--unit", "ft", "--json"}).json();
  CHECK(json["raw_area_m2"].get<double>() == Approx(12 * 0.3048 * 0.3048).epsilon(1e-5));
  CHECK(json["old_plaster"].is_null());
}

TEST_CASE("up is z but for glTF, and either may be said") {
  const Scan scan;
  CHECK(scan.add({"--unit", "m", "--json"}).json()["chart"]["height_m"].get<double>() == Approx(3).epsilon(1e-3));
  const TemporaryFolder folder;
  const std::string path = folder.file("p.pontata"), file = folder.file("s.stl");
  write_bytes(file, stl_bytes(y_up(flat_sheet(4, 3, 16, 12)), PlainKind::stl_binary));
  const auto ran = run({"wall", path, "a", "--scan", file, "--unit", "m", "--up", "y", "--json"});
  INFO(ran.err);
  CHECK(ran.json()["chart"]["height_m"].get<double>() == Approx(3).epsilon(1e-3));
}

TEST_CASE("a known distance rescales the scan and is told") {
  const Scan scan;
  const auto ran = scan.add({"--unit", "m", "--known", "4.2m", "--from", "0,0,1", "--to", "4,0,1"});
  INFO(ran.err);
  CHECK(ran.status == 0);
  CHECK(holds(ran.out, "wall: 13.230 m²"));
  CHECK(holds(ran.out, "the scan measured 4.000 m where 4.200 m was measured by hand: everything is scaled by 1.0500"));
  CHECK(holds(ran.out, "5.0 % off"));
  CHECK(run({"measure", scan.path, "--json"}).json()["walls"][0]["area_m2"].get<double>() == Approx(13.23));
  const Scan other;
  CHECK(other.add({"--unit", "m", "--known", "4m"}).status == 2);
  CHECK(other.add({"--unit", "m", "--from", "0,0,1", "--to", "4,0,1"}).status == 2);
  const auto unit = other.add({"--unit", "m", "--known", "400m", "--from", "0,0,1", "--to", "4,0,1"});
  CHECK(unit.status == 1);
  CHECK(is_one_error_line(unit, "scan.obj"));
  CHECK(holds(unit.err, "--unit"));
}

TEST_CASE("box, part and filling are taken and told, in text and JSON") {
  const Scan scan;
  Sheet sheet = flat_sheet(4, 3, 16, 12), other = flat_sheet(1, 1, 4, 4);
  std::erase_if(sheet.triangles, [&](const Triangle& t) {
    const Vec3 c = (sheet.points[t[0]] + sheet.points[t[1]] + sheet.points[t[2]]) / 3.0;
    return c.x > 1 && c.x < 1.5 && c.z > 1 && c.z < 1.5;
  });
  for (Vec3& p : other.points) p.x += 5;
  append(sheet, other);
  write_bytes(scan.file, obj_text(sheet));
  const auto json = scan.add({"--unit", "m", "--crop", "0.5,-1,0.5,5.75,1,2.5", "--fill", "2.5m", "--json"}).json();
  CHECK(json["raw_area_m2"].get<double>() == Approx(3.5 * 2).epsilon(1e-6));
  REQUIRE(json["parts"].size() == 2);
  CHECK(json["parts"][1]["area_m2"].get<double>() == Approx(0.75 * 0.5).epsilon(1e-6));
  REQUIRE(json["holes"].size() == 1);
  CHECK(json["holes"][0]["rim_m"].get<double>() == Approx(2));
  CHECK(json["holes"][0]["filled"] == true);
  CHECK(json["stretch"]["least"].get<double>() > 0.5);
  CHECK(json["mended"].size() >= 3);
  const auto part = run({"wall", scan.path, "small", "--scan", scan.file, "--unit", "m", "--part", "5.5,0,0.5"});
  INFO(part.err);
  CHECK(holds(part.out, "small: 1.000 m²"));
  CHECK(holds(part.out, "parts, largest first"));
  CHECK(scan.add({"--unit", "m", "--crop", "0,0,0,1,0,1"}).status == 2);
  CHECK(scan.add({"--unit", "m", "--crop", "0,0,0,1,1"}).status == 2);
}

TEST_CASE("old plaster is asked for once, and warned of in every report") {
  const Scan scan;
  const auto asked = scan.add({"--unit", "m"});
  CHECK(holds(asked.out, "Does old plaster or paint lie here? Say --old-plaster yes or no"));
  CHECK_FALSE(holds(run({"measure", scan.path}).out, "conservator"));
  REQUIRE(run({"set", scan.path, "old-plaster.wall", "yes"}).status == 0);
  CHECK(holds(run({"measure", scan.path}).out, "do not wet, hack or key it until a conservator has tested it"));
  CHECK(run({"measure", scan.path, "--json"}).json()["walls"][0]["old_plaster"] == true);
  const auto said = run({"wall", scan.path, "b", "--scan", scan.file, "--unit", "m", "--old-plaster", "yes"});
  CHECK(holds(said.out, "it may hold lead"));
  CHECK_FALSE(holds(said.out, "Does old plaster"));
  const auto none = run({"wall", scan.path, "c", "--scan", scan.file, "--unit", "m", "--old-plaster", "no"});
  CHECK_FALSE(holds(none.out, "plaster"));
}

TEST_CASE("the caution of old plaster stands in full on every day sheet of that wall, and on no other's") {
  const Scan scan;
  REQUIRE(scan.add({"--unit", "m", "--old-plaster", "yes"}).status == 0);
  REQUIRE(run({"wall", scan.path, "new", "--shape", "flat", "--width", "3", "--height", "2"}).status == 0);
  for (const auto& [wall, points] :
       {std::pair{"wall", "1 1\n2 1\n2 2\n1 2\n"}, std::pair{"wall", "2 1\n3 1\n3 2\n2 2\n"},
        std::pair{"new", "1 0.5\n2 0.5\n2 1.5\n1 1.5\n"}})
    REQUIRE(run({"outline", scan.path, wall, "--points", "-"}, {points, {}, false}).status == 0);
  const auto ran = run({"cartoon", scan.path, "--out", scan.folder.file("out"), "--paper", "A3"});
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  const std::string pdf = scan.folder.file("out/day-sheets.pdf"), text = scan.folder.file("sheets.txt");
  REQUIRE(std::system(("pdftotext '" + pdf + "' '" + text + "'").c_str()) == 0);
  std::string words = bytes_of(text);
  std::replace(words.begin(), words.end(), '\n', ' ');
  std::size_t cautions = 0, pages = 0;
  for (std::size_t at = 0;
       (at = words.find("lies under this wall: do not wet, hack or key it", at)) != std::string::npos; ++at)
    ++cautions;
  for (std::size_t at = 0; (at = words.find("Take care", at)) != std::string::npos; ++at) ++pages;
  CHECK(pages == 3);
  CHECK(cautions == 2);
  CHECK(holds(words, "until a conservator has tested it and consent is given; it may hold lead."));
}

TEST_CASE("flags of scans are not taken for shapes") {
  const TemporaryFolder folder;
  for (const std::vector<std::string>& flag : std::vector<std::vector<std::string>>{
           {"--crop", "0,0,0,1,1,1"}, {"--fill", "1m"}, {"--old-plaster", "yes"}, {"--part", "0,0,0"}}) {
    std::vector<std::string> words{"wall", folder.file("p"), "a", "--shape", "flat", "--width", "1", "--height", "1"};
    words.insert(words.end(), flag.begin(), flag.end());
    const auto ran = run(words);
    CHECK(ran.status == 2);
    CHECK(holds(ran.err, flag[0] + " belongs to --scan"));
  }
}
