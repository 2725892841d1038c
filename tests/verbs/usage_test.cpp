#include <catch2/catch.hpp>

#include "tests/fixtures/places.h"
#include "tests/verbs/program.h"

using namespace pontata;

TEST_CASE("version and help go to standard output") {
  const auto version = run({"--version"});
  CHECK(version.status == 0);
  CHECK(version.out.starts_with("pontata "));
  CHECK(version.err.empty());
  const auto help = run({"--help"});
  CHECK(help.status == 0);
  CHECK(help.err.empty());
  for (const char* verb : {"wall", "picture", "outline", "hug", "remove", "zone", "seams", "set", "measure", "plaster",
                           "level", "calendar", "review", "cartoon", "export", "check"}) {
    CHECK(help.out.find(verb) != std::string::npos);
    const auto of_verb = run({verb, "--help"});
    CHECK(of_verb.status == 0);
    CHECK(of_verb.out.find("Usage: pontata " + std::string(verb) + " [OPTIONS] PROJECT") != std::string::npos);
  }
}

TEST_CASE("wrong usage ends with status 2, one line and nothing written") {
  const TemporaryFolder folder;
  const std::string p = folder.file("p.pontata");
  const std::vector<std::vector<std::string>> wrong{
      {"frobnicate"},
      {"frobnicate", p},
      {""},
      {"--frobnicate"},
      {"wall"},
      {"wall", p},
      {"wall", p, "a"},
      {"wall", p, "a", "--shape", "pyramid"},
      {"wall", p, "a", "--shape", "barrel", "--span", "4m", "--length", "5m"},
      {"wall", p, "a", "--shape", "flat", "--width", "4m", "--height", "3m", "--rise", "1m"},
      {"wall", p, "a", "--shape", "flat", "--width", "4 yards", "--height", "3m"},
      {"wall", p, "a", "--shape", "flat", "--width", "nan", "--height", "3m"},
      {"wall", p, "a", "--shape", "flat", "--width", "4m", "--height", "3m", "--at", "1,2"},
      {"wall", p, "a", "--shape", "flat", "--width", "4m", "--height", "3m", "--scan", "x.glb"},
      {"wall", p, "a", "--scan", "x.glb", "--unit", "parsec"},
      {"wall", p, "a", "b", "--shape", "flat", "--width", "4m", "--height", "3m"},
      {"zone", p, "a", "--points", "-"},
      {"zone", p, "a", "--kind", "whole", "--points", "-"},
      {"outline", p, "a"},
      {"wall", p, "a", "--shape", "flat", "--width", "-4", "--height", "3m"},
      {"picture", p, "a", "x.png", "--width", "-3"},
      {"wall", p, "", "--shape", "flat", "--width", "4m", "--height", "3m"},
      {"measure", ""},
      {"set", "", "rate", "1"},
      {"outline", "", "a", "--points", "-"},
      {"export", p, "--out", ""},
      {"render", p, "--out", "x.jpg"},
      {"render", p, "--out", "x.pdf"},
      {"render", p, "--out", ".png"},
      {"measure", p, "--json", "--csv", "-"},
      {"review", p, "--csv", "-", "--json"},
      {"review", p, "--worst", "3"},
      {"review", p, "--sheet", "review.png"},
      {"accept", p, "--open"},
      {"remove", p},
      {"remove", p, "1", "--zone", "1"},
      {"remove", p, "first"},
      {"cartoon", p},
      {"cartoon", p, "--out", folder.file("c"), "--paper", "foolscap"},
      {"cartoon", p, "--out", folder.file("c"), "--format", "doc"},
      {"cartoon", p, "--out", folder.file("c"), "--only", "0"},
      {"export", p},
      {"measure", p, "--yaml"}};
  for (const auto& arguments : wrong) {
    const auto ran = run(arguments);
    INFO((arguments.empty() ? "" : arguments[0]) << ": " << ran.err);
    CHECK(ran.status == 2);
    CHECK(ran.out.empty());
    CHECK(ran.err.starts_with("pontata"));
    CHECK(ran.err.find('\n') == ran.err.size() - 1);
  }
  CHECK(folder.entries() == 0);
}

TEST_CASE("a project that is not there is named") {
  for (const char* verb : {"measure", "plaster", "calendar", "review", "check", "set"}) {
    const auto ran = run({verb, "/no/such/project.pontata"});
    CHECK(ran.status == 1);
    CHECK(ran.out.empty());
    CHECK(is_one_error_line(ran, "/no/such/project.pontata"));
  }
}

TEST_CASE("output that cannot be written is a failure") {
  const TemporaryFolder folder;
  add_flat_wall(folder.file("p"));
  const std::string command = fixtures::program_path() + " measure " + folder.file("p") + " >/dev/full 2>/dev/null";
  CHECK(std::system(command.c_str()) != 0);
}
