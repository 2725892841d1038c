// The verb picture, end to end.
#include <catch2/catch.hpp>
#include <cmath>

#include "tests/verbs/program.h"

using namespace pontata;

namespace {

// A flat wall 4 by 3 m and a picture file of 80 by 60 pixels.
struct Job {
  TemporaryFolder folder;
  std::string path = folder.file("p.pontata"), file = folder.file("sky.png");
  Job() {
    add_flat_wall(path);
    write_disc_picture(file, 80, 60);
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
    CHECK(ran.err.empty());
    return ran.json();
  }
  // The asking fails with this status and one line that holds these words, and the project keeps its bytes.
  void refused(const std::vector<std::string>& arguments, int status, const std::string& words) const {
    const std::string before = bytes_of(path);
    const auto ran = picture(arguments);
    INFO(ran.err);
    CHECK(ran.status == status);
    CHECK(ran.out.empty());
    CHECK(ran.err.find(words) != std::string::npos);
    CHECK(ran.err.find('\n') == ran.err.size() - 1);
    CHECK(bytes_of(path) == before);
  }
  std::string text_file(const std::string& name, const std::string& text) const {
    write_bytes(folder.file(name), text);
    return folder.file(name);
  }
};

std::string names_of(const nlohmann::json& list) {
  std::string names;
  for (const auto& picture : list["pictures"]) names += picture["name"].get<std::string>() + " ";
  return names;
}

}  // namespace

TEST_CASE("pictures are added, listed in their order, put elsewhere in it, renamed and taken away") {
  const Job job;
  CHECK(job.done({}) == nlohmann::json({{"wall", "wall"}, {"pictures", nlohmann::json::array()}}));
  CHECK(job.picture({}).out == "wall: no pictures\n");
  const auto sky = job.done({job.file, "--width", "1.6m", "--at", "0.5,0.25"});
  CHECK(sky["name"] == "sky");
  CHECK(sky["id"] == 1);
  CHECK(sky["order"] == 1);
  CHECK(sky["pixels"] == nlohmann::json({80, 60}));
  CHECK(sky["at"] == nlohmann::json({0.5, 0.25}));
  CHECK(sky["width"].get<double>() == Approx(1.6));
  CHECK(sky["height"].get<double>() == Approx(1.2));
  CHECK(sky["turn_deg"] == 0);
  CHECK(sky["lay"]["kind"] == "unrolled");
  job.done({job.file, "--name", "border", "--width", "1"});
  job.done({job.file, "--name", "angel", "--width", "1"});
  CHECK(names_of(job.done({})) == "sky border angel ");
  CHECK(job.done({"sky", "--order", "top"})["order"] == 3);
  CHECK(job.done({"angel", "--order", "1"})["order"] == 1);
  CHECK(names_of(job.done({})) == "angel border sky ");
  CHECK(job.done({"border", "--name", "frieze"})["name"] == "frieze");
  CHECK(job.done({"frieze", "--order", "bottom"})["order"] == 1);
  CHECK(job.done({"angel", "--remove"}) == nlohmann::json({{"wall", "wall"}, {"removed", "angel"}}));
  CHECK(names_of(job.done({})) == "frieze sky ");
  CHECK(job.picture({}).out.find("1 frieze: 80 × 60 pixels on wall") == 0);
  job.refused({"angel", "--fade", "5"}, 1, "angel");
  job.refused({"sky", "--order", "3"}, 1, "order");
  job.refused({"sky", "--name", "frieze"}, 1, "frieze");
}

TEST_CASE("a picture is named to see it, and its project keeps its bytes") {
  const Job job;
  job.done({job.file, "--width", "1"});
  const std::string before = bytes_of(job.path);
  CHECK(job.done({"sky"})["width"].get<double>() == Approx(1));
  CHECK(bytes_of(job.path) == before);
  job.refused({"cloud"}, 1, "one of sky");
}

TEST_CASE("what is not asked stays as it lies") {
  const Job job;
  job.done({job.file, "--width", "1.6", "--at", "0.5,0.25", "--turn", "10"});
  const auto moved = job.done({"sky", "--at", "1,1"});
  CHECK(moved["width"].get<double>() == Approx(1.6));
  CHECK(moved["turn_deg"].get<double>() == Approx(10));
  CHECK(moved["at"] == nlohmann::json({1, 1}));
  const auto wider = job.done({"sky", "--width", "2"});
  CHECK(wider["at"] == nlohmann::json({1, 1}));
  CHECK(wider["width"].get<double>() == Approx(2));
  const auto shifted = job.done({"sky", "--move", "-0.25,0.5"});
  CHECK(shifted["at"] == nlohmann::json({0.75, 1.5}));
  job.refused({"sky", "--move", "9,9"}, 1, "beside the wall");
  // The same file again lies anew, in the same place of the order.
  job.done({job.file, "--name", "other"});
  const auto anew = job.done({job.file});
  CHECK(anew["order"] == 1);
  CHECK(anew["width"].get<double>() == Approx(4));
}

TEST_CASE("aligned and fitted by the verb") {
  const Job job;
  const auto right = job.done({job.file, "--width", "1", "--at", "0,1", "--align", "right-edge"});
  CHECK(right["at"][0].get<double>() == Approx(3));
  const auto beside = job.done(
      {job.file, "--name", "two", "--width", "0.5", "--at", "0,1", "--align", "left-of:sky", "--align", "below:sky"});
  CHECK(beside["at"][0].get<double>() == Approx(2.5));
  CHECK(beside["at"][1].get<double>() == Approx(0.625));
  job.refused({job.file, "--name", "three", "--align", "springing"}, 1, "no springing");
  job.refused({job.file, "--name", "three", "--align", "above:nobody"}, 1, "nobody");
  const auto rest = job.done({job.file, "--name", "three", "--fit-rest"});
  CHECK(rest["width"].get<double>() == Approx(4).margin(1e-3));
}

TEST_CASE("what shows of a picture: crop, outline and fade, and all of it again") {
  const Job job;
  job.done({job.file});
  CHECK(job.done({"sky", "--crop", "10,5,40,30"})["crop"] == nlohmann::json({10, 5, 40, 30}));
  const std::string mask = job.text_file("mask.csv", "x_px;y_px\n0;0\n79;0 # a corner\n\n40;59\n0;0\n");
  CHECK(job.done({"sky", "--mask", mask})["mask"] == nlohmann::json({{0, 0}, {79, 0}, {40, 59}}));
  CHECK(job.done({"sky", "--fade", "30"})["fade_pct"].get<double>() == Approx(30));
  const std::string shown = job.picture({"sky"}).out;
  CHECK(shown.find("only 40 × 30 pixels from 10,5") != std::string::npos);
  CHECK(shown.find("outline of 3 corners") != std::string::npos);
  CHECK(shown.find("faded by 30 %") != std::string::npos);
  job.refused({"sky", "--crop", "0,0,81,10"}, 1, "crop");
  job.refused({"sky", "--mask", job.text_file("bow.csv", "0,0\n50,50\n50,0\n0,50\n")}, 1, "bow.csv");
  job.refused({"sky", "--mask", job.text_file("bad.csv", "0,0\n50,x\n")}, 1, "bad.csv line 2");
  job.refused({"sky", "--mask", job.text_file("none.csv", "# nothing\n")}, 1, "none.csv");
  const auto all = job.done({"sky", "--crop", "none", "--mask", "none", "--fade", "0"});
  CHECK(all["crop"].is_null());
  CHECK(all["mask"].empty());
}

TEST_CASE("another file of the same proportions takes the picture's place, of others it is refused") {
  const Job job;
  job.done({job.file, "--width", "1"});
  write_disc_picture(job.folder.file("finer.png"), 160, 120);
  write_disc_picture(job.folder.file("tall.png"), 60, 80);
  const auto finer = job.done({"sky", "--file", job.folder.file("finer.png")});
  CHECK(finer["pixels"] == nlohmann::json({160, 120}));
  CHECK(finer["width"].get<double>() == Approx(1));
  job.refused({"sky", "--file", job.folder.file("tall.png")}, 1, "tall.png");
  job.refused({"sky", "--file", job.folder.file("nowhere.png")}, 1, "nowhere.png");
}

TEST_CASE("a design for an eye is laid by where it is seen from") {
  const Job job;
  const auto seen = job.done({job.file, "--eye", "2,-4,1.5", "--look", "2,0,1.5", "--angle", "40"});
  CHECK(seen["lay"]["kind"] == "camera");
  CHECK(seen["lay"]["eye"] == nlohmann::json({2, -4, 1.5}));
  CHECK(seen["lay"]["angle_deg"].get<double>() == Approx(40));
  CHECK(seen["at"].is_null());
  CHECK(job.picture({"sky"}).out.find("made to be seen from 2.000,-4.000,1.500") != std::string::npos);
  job.refused({"sky", "--eye", "2,-4,1.5", "--look", "2,-8,1.5"}, 1, "does not look at the wall");
  job.refused({"sky", "--eye", "2,-4,1.5", "--look", "2,-4,1.5"}, 1, "eye");
  job.refused({"sky", "--move", "1,0"}, 1, "not moved");
}

TEST_CASE("a map of its stretch is written, and nothing over the project or its pictures") {
  const Job job;
  job.done({job.file, "--width", "2"});
  const std::string map = job.folder.file("map.png"), before = bytes_of(job.path);
  const auto told = job.done({"sky", "--stretch", map});
  CHECK(bytes_of(map).substr(1, 3) == "PNG");
  CHECK(bytes_of(job.path) == before);
  // A flat wall stretches nothing: 80 pixels over 2 m are 25 mm each.
  CHECK(told["stretch"]["own_mm_per_px"].get<double>() == Approx(25).epsilon(1e-3));
  CHECK(told["stretch"]["greatest"]["times"].get<double>() == Approx(1).epsilon(1e-3));
  job.refused({"sky", "--stretch", job.path}, 1, "p.pontata");
  const std::string picture = bytes_of(job.file);
  job.refused({"sky", "--stretch", job.file}, 1, "sky.png");
  CHECK(bytes_of(job.file) == picture);
  job.refused({"sky", "--stretch", job.folder.file("no/map.png")}, 1, "map.png");
  job.refused({"cloud", "--stretch", map}, 1, "cloud");
  job.refused({"sky", "--stretch", map, "--fade", "10"}, 2, "--stretch");
}

TEST_CASE("the picture with the wall's squares is written once their side is known") {
  const Job job;
  job.done({job.file, "--width", "4"});
  const std::string squared = job.folder.file("squared.png");
  job.refused({"sky", "--squared", squared}, 1, "squaring.step");
  REQUIRE(run({"set", job.path, "squaring.step", "0.5"}).status == 0);
  CHECK(job.done({"sky", "--squared", squared})["squared"]["step_m"] == 0.5);
  CHECK(bytes_of(squared).substr(1, 3) == "PNG");
  job.refused({"sky", "--squared", job.file}, 1, "sky.png");
  job.refused({"sky", "--squared", squared, "--stretch", squared}, 2, "--stretch");
}

TEST_CASE("by elevation and by plan") {
  const Job job;
  const auto flat = job.done({job.file, "--lay", "elevation", "--width", "2", "--at", "1,0.5"});
  CHECK(flat["lay"]["kind"] == "plane");
  CHECK(flat["lay"]["corner"][0].get<double>() == Approx(1));
  CHECK(flat["lay"]["corner"][2].get<double>() == Approx(0.5));
  CHECK(flat["lay"]["width_m"].get<double>() == Approx(2));
  job.refused({job.file, "--name", "b", "--lay", "plan"}, 1, "p.pontata");  // an upright wall shows nothing in plan
}

TEST_CASE("askings that contradict themselves are wrong usage") {
  const Job job;
  job.done({job.file});
  for (const std::vector<std::string>& wrong :
       std::vector<std::vector<std::string>>{{"--fade", "20"},
                                             {"--remove"},
                                             {"--width", "2"},
                                             {"sky", "--width", "2", "--points", "x.csv"},
                                             {"sky", "--width", "2", "--eye", "0,-3,1", "--look", "0,0,1"},
                                             {"sky", "--points", "x.csv", "--eye", "0,-3,1", "--look", "0,0,1"},
                                             {"sky", "--remove", "--fade", "20"},
                                             {"sky", "--remove", "--width", "2"},
                                             {"sky", "--move", "1,1", "--at", "1,1"},
                                             {"sky", "--file", "x.png", "--width", "2"},
                                             {"sky", "--fit-rest", "--width", "2"},
                                             {"sky", "--fit-rest", "--align", "crown"},
                                             {"sky", "--fit", "similarity", "--points", "x.csv", "--pose", "2"},
                                             {"sky", "--fit", "homography", "--points", "x.csv", "--focal", "900"},
                                             {"sky", "--eye", "0,-3,1"},
                                             {"sky", "--look", "0,0,1"},
                                             {"sky", "--angle", "40"},
                                             {"sky", "--fade", "101"},
                                             {"sky", "--fade", "-1"},
                                             {"sky", "--crop", "1,2,3"},
                                             {"sky", "--crop", "1,2,0,3"},
                                             {"sky", "--crop", "a,2,3,4"},
                                             {"sky", "--order", "first"},
                                             {"sky", "--order", "0"},
                                             {"sky", "--order", "1.5"},
                                             {"sky", "--align", "moon"},
                                             {"sky", "--align", "above"},
                                             {"sky", "--align", "crown:sky"},
                                             {"sky", "--lay", "sideways"},
                                             {"sky", "--fit", "magic", "--points", "x.csv"},
                                             {"sky", "--width", "0"},
                                             {"sky", "--pose", "0", "--points", "x.csv"},
                                             {"sky", "--focal", "-1", "--points", "x.csv"},
                                             {"sky", "other", "--fade", "20"}})
    job.refused(wrong, 2, "pontata");
  job.refused({job.file, "--name", "b", "--move", "1,1"}, 1, "--move");
  job.refused({job.file, "--name", "b", "--file", job.file}, 1, "--file");
  job.refused({job.file, "--name", "b", "--remove"}, 2, "--remove");
  job.refused({"sky", "--fit", "camera"}, 1, "not set by points");
}

TEST_CASE("control points that cannot be read are named by their line") {
  const Job job;
  const auto bad = [&](const std::string& text, const std::string& words) {
    job.refused({job.file, "--points", job.text_file("points.csv", text)}, 1, words);
  };
  bad("0,0,0,0\n1,2,3\n", "points.csv line 2");
  bad("x_px,y_px,u,v\n0,0,0,0\nx_px,y_px,u,v\n", "points.csv line 3");
  bad("0,0,0,0\n1,2,3,4,5,6\n", "points.csv line 2");
  bad("0,0,0,0\n1,,2,3\n", "points.csv line 2");
  bad("0,0,0,0\n1,2,3,4,\n", "points.csv line 2");
  bad("0,0,0,0\n1,2,nan,4\n", "points.csv line 2");
  bad("0,0,0,0\n1,2,1e999,4\n", "points.csv line 2");
  bad("0,0,0,0\n1e9,2,1,1\n", "points.csv line 2");
  bad("0,0,0,0\n10,20,9,9\n", "points.csv line 2");
  bad("# a wall in the plane y = 0\n0,0,0,0\n10,20,1,0.021,1\n", "points.csv line 3");
  bad(std::string("0,0,0,0\n\0,1,1,1\n", 17), "points.csv line 2");
  std::string many;
  for (int k = 0; k < 10001; ++k) many += "1 2 0.5 0.5\n";
  bad(many, "points.csv line 10001");
  job.refused({job.file, "--points", job.folder.file("none.csv")}, 1, "none.csv");
  job.refused({job.file, "--points", job.folder.path()}, 1, job.folder.path());
  bad("", "points.csv");
  bad("0,0,0,3\n", "points.csv");
}

TEST_CASE("check says what is wrong with a picture") {
  const Job job;
  job.done({job.file, "--width", "1"});
  CHECK(run({"check", job.path}).status == 0);
  auto json = nlohmann::ordered_json::parse(bytes_of(job.path));
  json["walls"][0]["pictures"][0]["lay"]["at"] = {90, 90};
  write_bytes(job.path, json.dump());
  const auto ran = run({"check", job.path});
  CHECK(ran.status == 1);
  CHECK(ran.out.find("sky") != std::string::npos);
}
