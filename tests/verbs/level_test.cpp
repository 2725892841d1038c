// The levelling coat through the real program: a scanned plane with a dent, its report, its map, its refusals.
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <numbers>

#include "engine/picture/image.h"
#include "tests/fixtures/glb_writer.h"
#include "tests/fixtures/scans.h"
#include "tests/verbs/program.h"

using namespace pontata;

namespace {

// 2 by 1.5 m, a dent of 20 mm and 100 mm standard deviation in its middle.
std::string dented_scan(const std::string& path) {
  fixtures::Sheet sheet = fixtures::flat_sheet(2, 1.5, 100, 75);
  for (Vec3& p : sheet.points) {
    const double du = p.x - 1, dv = p.z - 0.75;
    p.y = 0.02 * std::exp(-(du * du + dv * dv) / (2 * 0.1 * 0.1));
  }
  fixtures::GlbMesh mesh;
  mesh.points = fixtures::y_up(sheet).points;
  mesh.triangles = sheet.triangles;
  return fixtures::write_glb(path, {mesh});
}

}  // namespace

TEST_CASE("level tells litres by giornata and draws the map, and changes nothing in the project") {
  const TemporaryFolder folder;
  const std::string p = folder.file("p.pontata"), map = folder.file("map.png"), csv = folder.file("level.csv");
  const auto scanned = run({"wall", p, "nave", "--scan", dented_scan(folder.file("nave.glb")), "--unit", "m"});
  INFO(scanned.err);
  REQUIRE(scanned.status == 0);
  REQUIRE(run({"outline", p, "nave", "--points", "-"}, {"0.5 0.3\n1.5 0.3\n1.5 1.2\n0.5 1.2\n", {}, false}).status ==
          0);
  const auto ran = run({"level", p, "nave", "--json", "--csv", csv, "--out", map, "--size", "900x700"});
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  const auto json = ran.json();
  // Closed form: 8 mm over 3 m2, and the dent's 2 pi A sigma^2.
  const double dent_L = 2000 * std::numbers::pi * 0.02 * 0.01;
  const auto& all = json.at("totals");
  CHECK(all.at("volume_L").get<double>() == Approx(24 + dent_L).epsilon(0.02));
  CHECK(all.at("greatest_mm").get<double>() == Approx(28).margin(0.5));
  CHECK(all.at("mortar_L").get<double>() == Approx(1.15 * all.at("volume_L").get<double>()));
  CHECK(all.at("mortar_kg").get<double>() == Approx(2 * all.at("mortar_L").get<double>()));
  const auto& g = json.at("giornate").at(0);
  CHECK(g.at("volume_L").get<double>() == Approx(0.9 * 8 + dent_L).epsilon(0.03));
  CHECK(g.at("volume_L").get<double>() + json.at("rest").at("volume_L").get<double>() ==
        Approx(all.at("volume_L").get<double>()).epsilon(1e-9));
  CHECK(json.at("high_spots").empty());
  CHECK(read_image(map)->width == 900);
  CHECK(std::filesystem::file_size(csv) > 100);
  CHECK(run({"level", p, "nave"}).out.find("L of arriccio in place") != std::string::npos);

  REQUIRE(run({"set", p, "level.least.mm", "12"}).status == 0);
  CHECK(run({"level", p, "nave", "--json"}).json().at("totals").at("volume_L").get<double>() ==
        Approx(36 + dent_L).epsilon(0.02));
}

TEST_CASE("level refuses a wall made from measures and wrong sizes") {
  const TemporaryFolder folder;
  const std::string p = folder.file("p.pontata");
  add_flat_wall(p);
  const auto nothing = run({"level", p, "wall"});
  CHECK(nothing.status == 1);
  CHECK(nothing.err.find("nothing to level") != std::string::npos);
  CHECK(nothing.out.empty());
  CHECK(run({"level", p, "nowhere"}).status == 1);
  CHECK(run({"level", p}).status == 2);
  CHECK(run({"level", p, "wall", "--out", "map.jpg"}).status == 2);
  CHECK(run({"level", p, "wall", "--size", "800x600"}).status == 2);
  CHECK(run({"level", p, "wall", "--out", folder.file("m.png"), "--size", "2000x300"}).status == 2);
  CHECK_FALSE(std::filesystem::exists(folder.file("m.png")));
}
