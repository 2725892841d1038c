// What every damaged file must give: a wall, or one problem in one line. Nothing else, and no crash.
#pragma once

#include <sys/resource.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <string>

#include "engine/wall/scan.h"

namespace pontata::fixtures {

// A problem names the file and says what to do; small files never run out of memory.
inline void check_answer(const std::string& path, const ScanOptions& options = {}) {
  const auto result = read_scan(path, options);
  if (result.ok()) {
    CHECK_FALSE(result->mesh.triangles.empty());
    for (const Vec3& p : result->mesh.points) CHECK(std::isfinite(p.x + p.y + p.z));
    return;
  }
  INFO(result.problem().message());
  CHECK(result.problem().where == path);
  CHECK_FALSE(result.problem().what.empty());
  CHECK_FALSE(result.problem().remedy.empty());
  CHECK(result.problem().message().find('\n') == std::string::npos);
  CHECK(result.problem().message().find("memory") == std::string::npos);
}

// Rounds per case; PONTATA_FUZZ_ROUNDS lengthens a run by hand.
inline int rounds() {
  const char* text = std::getenv("PONTATA_FUZZ_ROUNDS");
  return text ? std::atoi(text) : 1500;
}

// While it lives the program may take this much address space and no more (sanitizers need their own: no limit there).
class MemoryLimit {
 public:
  explicit MemoryLimit(std::size_t bytes) {
#if !defined(__SANITIZE_ADDRESS__)
    getrlimit(RLIMIT_AS, &before_);
    rlimit now = before_;
    now.rlim_cur = bytes;
    setrlimit(RLIMIT_AS, &now);
#else
    (void)bytes;
#endif
  }
  ~MemoryLimit() {
#if !defined(__SANITIZE_ADDRESS__)
    setrlimit(RLIMIT_AS, &before_);
#endif
  }
  MemoryLimit(const MemoryLimit&) = delete;
  MemoryLimit& operator=(const MemoryLimit&) = delete;

 private:
  rlimit before_{};
};

}  // namespace pontata::fixtures
