// The view from an eye by the command line.
#include <catch2/catch.hpp>

#include "engine/picture/image.h"
#include "tests/verbs/program.h"

using namespace pontata;

namespace {

struct Vault {
  TemporaryFolder folder;
  std::string path = folder.file("p.pontata"), out = folder.file("seen.png");
  Vault() {
    REQUIRE(run({"wall", path, "vault", "--shape", "barrel", "--span", "4m", "--length", "6m", "--rise", "2m", "--at",
                 "0,0,3"})
                .status == 0);
    REQUIRE(run({"wall", path, "end", "--shape", "lunette", "--span", "4m", "--rise", "2m", "--at", "6,2,3", "--turn",
                 "-90"})
                .status == 0);
  }
  Ran seen(std::vector<std::string> more) const {
    std::vector<std::string> words{"render", path, "--out", out, "--view", "eye"};
    words.insert(words.end(), more.begin(), more.end());
    return run(words);
  }
};

}  // namespace

TEST_CASE("render draws what an eye sees, without any display") {
  const Vault vault;
  const auto ran = vault.seen({"--eye", "1,0,1.6m", "--look", "4,0,4", "--angle", "80deg", "--size", "320x240"});
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  const auto image = read_image(vault.out);
  REQUIRE(image.ok());
  CHECK(image->width == 320);
  CHECK(image->height == 240);
}

TEST_CASE("an eye that sees nothing, and one that looks nowhere, are told so; nothing is written") {
  const Vault vault;
  for (const auto& words : {std::vector<std::string>{"--eye", "1,0,1", "--look", "4,0,-9"},
                            std::vector<std::string>{"--eye", "1,0,1", "--look", "1,0,1"},
                            std::vector<std::string>{"--eye", "1,0,1", "--look", "1,0,5", "--up", "0,0,1"},
                            std::vector<std::string>{"--eye", "1,0,1", "--look", "4,0,4", "--angle", "175"}}) {
    const auto ran = vault.seen(words);
    INFO(ran.err);
    CHECK(ran.status == 1);
    CHECK(ran.err.find("pontata: ") == 0);
    CHECK_FALSE(read_image(vault.out).ok());
  }
  CHECK(vault.seen({"--eye", "1,0,1"}).status == 2);
  CHECK(vault.seen({}).status == 2);
  CHECK(run({"render", vault.path, "--out", vault.out, "--eye", "1,0,1"}).status == 2);
}
