// What a verb must never write over, and changes made at the same moment.
#include <catch2/catch.hpp>
#include <future>

#include "tests/fixtures/places.h"
#include "tests/verbs/program.h"

using namespace pontata;

namespace {

// A project with a wall from a scan that bears a picture, and one giornata.
struct Sources {
  TemporaryFolder folder;
  std::string path = folder.file("p.pontata"), picture = folder.file("key-plan.png"), scan = folder.file("scan.glb");
  std::map<std::string, std::string> before;
  Sources() {
    write_bytes(scan, glb_square(2));
    REQUIRE(run({"wall", path, "niche", "--scan", scan}).status == 0);
    write_disc_picture(picture, 80, 60);
    REQUIRE(run({"picture", path, "niche", picture}).status == 0);
    REQUIRE(outline("0.2 0.2\n1 0.2\n1 1\n").status == 0);
    for (const auto& file : {path, picture, scan}) before[file] = bytes_of(file);
  }
  Ran outline(const std::string& points) const {
    return run({"outline", path, "niche", "--points", "-"}, {points, {}, false});
  }
  void check_kept(const Ran& ran, const std::string& named, std::size_t entries) const {
    INFO(ran.err);
    CHECK(ran.status == 1);
    CHECK(ran.out.empty());
    CHECK(is_one_error_line(ran, named));
    for (const auto& [file, bytes] : before) CHECK(bytes_of(file) == bytes);
    CHECK(folder.entries() == entries);
  }
};

}  // namespace

TEST_CASE("no report, picture or export is written over the project, its picture or its scan") {
  const Sources s;
  for (const auto& [file, bytes] : s.before) {
    for (const char* verb : {"measure", "plaster", "calendar", "review"})
      s.check_kept(run({verb, s.path, "--csv", file}), file, 3);
    s.check_kept(run({"calendar", s.path, "--ics", file}), file, 3);
    s.check_kept(run({"export", s.path, "--out", file}), file, 3);
  }
  s.check_kept(run({"render", s.path, "--out", s.picture}), s.picture, 3);
  s.check_kept(run({"cartoon", s.path, "--out", s.folder.path()}), s.picture, 3);
}

TEST_CASE("another name of the same file is known") {
  const Sources s;
  s.check_kept(run({"measure", s.path, "--csv", s.folder.path() + "/./p.pontata"}), "p.pontata", 3);
  std::filesystem::create_symlink(s.scan, s.folder.file("link"));
  s.check_kept(run({"export", s.path, "--out", s.folder.file("link")}), "link", 4);
  std::filesystem::create_hard_link(s.path, s.folder.file("hard"));
  s.check_kept(run({"calendar", s.path, "--ics", s.folder.file("hard")}), "hard", 5);
}

TEST_CASE("of two files neither is written when one cannot be") {
  const Sources s;
  const std::string bad = s.folder.file("none") + "/x.csv", good = s.folder.file("good");
  s.check_kept(run({"calendar", s.path, "--ics", good, "--csv", bad}), bad, 3);
  s.check_kept(run({"calendar", s.path, "--ics", bad, "--csv", good}), bad, 3);
  s.check_kept(run({"calendar", s.path, "--ics", good, "--csv", s.folder.file("./good")}), "good", 3);
  CHECK(run({"calendar", s.path, "--ics", good, "--csv", s.folder.file("table")}).status == 0);
  CHECK(s.folder.entries() == 5);
}

TEST_CASE("two changes at the same moment are both kept") {
  const TemporaryFolder folder;
  const std::string path = folder.file("p.pontata");
  add_flat_wall(path);
  const std::vector<std::string> outlines{"0.5 0.5\n1.5 0.5\n1.5 1.5\n", "2 0.5\n3 0.5\n3 1.5\n"};
  for (std::size_t i = 0; i < outlines.size(); ++i) write_bytes(folder.file("o" + std::to_string(i)), outlines[i]);
  const auto draw = [&](int i) {
    const std::string command = fixtures::program_path() + " outline " + path + " wall --points " +
                                folder.file("o" + std::to_string(i)) + " >/dev/null 2>&1";
    return std::system(command.c_str());
  };
  auto first = std::async(std::launch::async, draw, 0);
  CHECK(draw(1) == 0);
  CHECK(first.get() == 0);
  CHECK(run({"measure", path, "--json"}).json().at("totals").at("giornate") == 2);
  CHECK(folder.entries() == 3);
}
