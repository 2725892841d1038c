// nudge, redraw and node, as a script calls them.
#include <catch2/catch.hpp>

#include "tests/verbs/program.h"

using namespace pontata;

namespace {

// Two giornate of 1 m2 with their seam at u = 1.5, v from 0.5 to 1.5.
struct Pair {
  TemporaryFolder folder;
  std::string path = folder.file("p.pontata");
  Pair() {
    add_flat_wall(path);
    for (const char* points : {"0.5 0.5\n1.5 0.5\n1.5 1.5\n0.5 1.5\n", "1.5 0.5\n2.5 0.5\n2.5 1.5\n1.5 1.5\n"})
      REQUIRE(run({"outline", path, "wall", "--points", "-"}, {points, {}, false}).status == 0);
  }
  double area(std::size_t i) const {
    return run({"measure", path, "--json"}).json().at("walls").at(0).at("giornate").at(i).at("area_m2");
  }
};

}  // namespace

TEST_CASE("nudge drags a seam and reports what moved") {
  const Pair p;
  const auto ran = run({"nudge", p.path, "wall", "--from", "1.5,1", "--by", "-5cm,0", "--reach", "30cm", "--json"});
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  CHECK(ran.json().at("moved_mm").get<double>() == Approx(50));
  CHECK(ran.json().at("giornate").size() == 2);
  CHECK(ran.json().at("giornate").at(1).at("label") == "2");
  CHECK(ran.json().at("line").size() > 10);
  CHECK(p.area(0) == Approx(1 - 0.05 * 0.3).margin(1e-6));
  CHECK(run({"check", p.path}).status == 0);
  CHECK(run({"nudge", p.path, "wall", "--from", "1.5,1", "--reach", "1m"}).status == 2);
  const std::string before = bytes_of(p.path);
  const auto refused = run({"nudge", p.path, "wall", "--from", "3.5,2.5", "--by", "1cm,0", "--reach", "1m"});
  CHECK(refused.status == 1);
  CHECK(is_one_error_line(refused, p.path));
  CHECK(bytes_of(p.path) == before);
}

TEST_CASE("redraw takes a line from standard input, node moves, adds and takes away") {
  const Pair p;
  const auto ran = run({"redraw", p.path, "wall", "--points", "-"}, {"1.5 0.7\n1.6 1\n1.5 1.3\n", {}, false});
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  CHECK(ran.out == "Seam between giornate 1 and 2 redrawn, by 100.0 mm at most\n");
  CHECK(p.area(0) == Approx(1.03).margin(1e-7));
  CHECK(run({"redraw", p.path, "wall", "--points", "-"}, {"1.5 0.7\n1.9 1\n", {}, false}).status == 1);
  REQUIRE(run({"node", p.path, "wall", "--at", "1.6,1", "--to", "1.4,1"}).status == 0);
  CHECK(p.area(0) == Approx(0.97).margin(1e-7));
  REQUIRE(run({"node", p.path, "wall", "--at", "1.4,1", "--remove"}).status == 0);
  CHECK(p.area(0) == Approx(1).margin(1e-7));
  REQUIRE(run({"node", p.path, "wall", "--at", "1.5,1", "--add"}).status == 0);
  CHECK(run({"node", p.path, "wall", "--at", "1.5,1", "--add"}).status == 1);
  CHECK(run({"node", p.path, "wall", "--at", "1.5,1", "--add", "--remove"}).status == 2);
  CHECK(run({"node", p.path, "wall", "--at", "1.5,1"}).status == 2);
}
