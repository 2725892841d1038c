// outline --take and --into, join of several and zone --change, as a script calls them.
#include <catch2/catch.hpp>

#include "tests/verbs/program.h"

using namespace pontata;

namespace {

// Three giornate of 1 m2 in a row from u = 0.5, v from 0.5 to 1.5.
struct Row {
  TemporaryFolder folder;
  std::string path = folder.file("p.pontata");
  Row() {
    add_flat_wall(path);
    for (const char* points : {"0.5 0.5\n1.5 0.5\n1.5 1.5\n0.5 1.5\n", "1.5 0.5\n2.5 0.5\n2.5 1.5\n1.5 1.5\n",
                               "2.5 0.5\n3.5 0.5\n3.5 1.5\n2.5 1.5\n"})
      REQUIRE(run({"outline", path, "wall", "--points", "-"}, {points, {}, false}).status == 0);
  }
  Ran outline(std::vector<std::string> more, const std::string& points) const {
    std::vector<std::string> all{"outline", path, "wall", "--points", "-"};
    all.insert(all.end(), more.begin(), more.end());
    return run(all, {points, {}, false});
  }
};

}  // namespace

TEST_CASE("an outline takes what it covers, and tells from whom and what it cut off") {
  const Row p;
  const auto ran = p.outline({"--take", "--json"}, "0.75 0.2\n1 0.2\n1 1.8\n0.75 1.8\n");
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  CHECK(ran.json().at("id") == 4);
  CHECK(ran.json().at("area_m2").get<double>() == Approx(0.4));
  CHECK(ran.json().at("taken").at(0).at("id") == 1);
  CHECK(ran.json().at("taken").at(0).at("area_m2").get<double>() == Approx(0.25));
  CHECK(ran.json().at("parts") == nlohmann::json::array({5}));
  CHECK(ran.err.find("became giornata") != std::string::npos);
  CHECK(run({"check", p.path}).status == 0);
  // Without --take the overlap stays with those drawn first.
  CHECK(p.outline({"--json"}, "1.2 0.2\n1.4 0.2\n1.4 1.8\n1.2 1.8\n").json().at("overlap_given_up") == true);
}

TEST_CASE("an outline is added to a giornata") {
  const Row p;
  const auto ran = p.outline({"--into", "2", "--json"}, "1.25 0.75\n2 0.75\n2 1.25\n1.25 1.25\n");
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  CHECK(ran.json().at("id") == 2);
  CHECK(ran.json().at("area_m2").get<double>() == Approx(1.125));
  CHECK(p.outline({"--into", "2", "--name", "x"}, "0 0\n1 0\n1 1\n").status == 2);
  const std::string before = bytes_of(p.path);
  const auto refused = p.outline({"--take"}, "1.2 0.4\n2.6 0.4\n2.6 1.6\n1.2 1.6\n");
  CHECK(refused.status == 1);
  CHECK(is_one_error_line(refused, p.path));
  CHECK(refused.err.find("left of giornata ") != std::string::npos);
  CHECK(bytes_of(p.path) == before);
}

TEST_CASE("several giornate are joined by one command") {
  const Row p;
  const auto ran = run({"join", p.path, "wall", "1", "3", "--also", "2"});
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  CHECK(ran.out == "Giornate 3 and 2 joined to 1\n");
  CHECK(run({"measure", p.path, "--json"}).json().at("walls").at(0).at("giornate").size() == 1);
}

TEST_CASE("a zone is changed by its id") {
  const Row p;
  REQUIRE(run({"zone", p.path, "wall", "--kind", "detail", "--name", "face", "--points", "-"},
              {"0.6 0.6\n0.9 0.6\n0.9 0.9\n", {}, false})
              .status == 0);
  const auto ran = run({"zone", p.path, "wall", "--change", "1", "--rate", "0.05", "--name", "head", "--json"});
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  CHECK(ran.json().at("name") == "head");
  REQUIRE(
      run({"zone", p.path, "wall", "--change", "1", "--points", "-"}, {"1 1\n1.3 1\n1.3 1.3\n", {}, false}).status ==
      0);
  CHECK(run({"measure", p.path, "--json"}).json().at("walls").at(0).at("zones").at(0).at("name") == "head");
  CHECK(run({"zone", p.path, "wall", "--change", "1"}).status == 2);
  CHECK(run({"zone", p.path, "wall", "--change", "9", "--name", "x"}).status == 1);
  CHECK(run({"zone", p.path, "wall", "--kind", "detail"}).status == 2);
}
