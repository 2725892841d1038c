// The packaged reader of OBJ, PLY and STL, on bytes that were checked beforehand.
#pragma once

#include <string>
#include <string_view>

#include "engine/base/result.h"
#include "engine/wall/scan_gltf.h"

namespace pontata {

// `kind`: "obj", "ply" or "stl"; only these three readers of the library are ever asked, and it mends nothing. Points
// with the same three numbers become one, faces are split into triangles, and the file's own directions tell which side
// of each triangle is painted. `path` is used in messages.
Result<RawScan> read_with_library(std::string_view bytes, std::string_view kind, const std::string& path);

}  // namespace pontata
