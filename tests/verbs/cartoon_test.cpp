#include <catch2/catch.hpp>

#include "tests/verbs/program.h"

using namespace pontata;

namespace {

struct Project {
  TemporaryFolder folder;
  std::string path = folder.file("p.pontata");
  Project() {
    REQUIRE(
        run({"wall", path, "vault", "--shape", "barrel", "--span", "3m", "--length", "3m", "--rise", "1m"}).status ==
        0);
    for (const char* points : {"1 1\n1.6 1\n1.6 1.5\n1 1.5\n", "1.6 1\n2.2 1\n2.2 1.5\n1.6 1.5\n"})
      REQUIRE(run({"outline", path, "vault", "--points", "-"}, {points, {}, false}).status == 0);
  }
};

}  // namespace

TEST_CASE("the cartoon reports the documented keys and leaves the files it names") {
  const Project p;
  const std::string out = p.folder.file("cartoon");
  const auto ran = run({"cartoon", p.path, "--out", out, "--paper", "A3", "--json"});
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  const auto json = ran.json();
  REQUIRE(json.at("giornate").size() == 2);
  int sheets = 0;
  for (const auto& g : json.at("giornate")) {
    for (const char* key :
         {"id", "number", "sheets", "max_strain", "least_strain", "misfit_mm", "relief_cuts", "seam_mismatch_mm"})
      CHECK(g.contains(key));
    CHECK(g.at("max_strain").get<double>() < 1e-3);  // a barrel unrolls without strain
    sheets += g.at("sheets").get<int>();
  }
  CHECK(json.at("sheets").get<int>() >= sheets);
  CHECK(json.at("files").size() >= 4);
  for (const auto& file : json.at("files")) CHECK(std::filesystem::file_size(file.get<std::string>()) > 100);
}

TEST_CASE("only the wanted giornate are printed, unknown ones refused with nothing written") {
  const Project p;
  const auto one = run({"cartoon", p.path, "--out", p.folder.file("one"), "--only", "2", "--json"});
  INFO(one.err);
  REQUIRE(one.status == 0);
  REQUIRE(one.json().at("giornate").size() == 1);
  CHECK(one.json().at("giornate").at(0).at("id") == 2);
  const auto none = run({"cartoon", p.path, "--out", p.folder.file("none"), "--only", "7"});
  CHECK(none.status == 1);
  CHECK(is_one_error_line(none, "7"));
  CHECK_FALSE(std::filesystem::exists(p.folder.file("none")));
}

TEST_CASE("a cartoon without giornate, or into a place that is no folder, is refused") {
  const TemporaryFolder folder;
  add_flat_wall(folder.file("empty"));
  const auto empty = run({"cartoon", folder.file("empty"), "--out", folder.file("out")});
  CHECK(empty.status == 1);
  CHECK(is_one_error_line(empty, "empty"));
  CHECK_FALSE(std::filesystem::exists(folder.file("out")));
  const Project p;
  write_bytes(folder.file("file"), "x");
  const auto blocked = run({"cartoon", p.path, "--out", folder.file("file")});
  CHECK(blocked.status == 1);
  CHECK(is_one_error_line(blocked, "file"));
  CHECK(bytes_of(folder.file("file")) == "x");
}
