// Taking giornate and zones away.
#include <catch2/catch.hpp>

#include "tests/verbs/program.h"

using namespace pontata;

namespace {

struct Zoned {
  TemporaryFolder folder;
  std::string path = folder.file("p.pontata");
  Zoned() {
    add_flat_wall(path);
    REQUIRE(run({"outline", path, "wall", "--points", "-"}, {"0.5 0.5\n1.5 0.5\n1.5 1.5\n", {}, false}).status == 0);
  }
  Ran zone(const std::string& kind, const std::string& points) const {
    return run({"zone", path, "wall", "--kind", kind, "--points", "-"}, {points, {}, false});
  }
  nlohmann::json wall() const { return run({"measure", path, "--json"}).json().at("walls").at(0); }
};

}  // namespace

TEST_CASE("a giornata taken away gives its place back") {
  const Zoned p;
  const double whole = p.wall().at("area_m2");
  const auto ran = run({"remove", p.path, "1", "--json"});
  REQUIRE(ran.status == 0);
  CHECK(ran.json().at("id") == 1);
  CHECK(p.wall().at("giornate").empty());
  CHECK(p.wall().at("unassigned_m2").get<double>() == Approx(whole));
  const auto again = run({"remove", p.path, "1"});
  CHECK(again.status == 1);
  CHECK(is_one_error_line(again, p.path));
  CHECK(run({"check", p.path}).status == 0);
}

TEST_CASE("a zone tells its id, is listed with it and can be taken away by it") {
  const Zoned p;
  CHECK(p.zone("keep-whole", "2 1\n3 1\n3 2\n").out.find("id 1") != std::string::npos);
  REQUIRE(p.zone("detail", "2 2\n3 2\n3 3\n").status == 0);
  CHECK(p.wall().at("zones").size() == 2);
  CHECK(run({"measure", p.path}).out.find("zone 2: detail") != std::string::npos);
  REQUIRE(run({"remove", p.path, "--zone", "1"}).status == 0);
  REQUIRE(p.wall().at("zones").size() == 1);
  CHECK(p.wall().at("zones").at(0).at("id") == 2);
  CHECK(run({"remove", p.path, "--zone", "1"}).status == 1);
  CHECK(p.wall().at("giornate").size() == 1);
}

TEST_CASE("the same zone is not added twice, wherever its outline begins and whichever way it goes") {
  const Zoned p;
  REQUIRE(p.zone("keep-whole", "2 1\n3 1\n3 2\n").status == 0);
  const std::string before = bytes_of(p.path);
  for (const char* points : {"2 1\n3 1\n3 2\n", "3 1\n3 2\n2 1\n", "3 2\n3 1\n2 1\n"}) {
    const auto ran = p.zone("keep-whole", points);
    CHECK(ran.status == 1);
    CHECK(is_one_error_line(ran, "id 1"));
  }
  CHECK(bytes_of(p.path) == before);
  CHECK(p.zone("detail", "2 1\n3 1\n3 2\n").status == 0);  // of another kind
}
