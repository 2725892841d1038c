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
         {"id", "number", "sheets", "max_strain", "least_strain", "misfit_mm", "relief_cuts", "seam_mismatch_mm",
          "worst_line_mm", "most_stretched", "most_shrunk", "mean_strain", "outline_mm_per_m"})
      CHECK(g.contains(key));
    CHECK(g.at("max_strain").get<double>() < 1e-3);  // a barrel unrolls without strain
    sheets += g.at("sheets").get<int>();
  }
  CHECK(json.at("sheets").get<int>() >= sheets);
  CHECK(json.at("files").size() >= 4);
  for (const auto& file : json.at("files")) CHECK(std::filesystem::file_size(file.get<std::string>()) > 100);
}

TEST_CASE("SVG and DXF: the report lists the files, and no file of the project is written over") {
  const Project p;
  for (const std::string format : {"svg", "dxf"}) {
    const std::string out = p.folder.file(format);
    const auto ran = run({"cartoon", p.path, "--out", out, "--paper", "A2", "--format", format, "--trial", "--json"});
    INFO(ran.err);
    REQUIRE(ran.status == 0);
    const auto json = ran.json();
    CHECK(json.at("paper_m2").get<double>() > 0);
    int listed = 0;
    for (const auto& file : json.at("files"))
      listed += file.get<std::string>().ends_with("." + format) && std::filesystem::exists(file.get<std::string>());
    CHECK(listed == (format == "dxf" ? 2 : json.at("sheets").get<int>()));
    CHECK_FALSE(std::filesystem::exists(out + "/cartoon.pdf"));
  }
  // a link with a sheet's name that leads to the project
  const std::string out = p.folder.file("linked"), before = bytes_of(p.path);
  std::filesystem::create_directory(out);
  std::filesystem::create_symlink(p.path, out + "/giornata-1.dxf");
  const auto refused = run({"cartoon", p.path, "--out", out, "--format", "dxf", "--trial"});
  CHECK(refused.status == 1);
  CHECK(is_one_error_line(refused, "giornata-1.dxf"));
  CHECK(bytes_of(p.path) == before);
  CHECK(std::distance(std::filesystem::directory_iterator(out), {}) == 1);
  CHECK(run({"cartoon", p.path, "--out", out, "--format", "bmp"}).status == 2);
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

TEST_CASE(
    "printing freezes the numbers: later splits get letters, and what changed is told until it is printed again") {
  const Project p;
  const std::string before = bytes_of(p.path);
  const auto trial = run({"cartoon", p.path, "--out", p.folder.file("trial"), "--trial", "--json"});
  REQUIRE(trial.status == 0);
  CHECK(trial.json().at("trial") == true);
  CHECK(bytes_of(p.path) == before);
  REQUIRE(run({"cartoon", p.path, "--out", p.folder.file("out")}).status == 0);
  CHECK(nlohmann::json::parse(bytes_of(p.path)).at("numbers_frozen") == true);
  const auto parted = run({"divide", p.path, "vault", "1", "--points", "-", "--json"}, {"1.2 1\n1.2 1.5\n", {}, false});
  INFO(parted.err);
  REQUIRE(parted.status == 0);
  CHECK(parted.json().at("label") == "1a");
  CHECK(parted.json().at("new_label") == "1b");
  CHECK(parted.json().at("new_number") == 1);
  const auto measured = run({"measure", p.path});
  CHECK(measured.out.find("giornata 1b was changed since its cartoon was printed: print it again") !=
        std::string::npos);
  CHECK(run({"review", p.path}).out.find("Print its cartoon again") != std::string::npos);
  const auto one = run({"cartoon", p.path, "--out", p.folder.file("again"), "--only", "1", "--json"});
  REQUIRE(one.status == 0);
  CHECK(one.json().at("giornate").at(0).at("label") == "1a");
  CHECK(one.err.find("giornata 1b was changed") != std::string::npos);
  const auto records = run({"measure", p.path, "--json"}).json().at("walls").at(0).at("giornate");
  CHECK(records.at(0).at("changed") == false);
  CHECK(records.at(2).at("changed") == true);
}

TEST_CASE("a project that cannot be written is printed only on trial") {
  const Project p;
  std::filesystem::permissions(p.folder.path(), std::filesystem::perms(0755));
  std::filesystem::permissions(p.path, std::filesystem::perms(0444));
  const TemporaryFolder out;
  std::filesystem::permissions(out.path(), std::filesystem::perms(0777));
  const RunOptions nobody{"", {}, true};
  const auto refused = run({"cartoon", p.path, "--out", out.file("sheets")}, nobody);
  CHECK(refused.status == 1);
  CHECK(is_one_error_line(refused, "p.pontata"));
  CHECK(refused.err.find("--trial") != std::string::npos);
  CHECK_FALSE(std::filesystem::exists(out.file("sheets")));
  const auto trial = run({"cartoon", p.path, "--out", out.file("sheets"), "--trial"}, nobody);
  INFO(trial.err);
  CHECK(trial.status == 0);
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

TEST_CASE("copies, picture, mirrored print and the view of the key plan are chosen on the command line") {
  const Project p;
  const std::string out = p.folder.file("cartoon");
  const auto ran =
      run({"cartoon", p.path, "--out", out, "--paper", "A1", "--trial", "--json", "--copies", "incision,sinopia",
           "--picture", "contours", "--mirrored", "--by", "week", "--eye", "1.5,0,0.3", "--look", "1.5,1.2,0.6"});
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  CHECK(ran.json().at("incision_sheets").get<int>() >= 2);
  CHECK(ran.json().at("sinopia_sheets") == ran.json().at("incision_sheets"));
  for (const char* name : {"incision.pdf", "sinopia-1.pdf", "book.pdf"})
    CHECK(std::filesystem::exists(out + "/" + name));
  for (const std::vector<std::string>& wrong : {std::vector<std::string>{"--copies", "gold"},
                                                {"--picture", "pale"},
                                                {"--by", "moon"},
                                                {"--eye", "0,0,1"},
                                                {"--eye", "0,0,1", "--look", "0,0,1"}}) {
    std::vector<std::string> words{"cartoon", p.path, "--out", p.folder.file("no")};
    words.insert(words.end(), wrong.begin(), wrong.end());
    CHECK(run(words).status == 2);
  }
  CHECK_FALSE(std::filesystem::exists(p.folder.file("no")));
}
