#include <catch2/catch.hpp>
#include <sstream>

#include "tests/verbs/program.h"

using namespace pontata;

namespace {

Ran address(const std::string& project, const std::string& points) {
  return run({"address", project, "wall", "--points", "-"}, {points, {}, false});
}

}  // namespace

TEST_CASE("chart places and places in the building lead to each other") {
  const TemporaryFolder folder;
  const std::string p = folder.file("p");
  REQUIRE(
      run({"wall", p, "wall", "--shape", "barrel", "--span", "4m", "--length", "6m", "--rise", "2m", "--at", "1,2,3"})
          .status == 0);
  const auto there = address(p, "# a place\n1.5 0.75\r\n\n  2 3.1415926535897931 # near the crown\n");
  REQUIRE(there.status == 0);
  const auto back = address(p, there.out);
  REQUIRE(back.status == 0);
  double u = 0, v = 0;
  std::istringstream lines(back.out);
  lines >> u >> v;
  CHECK(u == Approx(1.5).margin(1e-6));
  CHECK(v == Approx(0.75).margin(1e-6));
  lines >> u >> v;
  CHECK(u == Approx(2).margin(1e-6));
  CHECK(v == Approx(3.1415926535897931).margin(1e-6));
}

TEST_CASE("the crown of a semicircular barrel stands at half its arc, the radius above the springing") {
  // u = x; v = arc length from the springing at y = +span/2 over the crown: half of pi r.
  const TemporaryFolder folder;
  const std::string p = folder.file("p");
  REQUIRE(run({"wall", p, "wall", "--shape", "barrel", "--span", "4m", "--length", "6m", "--rise", "2m"}).status == 0);
  const auto ran = address(p, "2 3.14159265358979\n");
  double x = 0, y = 0, z = 0;
  std::istringstream(ran.out) >> x >> y >> z;
  CHECK(x == Approx(2).margin(1e-4));
  CHECK(y == Approx(0).margin(1e-4));
  CHECK(z == Approx(2).margin(2e-4));
}

TEST_CASE("a malformed or far point is named by its line") {
  const TemporaryFolder folder;
  const std::string p = folder.file("p");
  add_flat_wall(p);
  for (const char* bad :
       {"1 1\nnan 2\n", "1 1\n1 inf\n", "1 1\n1\n", "1 1\n1 2 3 4\n", "1 1\n1,5 2\n", "1 1\n1 x\n", "1 1\n1e999 1\n"}) {
    const auto ran = address(p, bad);
    CHECK(ran.status == 1);
    CHECK(ran.out.empty());
    CHECK(is_one_error_line(ran, "line 2"));
  }
  // The wall stands in the plane y = 0: 21 mm before it is too far, 19 mm is not.
  CHECK(address(p, "1 0.021 1\n").status == 1);
  CHECK(address(p, "1 0.019 1\n").status == 0);
  CHECK(address(p, "9 9\n").status == 1);
}

TEST_CASE("numbers have a decimal point in every locale") {
  const TemporaryFolder folder;
  const std::string p = folder.file("p");
  add_flat_wall(p);
  RunOptions options;
  options.input = "0.25 0.75\n";
  options.environment = {{"LC_ALL", "de_DE.UTF-8"}, {"LANG", "de_DE.UTF-8"}};
  CHECK(run({"address", p, "wall", "--points", "-"}, options).out == "0.25 0 0.75\n");
  options.environment["LC_ALL"] = "C";
  CHECK(run({"address", p, "wall", "--points", "-"}, options).out == "0.25 0 0.75\n");
}
