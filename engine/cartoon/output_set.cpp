#include "engine/cartoon/output_set.h"

#include <unistd.h>

#include <filesystem>
#include <utility>

namespace pontata {
namespace fs = std::filesystem;

namespace {

// Folders on the way to this one that are not there yet, the innermost first.
std::vector<std::string> missing(const std::string& folder) {
  std::vector<std::string> out;
  std::error_code none;
  fs::path path = fs::path(folder).lexically_normal();
  if (!path.has_filename()) path = path.parent_path();  // "a/b/"
  for (; !path.empty() && !fs::exists(path, none); path = path.parent_path()) out.push_back(path.string());
  return out;
}

}  // namespace

Result<OutputSet> OutputSet::open(const std::string& folder, MayWrite may_write) {
  std::error_code error;
  std::vector<std::string> made = missing(folder);
  fs::create_directories(folder, error);
  if (!fs::is_directory(folder, error))
    return Problem{"this folder cannot be made", folder, "Choose a folder that you may write to."};
  if (::access(folder.c_str(), W_OK | X_OK) != 0)
    return Problem{"this folder cannot be written to", folder, "Choose a folder that you may write to."};
  return OutputSet(folder, std::move(made), std::move(may_write));
}

OutputSet::OutputSet(OutputSet&& other) noexcept
    : folder_(std::move(other.folder_)),
      made_(std::exchange(other.made_, {})),
      may_write_(std::move(other.may_write_)),
      names_(std::exchange(other.names_, {})),
      rows_(std::move(other.rows_)) {}

OutputSet::~OutputSet() {
  std::error_code ignored;
  for (const std::string& name : names_) fs::remove(draft_of(name), ignored);
  for (const std::string& folder : made_) fs::remove(folder, ignored);  // only where it is empty
}

std::string OutputSet::path_of(const std::string& name) const { return (fs::path(folder_) / name).string(); }
std::string OutputSet::draft_of(const std::string& name) const { return path_of(".new-" + name); }
std::string OutputSet::old_of(const std::string& name) const { return path_of(".old-" + name); }

std::string OutputSet::add(const std::string& name) {
  names_.push_back(name);
  return draft_of(name);
}

std::string OutputSet::add_numbered(const std::string& stem, int number, const std::string& extension) {
  int& last = rows_[{stem, extension}];
  last = std::max(last, number);
  return add(stem + "-" + std::to_string(number) + extension);
}

Outcome OutputSet::check() const {
  for (const std::string& name : names_) {
    if (std::error_code none; fs::is_directory(path_of(name), none))
      return Problem{"a folder has this name", path_of(name), "Move it away or choose another folder."};
    if (!may_write_) continue;
    if (const Outcome may = may_write_(path_of(name)); !may) return may.problem();
  }
  return Done{};
}

std::vector<std::string> OutputSet::left_over() const {
  std::vector<std::string> out;
  std::error_code none;
  for (const auto& [row, last] : rows_)
    for (int n = last + 1;; ++n) {
      const std::string name = row.first + "-" + std::to_string(n) + row.second;
      if (!fs::is_regular_file(path_of(name), none) || (may_write_ && !may_write_(path_of(name)))) break;
      out.push_back(name);
    }
  return out;
}

Result<std::vector<std::string>> OutputSet::commit() {
  if (const Outcome free = check(); !free) return free.problem();
  std::vector<std::string> aside, placed, paths;  // names
  std::error_code error, ignored;
  const auto put_aside = [&](const std::string& name) {
    if (!fs::exists(fs::symlink_status(path_of(name), ignored))) return;
    fs::rename(path_of(name), old_of(name), error);
    if (!error) aside.push_back(name);
  };
  std::string failed;
  for (const std::string& name : names_) {
    put_aside(name);
    if (!error) fs::rename(draft_of(name), path_of(name), error);
    if (error) {
      failed = path_of(name);
      break;
    }
    placed.push_back(name), paths.push_back(path_of(name));
  }
  if (!failed.empty()) {
    for (const std::string& name : placed) fs::rename(path_of(name), draft_of(name), ignored);
    for (const std::string& name : aside) fs::rename(old_of(name), path_of(name), ignored);
    return Problem{"cannot be written", failed, "Look whether a folder or a protected file has this name."};
  }
  for (const std::string& name : left_over()) fs::remove(path_of(name), ignored);
  for (const std::string& name : aside) fs::remove(old_of(name), ignored);
  names_.clear(), made_.clear();
  return paths;
}

}  // namespace pontata
