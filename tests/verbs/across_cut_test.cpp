// A round tower, driven by the program itself: places in the building on both sides of the cut.
#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "tests/verbs/program.h"

using namespace pontata;

namespace {

constexpr double kRadius = 2, kPi = std::numbers::pi;

// (x, y) = (-r cos phi, r sin phi), v = z; the cut at phi = 0.
std::string place(double phi, double z) {
  return fmt::format("{} {} {}\n", -kRadius * std::cos(phi), kRadius * std::sin(phi), z);
}
std::string box(double phi0, double z0, double phi1, double z1) {
  return place(phi0, z0) + place(phi1, z0) + place(phi1, z1) + place(phi0, z1);
}

std::string tower(const TemporaryFolder& folder) {
  const std::string p = folder.file("tower");
  REQUIRE(run({"wall", p, "drum", "--shape", "drum", "--span", "4m", "--height", "3m", "--angle", "360deg"}).status ==
          0);
  return p;
}

Ran outline(const std::string& p, const std::string& points) {
  return run({"outline", p, "drum", "--points", "-", "--json"}, {points, {}, false});
}

}  // namespace

TEST_CASE("an outline in X Y Z crosses the cut of a drum") {
  const TemporaryFolder folder;
  const std::string p = tower(folder);
  const auto made = outline(p, box(-0.25, 1, 0.25, 2));
  INFO(made.err);
  REQUIRE(made.status == 0);
  CHECK(made.json()["area_m2"].get<double>() == Approx(0.5 * kRadius).epsilon(1e-4));
  REQUIRE(outline(p, "0.5 1\n1.5 1\n1.5 2\n0.5 2\n").status == 0);  // beside it, u v
  const auto measured = run({"measure", p, "--json"}).json()["walls"][0];
  CHECK(measured["residual_m2"] == 0);
  CHECK(measured["giornate"][0]["perimeter_m"].get<double>() == Approx(2 + 2 * 0.5 * kRadius).epsilon(1e-4));
  CHECK(measured["giornate"][0]["neighbours"] == nlohmann::json{2});
  CHECK(run({"check", p}).status == 0);
  const auto divided =
      run({"divide", p, "drum", "1", "--points", "-", "--json"}, {place(-0.3, 1.4) + place(0.3, 1.6), {}, false});
  INFO(divided.err);
  CHECK(divided.status == 0);
  CHECK(run({"check", p}).status == 0);
  CHECK(run({"join", p, "drum", "1", "3"}).status == 0);
  CHECK(
      run({"zone", p, "drum", "--kind", "keep-whole", "--points", "-"}, {box(-0.1, 1.2, 0.1, 1.4), {}, false}).status ==
      0);
  CHECK(run({"check", p}).status == 0);
  const auto cartoon = run({"cartoon", p, "--out", folder.file("out"), "--json"});
  INFO(cartoon.err);
  REQUIRE(cartoon.status == 0);
  CHECK(cartoon.json()["giornate"][0]["max_strain"].get<double>() < 1e-4);
}

TEST_CASE("an outline all round the drum is refused and nothing is changed") {
  const TemporaryFolder folder;
  const std::string p = tower(folder);
  const auto made = outline(p, place(0.5, 1) + place(2.5, 1) + place(4.5, 1));
  CHECK(made.status == 1);
  CHECK(made.err.find("all the way round") != std::string::npos);
  CHECK(run({"measure", p, "--json"}).json()["walls"][0]["giornate"].empty());
}

TEST_CASE("a seam in X Y Z along the cut does not run round the wall") {
  const TemporaryFolder folder;
  const std::string p = tower(folder);
  REQUIRE(outline(p, box(-0.15, 1, 0.2, 2)).status == 0);
  const auto divided = run({"divide", p, "drum", "1", "--points", "-"}, {place(0, 1) + place(0, 2), {}, false});
  CHECK(divided.status == 1);
  CHECK(divided.err.find("does not divide") != std::string::npos);
  CHECK(run({"measure", p, "--json"}).json()["walls"][0]["giornate"].size() == 1);
}
