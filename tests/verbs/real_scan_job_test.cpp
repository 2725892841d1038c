// Real scanned surfaces that are not ours through the whole job: scan, picture, outline that hugs, measure, cartoon.
// Sources: a disc-like piece of "mannequin-devil" of Debian's package libcgal-demo; "Mountain" by lastloginname, CC BY
// 4.0, from odedstein-meshes, in ../shared/data beside the project (skipped with a message where it is absent).
#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>

#include "tests/cartoon/reader.h"
#include "tests/fixtures/glb_writer.h"
#include "tests/fixtures/mesh_files.h"
#include "tests/fixtures/places.h"
#include "tests/verbs/program.h"

using namespace pontata;

namespace {

std::string round_outline(double u, double v, double radius) {
  std::string text;
  for (int k = 0; k < 12; ++k) {
    const double a = 2 * 3.14159265358979323846 * k / 12;
    text += fmt::format("{:.4f} {:.4f}\n", u + radius * std::cos(a), v + radius * std::sin(a));
  }
  return text;
}

nlohmann::json done(const std::vector<std::string>& words, const std::string& input = {}) {
  const Ran ran = run(words, {input, {}, false});
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  return ran.out.empty() || words.back() != "--json" ? nlohmann::json() : ran.json();
}

void whole_job(const std::string& name, const fixtures::Sheet& sheet) {
  TemporaryFolder folder;
  fixtures::GlbMesh mesh;
  mesh.points = fixtures::y_up(sheet).points;
  mesh.triangles = sheet.triangles;
  const std::string scan = fixtures::write_glb(folder.file(name + ".glb"), {mesh});
  const std::string project = folder.file("job.pontata"), picture = folder.file("disc.png");
  INFO(name);

  done({"wall", project, "rock", "--scan", scan, "--unit", "m"});
  const auto bare = done({"measure", project, "--json"}).at("walls").at(0);
  const double width = bare.at("chart").at("width_m"), height = bare.at("chart").at("height_m");
  // A direct sum over the file's own triangles; the fair area loses little of it.
  CHECK(bare.at("raw_area_m2").get<double>() == Approx(fixtures::sheet_area(sheet)).epsilon(1e-3));
  CHECK(bare.at("area_m2").get<double>() > 0.8 * fixtures::sheet_area(sheet));
  CHECK(bare.at("area_m2").get<double>() <= 1.001 * bare.at("raw_area_m2").get<double>());

  // The picture fills the chart's width, the disc about the middle of the chart: a third of the smaller side in radius.
  const double high = std::min(width, height);
  write_disc_picture(picture, 800, static_cast<int>(std::lround(800 * high / width)));
  done({"picture", project, "rock", picture, "--at", fmt::format("0,{:.6f}", (height - high) / 2)});
  done({"set", project, "rate", "0.3"});
  const auto drawn = done({"outline", project, "rock", "--hug", "--points", "-", "--name", "Disc", "--json"},
                          round_outline(width / 2, height / 2, high / 3));
  CHECK(drawn.at("hugged").get<double>() > 0.8);

  const auto wall = done({"measure", project, "--json"}).at("walls").at(0);
  const auto& g = wall.at("giornate").at(0);
  CHECK(wall.at("residual_m2").get<double>() == 0);
  CHECK(g.at("area_m2").get<double>() + wall.at("unassigned_m2").get<double>() ==
        Approx(wall.at("area_m2").get<double>()).epsilon(1e-9));
  CHECK(g.at("area_m2").get<double>() == Approx(drawn.at("area_m2").get<double>()));
  const double volume = g.at("coats").at(0).at("volume_L").get<double>();
  CHECK(volume > 0);
  CHECK(done({"check", project}).is_null());

  const auto made = done({"cartoon", project, "--out", folder.file("out"), "--paper", "A2", "--json"});
  const std::string pdf = folder.file("out") + "/cartoon.pdf";
  CHECK(static_cast<int>(fixtures::page_boxes_mm(pdf).size()) == made.at("sheets").get<int>());
  CHECK(fixtures::text_of_page(pdf, 1).find("giornata 1") != std::string::npos);
  CHECK(std::filesystem::exists(folder.file("out") + "/key-plan.png"));
}

}  // namespace

TEST_CASE("a piece of a scanned figure from outside goes through the whole job") {
  const auto whole = fixtures::read_demo_mesh("mannequin-devil.off");
  if (whole.triangles.empty()) {
    WARN("skipped: libcgal-demo's mannequin-devil.off is not installed");
    return;
  }
  whole_job("figure", fixtures::disc_round(fixtures::scaled_to(whole, 4), 0, 2));
}

TEST_CASE("a scanned mountain relief from outside goes through the whole job") {
  const std::string path = fixtures::source_folder() + "/../shared/data/mountain.obj";
  const auto sheet = fixtures::scaled_to(fixtures::read_obj(path), 4);
  if (sheet.triangles.empty()) {
    WARN("skipped: " << path << " is not there");
    return;
  }
  whole_job("mountain", sheet);
}
