// Files that verbs write beside the project, and which files they must leave alone.
#pragma once

#include <string>
#include <string_view>

#include "engine/base/result.h"
#include "engine/document/document.h"

namespace pontata {

// A Problem when `path` is the project itself, one of its pictures, scans or diary photographs, by whatever name or
// link, or no name at all.
Outcome may_be_written(const std::string& path, const std::string& project, const Document& doc);

// A name with something before this ending, ".png", in letters of either size.
bool has_ending(const std::string& name, std::string_view ending);

// Both name one file, there already or not yet.
bool same_file(const std::string& a, const std::string& b);

}  // namespace pontata
