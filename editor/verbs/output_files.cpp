#include "editor/verbs/output_files.h"

#include <filesystem>

namespace pontata {

namespace {

Problem taken(const std::string& path, const std::string& what) {
  return {"is " + what + " and would be lost", path, "Give another name."};
}

}  // namespace

bool has_ending(const std::string& name, std::string_view ending) {
  if (name.size() <= ending.size()) return false;
  std::string end = name.substr(name.size() - ending.size());
  for (char& c : end) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return end == ending;
}

bool same_file(const std::string& a, const std::string& b) {
  std::error_code fault;
  if (std::filesystem::equivalent(a, b, fault)) return true;
  const auto whole_a = std::filesystem::weakly_canonical(a, fault);
  if (fault) return false;
  const auto whole_b = std::filesystem::weakly_canonical(b, fault);
  return !fault && whole_a == whole_b;
}

Outcome may_be_written(const std::string& path, const std::string& project, const Document& doc) {
  if (path.empty()) return Problem{"a file to write needs a name", "", "Give one."};
  if (same_file(path, project)) return taken(path, "the project itself");
  for (const auto& wall : doc.walls) {
    for (const auto& picture : wall->pictures)
      if (same_file(path, picture->path)) return taken(path, "a picture of wall " + wall->name);
    if (wall->scan && same_file(path, wall->scan->path)) return taken(path, "the scan of wall " + wall->name);
  }
  for (const auto& entry : doc.job().diary)
    if (!entry->photo.empty() && same_file(path, entry->photo)) return taken(path, "a photograph of the diary");
  return Done{};
}

}  // namespace pontata
