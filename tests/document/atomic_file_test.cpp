#include "engine/document/atomic_file.h"

#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <csignal>
#include <functional>

#include "tests/document/folders.h"

using namespace pontata;

namespace {

mode_t mode_of(const std::string& path) {
  struct stat about {};
  REQUIRE(::stat(path.c_str(), &about) == 0);
  return about.st_mode & 07777;
}

// Runs `task` as a user without privileges, for whom modes of folders count; true when it returned true.
bool as_nobody(const std::function<bool()>& task) {
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    if (::getuid() == 0 && (::setgid(65534) != 0 || ::setuid(65534) != 0)) ::_exit(2);
    ::_exit(task() ? 0 : 1);
  }
  int status = 0;
  REQUIRE(::waitpid(child, &status, 0) == child);
  return WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

}  // namespace

TEST_CASE("a file is written whole and nothing is left beside it") {
  const TemporaryFolder folder;
  REQUIRE(write_file_atomically(folder.file("a"), std::string("one\0two", 7)).ok());
  CHECK(bytes_of(folder.file("a")) == std::string("one\0two", 7));
  REQUIRE(write_file_atomically(folder.file("a"), "").ok());
  CHECK(bytes_of(folder.file("a")).empty());
  CHECK(folder.entries() == 1);
}

TEST_CASE("an existing file keeps its mode") {
  const TemporaryFolder folder;
  write_bytes(folder.file("a"), "old");
  ::chmod(folder.file("a").c_str(), 0640);
  REQUIRE(write_file_atomically(folder.file("a"), "new").ok());
  CHECK(mode_of(folder.file("a")) == 0640);
}

TEST_CASE("a link stays a link and its file gets the bytes") {
  const TemporaryFolder folder;
  write_bytes(folder.file("real"), "old");
  std::filesystem::create_symlink("real", folder.file("link"));
  REQUIRE(write_file_atomically(folder.file("link"), "new").ok());
  CHECK(std::filesystem::is_symlink(folder.file("link")));
  CHECK(bytes_of(folder.file("real")) == "new");
}

TEST_CASE("another name of the old file keeps the old bytes, so the new ones were not written over them") {
  const TemporaryFolder folder;
  write_bytes(folder.file("a"), "old");
  std::filesystem::create_hard_link(folder.file("a"), folder.file("b"));
  REQUIRE(write_file_atomically(folder.file("a"), "new").ok());
  CHECK(bytes_of(folder.file("b")) == "old");
}

TEST_CASE("a read-only folder is one problem and the old file is as it was") {
  const TemporaryFolder folder;
  write_bytes(folder.file("a"), "old");
  ::chmod(folder.file("a").c_str(), 0666);
  ::chmod(folder.path().c_str(), 0555);
  const std::string path = folder.file("a");
  CHECK(as_nobody([&] {
    const auto wrote = write_file_atomically(path, "new");
    return !wrote.ok() && wrote.problem().where == path && !wrote.problem().remedy.empty();
  }));
  CHECK(bytes_of(path) == "old");
  CHECK(folder.entries() == 1);
  ::chmod(folder.path().c_str(), 0755);
}

TEST_CASE("a file that may not be written is a problem even where its folder may") {
  const TemporaryFolder folder;
  write_bytes(folder.file("a"), "old");
  ::chmod(folder.file("a").c_str(), 0444);
  ::chmod(folder.path().c_str(), 0777);
  const std::string path = folder.file("a");
  CHECK(as_nobody([&] { return !write_file_atomically(path, "new").ok(); }));
  CHECK(bytes_of(path) == "old");
}

TEST_CASE("folders, devices and missing folders are refused by name") {
  const TemporaryFolder folder;
  for (const std::string& path :
       {folder.path(), std::string("/dev/null"), folder.file("none/a"), std::string("/proc/none")}) {
    const auto wrote = write_file_atomically(path, "new");
    REQUIRE_FALSE(wrote.ok());
    CHECK(wrote.problem().where == path);
  }
}

TEST_CASE("a full device is a problem") {
  // What write() to a full disk answers is only seen on one; the limit on file sizes stands in for it.
  const TemporaryFolder folder;
  ::chmod(folder.path().c_str(), 0777);
  const std::string path = folder.file("a");
  CHECK(as_nobody([&] {
    ::signal(SIGXFSZ, SIG_IGN);
    const rlimit limit{1000, 1000};
    ::setrlimit(RLIMIT_FSIZE, &limit);
    return !write_file_atomically(path, std::string(5000, 'x')).ok() && write_file_atomically(path, "small").ok();
  }));
  CHECK(bytes_of(path) == "small");
  CHECK(folder.entries() == 1);
}

TEST_CASE("reading refuses what is too large, missing or a folder") {
  const TemporaryFolder folder;
  write_bytes(folder.file("a"), "12345");
  CHECK(*read_file(folder.file("a")) == "12345");
  CHECK_FALSE(read_file(folder.file("a"), 4).ok());
  CHECK_FALSE(read_file(folder.file("b")).ok());
  CHECK_FALSE(read_file(folder.path()).ok());
}
