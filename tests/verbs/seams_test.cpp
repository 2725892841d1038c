// The verb seams: files out and in, one step, nothing written when it fails.
#include <catch2/catch.hpp>

#include "tests/verbs/program.h"

using namespace pontata;

namespace {

struct Job {
  TemporaryFolder folder;
  std::string project = folder.file("p.pontata");
  Job() { add_flat_wall(project); }
  std::string svg(const std::string& inner) const {
    write_bytes(folder.file("in.svg"), "<svg width=\"4m\" viewBox=\"0 0 4 3\" height=\"3000mm\">" + inner + "</svg>");
    return folder.file("in.svg");
  }
  Ran in(const std::string& file, std::vector<std::string> more = {}) const {
    std::vector<std::string> all{"seams", project, "wall", "--in", file};
    all.insert(all.end(), more.begin(), more.end());
    return run(all);
  }
};

// What measure tells of each giornata but its id and its neighbours' ids, by number.
std::map<int, nlohmann::json> by_number(const std::string& project) {
  std::map<int, nlohmann::json> found;
  const nlohmann::json all = run({"measure", project, "--json"}).json();
  for (nlohmann::json giornata : all["walls"][0]["giornate"]) {
    giornata.erase("id");
    giornata.erase("neighbours");
    found[giornata["number"].get<int>()] = giornata;
  }
  return found;
}

}  // namespace

TEST_CASE("seams go out and come in through the verb, with the same measures") {
  const Job job;
  const std::string figures = R"(<rect id="a" x="1" y="1" width="1" height="1"><title>Ángel</title></rect>
      <rect x="2" y="1" width="1" height="1"/><path d="M1 1.5H3"/>)";
  const Ran in = job.in(job.svg(figures), {"--json"});
  REQUIRE(in.status == 0);
  CHECK(in.json()["giornate"].size() == 2);
  CHECK(in.json()["giornate"][0]["name"] == "Ángel");
  CHECK(in.json()["giornate"][0]["area_m2"].get<double>() == Approx(1));
  CHECK(in.json()["divided"].size() == 2);
  const auto measured = by_number(job.project);
  REQUIRE(measured.size() == 4);
  for (const std::string name : {"out.svg", "out.dxf"}) {
    const Ran out = run({"seams", job.project, "wall", "--out", job.folder.file(name), "--json"});
    REQUIRE(out.status == 0);
    CHECK(out.json()["giornate"] == 4);
    const Job again;
    REQUIRE(again.in(job.folder.file(name)).status == 0);
    CHECK(by_number(again.project) == measured);
    CHECK(run({"check", again.project}).status == 0);
  }
}

TEST_CASE("a bad drawing is refused in one line that names file, path and remedy, and nothing is written") {
  const Job job;
  const std::string before = bytes_of(job.project);
  const std::string file =
      job.svg(R"(<rect x="1" y="1" width="1" height="1"/><rect id="b" x="5" y="1" width="1" height="1"/>)");
  const Ran refused = job.in(file);
  CHECK(refused.status == 1);
  CHECK(is_one_error_line(refused, "in.svg"));
  CHECK(refused.err.find("path 2 (b)") != std::string::npos);
  CHECK(bytes_of(job.project) == before);
  const Ran kept = job.in(file, {"--skip-bad"});
  CHECK(kept.status == 0);
  CHECK(kept.err.find("left out: path 2 (b)") != std::string::npos);
  for (const std::string name : {"none.svg", "none.dxf", "p.pontata"}) {
    const Ran missing = job.in(job.folder.file(name));
    CHECK(missing.status == 1);
    CHECK(is_one_error_line(missing, name));
  }
}

TEST_CASE("wrong usage of seams is told, and files of the project are not written over") {
  const Job job;
  for (const std::vector<std::string>& wrong : {std::vector<std::string>{},
                                                {"--out", "a.svg", "--in", "b.svg"},
                                                {"--out", "a.txt"},
                                                {"--out", "a.svg", "--take"},
                                                {"--in", "a.svg", "--format", "svg"},
                                                {"--in", "a.svg", "--unit", "ell"},
                                                {"--out", "a", "--format", "pdf"}}) {
    std::vector<std::string> all{"seams", job.project, "wall"};
    all.insert(all.end(), wrong.begin(), wrong.end());
    CHECK(run(all).status == 2);
  }
  const std::string before = bytes_of(job.project);
  CHECK(run({"seams", job.project, "wall", "--out", job.project, "--format", "svg"}).status == 1);
  CHECK(bytes_of(job.project) == before);
  CHECK(run({"seams", job.project, "wall", "--out", job.folder.file("no/such/folder/a.svg")}).status == 1);
}

TEST_CASE("an outline brought in with --take takes the overlap") {
  const Job job;
  REQUIRE(job.in(job.svg(R"(<rect x="1" y="1" width="1" height="1"/>)")).status == 0);
  const std::string second = job.svg(R"(<rect x="1.5" y="1" width="1" height="1"/>)");
  const Ran over = job.in(second, {"--take", "--json"});
  INFO(over.err);
  REQUIRE(over.status == 0);
  CHECK(over.json()["giornate"][0]["area_m2"].get<double>() == Approx(1));
  const auto measured = run({"measure", job.project, "--json"}).json()["walls"][0]["giornate"];
  CHECK(measured[0]["area_m2"].get<double>() == Approx(0.5));
}
