// What is wrong with a file or a drawing: one line, status 1, and the project's bytes as they were.
#include <sys/stat.h>

#include <catch2/catch.hpp>

#include "tests/verbs/program.h"

using namespace pontata;

namespace {

// A project with one wall and one giornata.
struct Project {
  TemporaryFolder folder;
  std::string path = folder.file("p.pontata");
  std::string before;
  Project() {
    add_flat_wall(path);
    REQUIRE(outline("0.5 0.5\n1.5 0.5\n1.5 1.5\n0.5 1.5\n").status == 0);
    before = bytes_of(path);
  }
  Ran outline(const std::string& points) const {
    return run({"outline", path, "wall", "--points", "-"}, {points, {}, false});
  }
  void check_refused(const Ran& ran, const std::string& named) const {
    INFO(ran.err);
    CHECK(ran.status == 1);
    CHECK(ran.out.empty());
    CHECK(is_one_error_line(ran, named));
    CHECK(bytes_of(path) == before);
  }
  Ran scan(const std::string& bytes) const {
    write_bytes(folder.file("scan.glb"), bytes);
    return run({"wall", path, "niche", "--scan", folder.file("scan.glb")});
  }
};

}  // namespace

TEST_CASE("a truncated, empty or foreign scan is refused by name") {
  const Project p;
  const std::string glb = glb_square(2);
  for (const std::size_t length :
       {std::size_t{0}, std::size_t{3}, std::size_t{12}, std::size_t{40}, glb.size() - 30, glb.size() - 1})
    p.check_refused(p.scan(glb.substr(0, length)), "scan.glb");
  p.check_refused(p.scan("a letter about a wall\n"), "scan.glb");
}

TEST_CASE("a scan with a coordinate that is no number is refused by name") {
  const Project p;
  p.check_refused(p.scan(glb_square(2, true)), "scan.glb");
}

TEST_CASE("a scan in the wrong unit is refused") {
  const Project p;
  write_bytes(p.folder.file("scan.glb"), glb_square(2));
  p.check_refused(run({"wall", p.path, "niche", "--scan", p.folder.file("scan.glb"), "--unit", "mm"}), "scan.glb");
}

TEST_CASE("a file that is no picture, a cut one and a missing one are refused by name") {
  const Project p;
  const std::string picture = p.folder.file("picture.png");
  write_bytes(picture, "this is no picture");
  p.check_refused(run({"picture", p.path, "wall", picture}), "picture.png");
  write_disc_picture(picture, 60, 45);
  const std::string whole = bytes_of(picture);
  write_bytes(picture, whole.substr(0, whole.size() / 2));
  p.check_refused(run({"picture", p.path, "wall", picture}), "picture.png");
  p.check_refused(run({"picture", p.path, "wall", p.folder.file("none.png")}), "none.png");
  p.check_refused(run({"picture", p.path, "wall", p.folder.path()}), p.folder.path());
}

TEST_CASE("an outline that crosses itself is refused with the place") {
  const Project p;
  // A bow tie crossing at 2.5,1.
  const auto ran = p.outline("2 0.5\n3 1.5\n3 0.5\n2 1.5\n");
  p.check_refused(ran, "standard input");
  CHECK(ran.err.find("2.5") != std::string::npos);
}

TEST_CASE("an outline far outside the wall is refused with the place, one just outside is brought to the border") {
  const Project p;
  p.check_refused(p.outline("1 2\n6 2\n6 2.5\n1 2.5\n"), "standard input");
  p.check_refused(p.outline("2 2\n4.006 2\n4.006 2.5\n2 2.5\n"), "standard input");
  const auto ran =
      run({"outline", p.path, "wall", "--points", "-", "--json"}, {"2 2\n4.004 2\n4.004 2.5\n2 2.5\n", {}, false});
  REQUIRE(ran.status == 0);
  CHECK(ran.json().at("area_m2").get<double>() == Approx(1.0).margin(1e-6));  // 2 m by 0.5 m of wall
}

TEST_CASE("too few points, too little area, a covered place and broken lines are refused") {
  const Project p;
  p.check_refused(p.outline("1 2\n2 2\n"), "standard input");
  p.check_refused(p.outline(""), "standard input");
  p.check_refused(p.outline("2 2\n2.009 2\n2.009 2.009\n2 2.009\n"), "standard input");  // 0.81 cm2
  p.check_refused(p.outline("0.6 0.6\n1.4 0.6\n1.4 1.4\n0.6 1.4\n"), "standard input");
  p.check_refused(p.outline("2 2\n3 nan\n3 3\n"), "line 2");
  p.check_refused(run({"outline", p.path, "wall", "--points", p.folder.file("none.txt")}), "none.txt");
}

TEST_CASE("a line to hug without points is refused") {
  const Project p;
  for (const char* points : {"", "1 2\n"})
    p.check_refused(run({"hug", p.path, "wall", "--points", "-"}, {points, {}, false}), "standard input");
  p.check_refused(run({"hug", p.path, "wall", "--points", "-", "--closed"}, {"1 2\n2 2\n", {}, false}),
                  "standard input");
}

TEST_CASE("unknown walls, giornate and settings are refused") {
  const Project p;
  p.check_refused(run({"outline", p.path, "vault", "--points", "-"}, {"1 2\n2 2\n2 2.5\n", {}, false}), "vault");
  p.check_refused(run({"join", p.path, "wall", "1", "2"}), "p.pontata");
  p.check_refused(run({"set", p.path, "colour", "red"}), "colour");
  p.check_refused(run({"set", p.path, "colour"}), "colour");
  p.check_refused(run({"set", p.path, "rate", "fast"}), "p.pontata");
  p.check_refused(run({"set", p.path, "window.base", "-3"}), "p.pontata");
  p.check_refused(run({"set", p.path, "start", "2027-02-30"}), "p.pontata");
  p.check_refused(run({"set", p.path, "mix.first", "1:2 handfuls"}), "p.pontata");
  p.check_refused(run({"wall", p.path, "wall", "--shape", "flat", "--width", "1", "--height", "1"}), "wall");
  p.check_refused(run({"wall", p.path, "big", "--shape", "barrel", "--span", "2", "--length", "4", "--rise", "3"}),
                  "p.pontata");
}

TEST_CASE("a project that is cut short, garbled or foreign is refused and left alone") {
  const TemporaryFolder folder;
  const std::string path = folder.file("p.pontata");
  add_flat_wall(path);
  const std::string whole = bytes_of(path);
  std::vector<std::string> bad{"",
                               "{",
                               "[]",
                               "{}",
                               "null",
                               "not json",
                               "{\"format\": \"pontata project\"}",
                               whole.substr(0, whole.size() / 2),
                               whole.substr(0, whole.size() - 2)};
  std::string future = whole;
  future.replace(future.find("\"version\": 4"), 12, "\"version\": 9");
  bad.push_back(future);
  for (const auto& bytes : bad) {
    write_bytes(path, bytes);
    for (const auto& ran : {run({"measure", path}), run({"set", path, "rate", "0.3"}),
                            run({"wall", path, "b", "--shape", "flat", "--width", "1", "--height", "1"})}) {
      INFO(ran.err);
      CHECK(ran.status == 1);
      CHECK(ran.out.empty());
      CHECK(is_one_error_line(ran, path));
      CHECK(bytes_of(path) == bytes);
    }
  }
}

TEST_CASE("a project in a read-only folder is refused and left alone") {
  const TemporaryFolder folder;
  const std::string path = folder.file("p.pontata");
  add_flat_wall(path);
  const std::string before = bytes_of(path);
  ::chmod(path.c_str(), 0666);
  ::chmod(folder.path().c_str(), 0555);
  const auto ran = run({"set", path, "rate", "0.3"}, {"", {}, true});
  INFO(ran.err);
  CHECK(ran.status == 1);
  CHECK(is_one_error_line(ran, path));
  CHECK(bytes_of(path) == before);
  CHECK(folder.entries() == 1);
  ::chmod(folder.path().c_str(), 0755);
}

TEST_CASE("a new project in a folder that is not there is refused") {
  const auto ran = run({"wall", "/no/such/folder/p.pontata", "a", "--shape", "flat", "--width", "1", "--height", "1"});
  CHECK(ran.status == 1);
  CHECK(is_one_error_line(ran, "/no/such/folder/p.pontata"));
}

TEST_CASE("a report that cannot write its file prints nothing else") {
  const Project p;
  for (const char* verb : {"measure", "plaster", "calendar"})
    p.check_refused(run({verb, p.path, "--csv", "/no/such/folder/out.csv"}), "/no/such/folder/out.csv");
  p.check_refused(run({"calendar", p.path, "--ics", "/no/such/folder/out.ics"}), "/no/such/folder/out.ics");
  p.check_refused(run({"export", p.path, "--out", "/no/such/folder/out.glb"}), "/no/such/folder/out.glb");
}

TEST_CASE("a picture that is gone is noted with what to do, stops only what needs it, and can be replaced") {
  const Project p;
  const std::string picture = p.folder.file("picture.png");
  write_disc_picture(picture, 80, 60);
  REQUIRE(run({"picture", p.path, "wall", picture}).status == 0);
  std::filesystem::remove(picture);
  for (const std::string verb : {"measure", "plaster", "calendar", "review", "check", "set"}) {
    const auto ran = run({verb, p.path});
    INFO(verb << ": " << ran.err);
    CHECK(ran.status == 0);
    CHECK(ran.err.find("picture.png") != std::string::npos);
    CHECK(ran.err.find("pontata picture") != std::string::npos);
  }
  for (const auto& needs : {std::vector<std::string>{"cartoon", p.path, "--out", p.folder.file("out")},
                            std::vector<std::string>{"export", p.path, "--out", p.folder.file("out.glb")}}) {
    const auto ran = run(needs);
    INFO(needs[0] << ": " << ran.err);
    CHECK(ran.status == 1);
    CHECK(ran.err.find("picture.png") != std::string::npos);
  }
  write_disc_picture(p.folder.file("other.png"), 40, 30);
  CHECK(run({"picture", p.path, "wall", p.folder.file("other.png"), "--name", "picture"}).status == 0);
  CHECK(run({"measure", p.path}).err.find("picture") == std::string::npos);
}

TEST_CASE("a picture that was changed is noted when it fits, refused when its proportions differ") {
  const Project p;
  const std::string picture = p.folder.file("picture.png");
  write_disc_picture(picture, 80, 60);
  REQUIRE(run({"picture", p.path, "wall", picture}).status == 0);
  write_disc_picture(picture, 160, 120);
  const auto noted = run({"measure", p.path});
  CHECK(noted.status == 0);
  CHECK(noted.err.find("picture.png") != std::string::npos);
  write_disc_picture(picture, 60, 80);
  const auto refused = run({"measure", p.path});
  CHECK(refused.status == 1);
  CHECK(is_one_error_line(refused, "picture.png"));
}

TEST_CASE("a scan that was changed is refused") {
  const TemporaryFolder folder;
  const std::string path = folder.file("p.pontata"), scan = folder.file("scan.glb");
  write_bytes(scan, glb_square(2));
  REQUIRE(run({"wall", path, "niche", "--scan", scan}).status == 0);
  REQUIRE(run({"measure", path}).status == 0);
  write_bytes(scan, glb_square(2.5));
  const auto ran = run({"measure", path});
  CHECK(ran.status == 1);
  CHECK(is_one_error_line(ran, "scan.glb"));
}
