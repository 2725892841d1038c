// Two walls that meet, told on the command line; numbers run across them.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/verbs/program.h"

using namespace pontata;
using Json = nlohmann::json;

TEST_CASE("measure tells which walls and giornate meet, and numbers run across walls") {
  const TemporaryFolder folder;
  const std::string p = folder.file("p");
  const auto wall = [&](const char* name, const char* at, const char* turn) {
    REQUIRE(run({"wall", p, name, "--shape", "flat", "--width", "3m", "--height", "2m", "--at", at, "--turn", turn})
                .status == 0);
  };
  wall("nave", "1,2,0", "0");
  wall("apse", "4,2,0", "90");
  const auto outline = [&](const char* name, const char* points) {
    REQUIRE(run({"outline", p, name, "--points", "-"}, {points, {}, false}).status == 0);
  };
  outline("nave", "2 0\n3 0\n3 1.2\n2 1.2\n");
  outline("apse", "0 0.5\n1 0.5\n1 2\n0 2\n");
  const auto json = Json::parse(run({"measure", p, "--json"}).out);
  const Json& nave = json["walls"][0];
  // The one that reaches higher comes first.
  CHECK(nave["giornate"][0]["number"] == 2);
  CHECK(json["walls"][1]["giornate"][0]["number"] == 1);
  REQUIRE(nave["meets"].size() == 1);
  CHECK(nave["meets"][0]["wall"] == "apse");
  CHECK(nave["meets"][0]["length_m"].get<double>() == Approx(2));
  const Json& meets = nave["giornate"][0]["meets"];
  REQUIRE(meets.size() == 1);
  CHECK(meets[0]["wall"] == "apse");
  CHECK(meets[0]["giornate"] == Json::array({2}));
  CHECK(meets[0]["length_m"].get<double>() == Approx(1.2));
  const std::string text = run({"measure", p}).out;
  CHECK(text.find("giornata 2 meets wall apse here: 1.20 m (giornata 1)") != std::string::npos);
  CHECK(text.find("giornata 1 meets wall nave here: 1.50 m (giornata 2)") != std::string::npos);
}
