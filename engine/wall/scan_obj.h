// OBJ text checked and thinned before the packaged reader sees it.
#pragma once

#include <string>
#include <string_view>

#include "engine/base/result.h"

namespace pontata {

// Only points, directions and faces, a line each, every number checked, corners counted from 1 and never beyond the
// points; colours, materials, groups, lines and curves are left out. Refuses numbers that are none, corners that do
// not exist, faces of more than 1000 corners, and files without faces. `path` is used in messages.
Result<std::string> plain_obj(std::string_view text, const std::string& path);

}  // namespace pontata
