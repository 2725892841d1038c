#include "engine/document/recovery.h"

#include <cstdlib>
#include <filesystem>

#include "engine/document/project_file.h"
#include "engine/document/sha256.h"

namespace pontata {

namespace {

namespace fs = std::filesystem;

std::string variable(const char* name) {
  const char* value = std::getenv(name);
  return value ? value : "";
}

// The specification takes only absolute paths.
fs::path state_folder() {
  const fs::path named = variable("XDG_STATE_HOME");
  if (named.is_absolute()) return named / "pontata";
  const fs::path home = variable("HOME");
  return home.is_absolute() ? home / ".local" / "state" / "pontata" : fs::path{};
}

}  // namespace

std::string recovery_path(const std::string& project) {
  const fs::path folder = state_folder();
  if (folder.empty()) return "";
  if (project.empty()) return (folder / "untitled.recovery").string();
  const fs::path path = fs::absolute(project).lexically_normal();
  return (folder / (path.stem().string() + "-" + sha256_of(path.string()).substr(0, 16) + ".recovery")).string();
}

Outcome write_recovery(const Document& doc, const std::string& project) {
  const std::string path = recovery_path(project);
  if (path.empty()) return Problem{"there is no place for a recovery copy", "", "Set HOME or XDG_STATE_HOME."};
  const fs::path folder = fs::path(path).parent_path();
  std::error_code error;
  fs::create_directories(folder, error);
  if (error) return Problem{"cannot be made (" + error.message() + ")", folder.string(), "Check who may write there."};
  fs::permissions(folder, fs::perms::owner_all, error);
  return save_project(doc, path);
}

std::optional<std::string> find_recovery(const std::string& project) {
  const std::string path = recovery_path(project);
  std::error_code no_copy, no_project;
  if (path.empty()) return std::nullopt;
  const auto saved = fs::last_write_time(path, no_copy);
  if (no_copy) return std::nullopt;
  if (project.empty()) return path;
  const auto of_project = fs::last_write_time(project, no_project);
  if (!no_project && of_project >= saved) return std::nullopt;
  return path;
}

void remove_recovery(const std::string& project) {
  const std::string path = recovery_path(project);
  std::error_code ignored;
  if (!path.empty()) fs::remove(path, ignored);
}

}  // namespace pontata
