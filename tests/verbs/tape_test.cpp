#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

#include "tests/verbs/program.h"

using namespace pontata;

namespace {

Ran tape(const std::string& project, const std::string& points, bool json = true) {
  std::vector<std::string> arguments{"tape", project, "wall", "--points", "-"};
  if (json) arguments.push_back("--json");
  return run(arguments, {points, {}, false});
}

}  // namespace

TEST_CASE("the tape over a barrel is its arc, through the air the span, between equal heights none") {
  const TemporaryFolder folder;
  const std::string p = folder.file("p");
  REQUIRE(run({"wall", p, "wall", "--shape", "barrel", "--span", "4m", "--length", "6m", "--rise", "2m"}).status == 0);
  // From springing to springing of a half circle of 2 m, then 3 m along it.
  const auto ran = tape(p, "1 2 0\n1 -2 0\n4 -2 0\n");
  REQUIRE(ran.status == 0);
  const auto json = nlohmann::json::parse(ran.out);
  REQUIRE(json["legs"].size() == 2);
  CHECK(json["legs"][0]["over_m"].get<double>() == Approx(2 * std::acos(-1)).epsilon(1e-4));
  CHECK(json["legs"][0]["through_m"].get<double>() == Approx(4).epsilon(1e-6));
  CHECK(json["legs"][0]["height_m"].get<double>() == Approx(0).margin(1e-6));
  CHECK(json["legs"][1]["over_m"].get<double>() == Approx(3).epsilon(1e-6));
  CHECK(json["first_to_last_m"].get<double>() == Approx(5).epsilon(1e-6));
  CHECK(json["over_m"].get<double>() == Approx(2 * std::acos(-1) + 3).epsilon(1e-4));
  const auto text = tape(p, "0 0\n0 1\n", false);
  CHECK(text.status == 0);
  CHECK(text.out.find("over the surface m") != std::string::npos);
  CHECK(text.out.find("1.0000") != std::string::npos);
}

TEST_CASE("a tape with one place or a place beside the wall is refused in one line") {
  const TemporaryFolder folder;
  const std::string p = folder.file("p");
  add_flat_wall(p);
  for (const char* bad : {"", "1 1\n", "1 1\n99 1\n"}) {
    const auto ran = tape(p, bad);
    CHECK(ran.status == 1);
    CHECK(ran.out.empty());
    CHECK(is_one_error_line(ran, "standard input"));
  }
}
