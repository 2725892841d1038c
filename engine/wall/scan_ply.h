// PLY files checked before the packaged reader sees them.
#pragma once

#include <string>
#include <string_view>

#include "engine/base/result.h"

namespace pontata {

// The file with nothing in it but the places and directions of its points and the corners of its faces, under a header
// of our own. Refuses headers that make no sense, counts that do not fit the file's length, bodies that end early,
// corners that do not exist, faces of more than 1000 corners, strips, and loose points without faces. `path` is used in
// messages.
Result<std::string> plain_ply(std::string_view bytes, const std::string& path);

}  // namespace pontata
