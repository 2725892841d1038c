#include "engine/cartoon/output_set.h"

#include <unistd.h>

#include <filesystem>
#include <utility>

namespace pontata {
namespace fs = std::filesystem;

Result<OutputSet> OutputSet::open(const std::string& folder) {
  std::error_code error;
  fs::create_directories(folder, error);
  if (!fs::is_directory(folder, error))
    return Problem{"this folder cannot be made", folder, "Choose a folder that you may write to."};
  if (::access(folder.c_str(), W_OK | X_OK) != 0)
    return Problem{"this folder cannot be written to", folder, "Choose a folder that you may write to."};
  return OutputSet(folder);
}

OutputSet::OutputSet(OutputSet&& other) noexcept
    : folder_(std::move(other.folder_)), names_(std::exchange(other.names_, {})) {}

OutputSet::~OutputSet() {
  std::error_code ignored;
  for (const std::string& name : names_) fs::remove(draft_of(name), ignored);
}

std::string OutputSet::draft_of(const std::string& name) const {
  return (fs::path(folder_) / (".new-" + name)).string();
}

std::string OutputSet::add(const std::string& name) {
  names_.push_back(name);
  return draft_of(name);
}

Result<std::vector<std::string>> OutputSet::commit() {
  for (const std::string& name : names_)  // found out before the first of them takes its name
    if (std::error_code none; fs::is_directory(fs::path(folder_) / name, none))
      return Problem{"a folder has this name", (fs::path(folder_) / name).string(),
                     "Move it away or choose another folder."};
  std::vector<std::string> paths;
  for (const std::string& name : names_) {
    const std::string path = (fs::path(folder_) / name).string();
    std::error_code error;
    fs::rename(draft_of(name), path, error);
    if (error) return Problem{"cannot be written", path, "Look whether a folder or a protected file has this name."};
    paths.push_back(path);
  }
  names_.clear();
  return paths;
}

}  // namespace pontata
