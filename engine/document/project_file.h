// The project file: documented JSON (assets/project.schema.json), relative paths and SHA-256 of picture and scan,
// saved atomically. The same document gives the same bytes, and a saved document loads to one that saves the same
// bytes.
//
// What is stored is what cannot be made again: shapes and sources, the seam network with its measured sums, zones,
// records, settings, what was written down on the job. Surfaces, charts and contours are made again when the file is opened.
#pragma once

#include <string>
#include <vector>

#include "engine/document/atomic_file.h"
#include "engine/document/document.h"

namespace pontata {

inline constexpr int kProjectVersion = 4;

struct LoadOptions {
  bool without_pictures = false;  // their files are not looked at, their records kept as they are
};
struct LoadedProject {
  DocumentRef document;
  std::vector<std::string> notes;  // plain words: what is not as it was saved, though it could be opened
};

// Files of formats 1 to 3 are read too. Refuses, naming the file and the place in it: what is not a project or is cut
// short, a version from the future, numbers out of range, a broken network, giornate and network that do not agree, a
// missing scan, a changed scan (the seams lie on it), a changed picture of other proportions. A picture that is missing
// or cannot be read is a note, and so is a changed one of the same proportions.
Result<LoadedProject> open_project(const std::string& path, const LoadOptions& options = {},
                                   Progress* progress = nullptr);
// The same without the notes.
Result<DocumentRef> load_project(const std::string& path, Progress* progress = nullptr);

Outcome save_project(const Document& doc, const std::string& path);
// What save_project writes. Paths are told from `folder`, an absolute path.
Result<std::string> project_text(const Document& doc, const std::string& folder);
// Reads such text; `name` is the file's name for messages.
Result<LoadedProject> project_from_text(const std::string& text, const std::string& name, const std::string& folder,
                                        const LoadOptions& options = {}, Progress* progress = nullptr);

}  // namespace pontata
