// The verb picture, set by points: what it tells, end to end.
#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <cmath>

#include "tests/verbs/program.h"

using namespace pontata;

namespace {

// A flat wall 4 by 3 m and a picture of 800 by 600 pixels that lies on it at 1,0.5 and is 2 m wide, slightly off.
struct Job {
  TemporaryFolder folder;
  std::string path = folder.file("p.pontata"), file = folder.file("sky.png");
  Job() {
    add_flat_wall(path);
    write_disc_picture(file, 800, 600);
  }
  // Pixel (x, y) of the flat lay: u = 1 + x / 400, v = 2 - y / 400; `off` px to the right at one point.
  std::string points(bool in_space, int blunder = -1, double off_px = 0) const {
    std::string text = "# measured on the wall\nx_px,y_px,where\n";
    int k = 0;
    for (const double x : {50.0, 300.0, 520.0, 750.0})
      for (const double y : {40.0, 310.0, 560.0}) {
        const double wobble = 0.3 * std::sin(7.0 * k + 1), u = 1 + x / 400, v = 2 - y / 400;
        const double px = x + wobble + (k == blunder ? off_px : 0);
        text += in_space ? fmt::format("{};{}\t{} 0 {}\n", px, y, u, v) : fmt::format("{},{},{},{}\n", px, y, u, v);
        ++k;
      }
    write_bytes(folder.file("points.csv"), text);
    return folder.file("points.csv");
  }
  Ran picture(std::vector<std::string> arguments) const {
    std::vector<std::string> all{"picture", path, "wall"};
    all.insert(all.end(), arguments.begin(), arguments.end());
    return run(all);
  }
  nlohmann::json done(std::vector<std::string> arguments) const {
    arguments.push_back("--json");
    const auto ran = picture(arguments);
    INFO(ran.err);
    REQUIRE(ran.status == 0);
    return ran.json();
  }
};

}  // namespace

TEST_CASE("a picture set by points tells every point's error, the likely error and the worst point by its line") {
  const Job job;
  const auto told = job.done({job.file, "--points", job.points(false), "--fit", "similarity"});
  CHECK(told["fit"]["kind"] == "similarity");
  REQUIRE(told["fit"]["residuals"].size() == 12);
  double sum = 0, worst = 0;
  int worst_line = 0;
  for (const auto& one : told["fit"]["residuals"]) {
    CHECK(one["line"] == one["point"].get<int>() + 2);  // two lines stand before the first point
    const double px = one["left_out"]["px"], mm = one["left_out"]["mm"];
    CHECK(mm == Approx(px * 2.5).epsilon(0.01));  // a pixel covers 2000 / 800 mm
    CHECK(one["fitted"]["px"].get<double>() <= px + 1e-9);
    sum += px * px;
    if (px > worst) worst = px, worst_line = one["line"];
  }
  CHECK(told["fit"]["likely_error"]["px"].get<double>() == Approx(std::sqrt(sum / 12)));
  CHECK(told["fit"]["likely_error"]["px"].get<double>() < 0.6);
  CHECK(told["fit"]["worst"]["line"] == worst_line);
  CHECK(told["fit"]["suspect"].is_null());
  // Lower left corner, as the points were made.
  CHECK(told["at"][0].get<double>() == Approx(1).margin(2e-3));
  CHECK(told["at"][1].get<double>() == Approx(0.5).margin(2e-3));
  const auto text = job.picture({"sky"}).out;
  CHECK(text.find("ikely error") != std::string::npos);
}

TEST_CASE("places in space set the same as places on the wall") {
  const Job job;
  const auto on_wall = job.done({job.file, "--points", job.points(false), "--fit", "homography"});
  const auto in_space = job.done({"sky", "--points", job.points(true), "--fit", "homography"});
  CHECK(on_wall["lay"]["kind"] == "homography");
  for (std::size_t k = 0; k < 9; ++k)
    CHECK(in_space["lay"]["pixel_from_chart"][k].get<double>() ==
          Approx(on_wall["lay"]["pixel_from_chart"][k].get<double>()).epsilon(1e-6).margin(1e-6));
}

TEST_CASE("a point marked in the wrong place is told by its line") {
  const Job job;
  const std::string points = job.points(false, 5, 30);
  const auto told = job.done({job.file, "--points", points, "--fit", "homography"});
  CHECK(told["fit"]["worst"]["line"] == 8);
  CHECK(told["fit"]["suspect"]["line"] == 8);
  const auto text = job.picture({"sky", "--points", points}).out;
  CHECK(text.find("line 8 of the points' file") != std::string::npos);
}

TEST_CASE("points are kept: asked for again in another way without their file, and told again by name") {
  const Job job;
  job.done({job.file, "--points", job.points(false), "--fit", "similarity"});
  std::filesystem::remove(job.folder.file("points.csv"));
  const auto again = job.done({"sky", "--fit", "homography"});
  CHECK(again["lay"]["kind"] == "homography");
  const std::string before = bytes_of(job.path);
  const auto shown = job.done({"sky"});
  CHECK(bytes_of(job.path) == before);
  CHECK(shown["fit"]["likely_error"] == again["fit"]["likely_error"]);
  CHECK(shown["fit"]["residuals"].size() == 12);
  CHECK(job.picture({"sky", "--move", "0.1,0"}).status == 1);
  CHECK(run({"check", job.path}).status == 0);
}

TEST_CASE("points that fix nothing are refused, with the points' file named and nothing changed") {
  const Job job;
  const std::string before = bytes_of(job.path);
  for (const char* text : {"0,0,1,1\n", "0,0,1,1\n0,0,1,1\n", "0,0,1,1\n100,0,1.5,1\n200,0,2,1\n300,0,2.5,1\n"}) {
    write_bytes(job.folder.file("few.csv"), text);
    const auto ran = job.picture({job.file, "--points", job.folder.file("few.csv"), "--fit", "homography"});
    CHECK(ran.status == 1);
    CHECK(is_one_error_line(ran, "few.csv"));
  }
  CHECK(bytes_of(job.path) == before);
}
