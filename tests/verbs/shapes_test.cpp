// Every shape on the command line: its flags, its places, its area, and what is wrong usage.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <sstream>

#include "tests/verbs/program.h"

using namespace pontata;

namespace {

constexpr double kPi = std::numbers::pi;

struct Asked {
  const char* shape;
  std::vector<std::string> flags;
  double area_m2;        // closed forms, see tests/outside
  double u, v, x, y, z;  // by the table "Shapes and their charts"
};

std::vector<std::string> wall(const std::string& project, const Asked& asked) {
  std::vector<std::string> out{"wall", project, "wall", "--json", "--shape", asked.shape};
  out.insert(out.end(), asked.flags.begin(), asked.flags.end());
  return out;
}

std::vector<double> addressed(const std::string& project, const std::vector<double>& numbers) {
  std::ostringstream line;
  line.precision(17);
  for (const double number : numbers) line << number << " ";
  const auto ran = run({"address", project, "wall", "--points", "-"}, {line.str() + "\n", {}, false});
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  std::istringstream in(ran.out);
  std::vector<double> out;
  for (double number = 0; in >> number;) out.push_back(number);
  return out;
}

std::vector<Asked> every_shape() {
  const double root2 = std::sqrt(2.0), root3 = std::sqrt(3.0), s = 2 * root2 * kPi / 3;
  return {
      {"flat", {"--width", "3m", "--height", "200cm"}, 6, 1, 0.5, 1, 0, 0.5},
      {"barrel", {"--span", "4", "--length", "6", "--rise", "2"}, 37.69911, 1, kPi / 3, 1, root3, 1},
      {"elliptical-barrel", {"--span", "4", "--length", "6", "--rise", "1"}, 6 * 4.844224110, 3, 2.422112055, 3, 0, 1},
      {"pointed-barrel",
       {"--span", "4", "--length", "6", "--radius", "4"},
       50.26548,
       1,
       2 * kPi / 3,
       1,
       2 * root3 - 2,
       2},
      {"groin", {"--side", "4", "--rise", "2"}, 18.26548, 3, 2.5, 1, -0.5, 2 * std::sqrt(1 - 1.0 / 16)},
      {"groin", {"--span", "4", "--length", "4", "--rise", "2"}, 18.26548, 3, 1, 1, 1, root3},
      {"cloister", {"--side", "4", "--rise", "2"}, 32, kPi * 4 / 3, kPi - kPi / 6, 1, 0.5, root3},
      {"sail",
       {"--side", "4"},
       20.82064,
       kPi * root2 / root2 + 2 * root2 * kPi / 4 * 0.999,
       kPi,
       2 * root2 * std::sin(kPi / 4 * 0.999),
       0,
       2 * root2 * std::cos(kPi / 4 * 0.999)},
      {"dome", {"--span", "6", "--rise", "3"}, 2 * kPi * 9, 1.5 * kPi + 0.75 * kPi, 1.5 * kPi, 3 / root2, 0, 3 / root2},
      {"apse", {"--span", "4", "--height", "3"}, 10 * kPi, kPi, 3 + kPi / 2, 0, root2, 3 + root2},
      {"drum", {"--span", "4", "--height", "3", "--angle", "360deg"}, 12 * kPi, kPi, 1, 0, 2, 1},
      {"lunette", {"--span", "4", "--rise", "2"}, 2 * kPi, 2, 1.5, 2, 0, 1.5},
      {"pendentive", {"--side", "4"}, 1.52456, s / root2, kPi - s / root2, root3, root3, root2},
      {"cone",
       {"--span", "4", "--top-span", "2", "--height", "3.872983346207417", "--angle", "180"},
       6 * kPi,
       8 * std::sin(kPi / 8),
       1,
       0,
       1.75,
       3.872983346207417 / 4},
      {"annular",
       {"--inner", "3", "--outer", "7", "--angle", "90deg"},
       49.34802,
       5 * kPi / 4,
       kPi,
       -5 / root2,
       5 / root2,
       2}};
}

}  // namespace

TEST_CASE("every shape is made from its flags, with its area, and its places lead to the building and back") {
  const TemporaryFolder folder;
  int number = 0;
  for (const auto& asked : every_shape()) {
    INFO(asked.shape);
    const std::string p = folder.file(std::to_string(number++) + ".pontata");
    const auto made = run(wall(p, asked));
    INFO(made.err);
    REQUIRE(made.status == 0);
    CHECK(made.json()["area_m2"].get<double>() == Approx(asked.area_m2).epsilon(1e-4));
    const auto place = addressed(p, {asked.u, asked.v});
    REQUIRE(place.size() == 3);
    CHECK(std::hypot(place[0] - asked.x, place[1] - asked.y, place[2] - asked.z) < 3e-4);
    const auto chart = addressed(p, {asked.x, asked.y, asked.z});
    REQUIRE(chart.size() == 2);
    CHECK(std::hypot(chart[0] - asked.u, chart[1] - asked.v) < 2e-3);
  }
}

TEST_CASE("what a cusp leaves out and an unusual size are told, in words and in JSON") {
  const TemporaryFolder folder;
  const std::string p = folder.file("p.pontata");
  const auto groin = run({"wall", p, "a", "--shape", "groin", "--side", "4m", "--rise", "2m"});
  CHECK(groin.out.find("the last 5 mm of each foot") != std::string::npos);
  CHECK(groin.out.find("cm²") != std::string::npos);
  const auto tiny = run({"wall", p, "b", "--json", "--shape", "sail", "--side", "4cm"});
  REQUIRE(tiny.json()["notes"].size() == 1);
  CHECK(tiny.json()["notes"][0].get<std::string>().find("is the unit right?") != std::string::npos);
  CHECK(run({"wall", p, "c", "--json", "--shape", "sail", "--side", "4m"}).json()["notes"].empty());
}

TEST_CASE("measures that are missing or belong to another shape are wrong usage, impossible ones are refused") {
  const TemporaryFolder folder;
  const std::string p = folder.file("p.pontata");
  const std::vector<std::vector<std::string>> wrong{{"groin", "--rise", "2"},
                                                    {"groin", "--side", "4"},
                                                    {"groin", "--side", "4", "--span", "4", "--rise", "2"},
                                                    {"groin", "--side", "4", "--length", "4", "--rise", "2"},
                                                    {"barrel", "--side", "4", "--rise", "2"},
                                                    {"drum", "--span", "4", "--height", "3"},
                                                    {"drum", "--span", "4", "--height", "3", "--angle", "1m"},
                                                    {"drum", "--span", "4", "--height", "3", "--angle", "0"},
                                                    {"cone", "--span", "4", "--height", "3", "--angle", "90"},
                                                    {"sail", "--side", "4", "--rise", "2"}};
  const auto made = [&](const std::vector<std::string>& shape) {
    std::vector<std::string> arguments{"wall", p, "wall", "--shape"};
    arguments.insert(arguments.end(), shape.begin(), shape.end());
    return run(arguments);
  };
  for (const auto& shape : wrong) {
    const auto ran = made(shape);
    CHECK(ran.status == 2);
    CHECK(ran.out.empty());
  }
  const auto turned = made({"drum", "--span", "4", "--height", "3", "--angle", "400deg"});
  CHECK(turned.status == 1);
  CHECK(is_one_error_line(turned, "drum angle"));
  const auto unmet = made({"pointed-barrel", "--span", "4", "--length", "3", "--radius", "1"});
  CHECK(unmet.status == 1);
  CHECK(is_one_error_line(unmet, "pointed-barrel radius"));
  CHECK(folder.entries() == 0);
  const auto help = run({"wall", "--help"});
  for (const auto& asked : every_shape()) CHECK(help.out.find(asked.shape) != std::string::npos);
  for (const char* flag : {"--radius", "--side", "--top-span", "--inner", "--outer", "--angle"})
    CHECK(help.out.find(flag) != std::string::npos);
}
