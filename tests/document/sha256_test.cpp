#include "engine/document/sha256.h"

#include <catch2/catch.hpp>

#include "tests/document/folders.h"

using namespace pontata;

// FIPS 180-2, appendix B (the examples of SHA-256) and the same of FIPS 180-4's example page: one block, two blocks and
// a million letters.
TEST_CASE("the standard's example messages have the standard's digests") {
  CHECK(sha256_of("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(sha256_of("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  CHECK(sha256_of(std::string(1000000, 'a')) == "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

// NIST CAVP, SHA256ShortMsg: length 0.
TEST_CASE("the empty message has the standard's digest") {
  CHECK(sha256_of("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

TEST_CASE("a message given in parts of any size has the digest of the whole") {
  std::string message;
  for (int i = 0; i < 300; ++i) message += static_cast<char>(i * 7);
  for (const std::size_t length : {55u, 56u, 63u, 64u, 65u, 119u, 120u, 300u}) {
    for (const std::size_t part : {1u, 3u, 64u, 100u}) {
      Sha256 hash;
      for (std::size_t at = 0; at < length; at += part)
        hash.add(std::string_view(message).substr(at, std::min(part, length - at)));
      CHECK(hash.finish() == sha256_of(std::string_view(message).substr(0, length)));
    }
  }
}

TEST_CASE("a file has the digest of its bytes") {
  const TemporaryFolder folder;
  write_bytes(folder.file("a"), "abc");
  CHECK(*sha256_of_file(folder.file("a")) == sha256_of("abc"));
}

TEST_CASE("what is no ordinary file is refused by name instead of being read for ever") {
  for (const std::string path : {"/dev/zero", "/", "/no/such/file"}) {
    const auto hash = sha256_of_file(path);
    REQUIRE_FALSE(hash.ok());
    CHECK(hash.problem().where == path);
  }
}
