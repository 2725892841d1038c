#include "engine/document/recovery.h"

#include <chrono>
#include <cstdlib>

#include "engine/document/project_file.h"
#include "tests/document/folders.h"
#include "tests/document/small_project.h"

using namespace pontata;

namespace {

// Points the state folder into a temporary one.
struct State {
  TemporaryFolder folder;
  State() { ::setenv("XDG_STATE_HOME", folder.file("state").c_str(), 1); }
  ~State() { ::unsetenv("XDG_STATE_HOME"); }
};

}  // namespace

TEST_CASE("the copy lies under the state folder, opens, and leaves the user's file alone") {
  const State state;
  const std::string project = state.folder.file("p.pontata");
  write_bytes(project, "the user's bytes");
  std::filesystem::last_write_time(project, std::filesystem::file_time_type::clock::now() - std::chrono::hours(1));
  const auto doc = small_project();
  REQUIRE(write_recovery(*doc, project).ok());
  CHECK(bytes_of(project) == "the user's bytes");
  const auto found = find_recovery(project);
  REQUIRE(found.has_value());
  CHECK(found->starts_with(state.folder.file("state/pontata/")));
  const auto loaded = open_project(*found);
  REQUIRE(loaded.ok());
  CHECK(*project_text(*loaded->document, "/") == *project_text(*doc, "/"));
  remove_recovery(project);
  CHECK_FALSE(find_recovery(project).has_value());
}

TEST_CASE("a copy older than the project is no recovery") {
  const State state;
  const std::string project = state.folder.file("p.pontata");
  REQUIRE(write_recovery(*small_project(), project).ok());
  CHECK(find_recovery(project).has_value());  // the project itself was never saved
  write_bytes(project, "saved since");
  std::filesystem::last_write_time(project, std::filesystem::file_time_type::clock::now() + std::chrono::hours(1));
  CHECK_FALSE(find_recovery(project).has_value());
}

TEST_CASE("projects of one name in two folders have two copies") {
  const State state;
  CHECK(recovery_path("/a/p.pontata") != recovery_path("/b/p.pontata"));
  CHECK(recovery_path("") != recovery_path("/a/p.pontata"));
}
