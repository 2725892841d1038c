// The project file: documented JSON (assets/project.schema.json), relative paths and SHA-256 of picture and scan,
// saved atomically: write beside, fsync, rename, fsync of the folder. The same document gives the same bytes.
#pragma once

#include <string>

#include "engine/document/atomic_file.h"
#include "engine/document/document.h"

namespace pontata {

// Refuses what is not a project, a version from the future, a broken network, missing or changed picture and scan files
// (naming them), with the file's name in the Problem.
Result<DocumentRef> load_project(const std::string& path, Progress* progress = nullptr);
Outcome save_project(const Document& doc, const std::string& path);
std::string project_text(const Document& doc, const std::string& folder);  // what save_project writes

}  // namespace pontata
