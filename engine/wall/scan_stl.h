// STL files checked before the packaged reader sees them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/base/result.h"

namespace pontata {

// By the count of triangles at byte 80 where it fits the length; otherwise by the word "solid" and readable text.
bool is_stl(std::string_view bytes);

// The file with nothing in it but triangles: a binary one of exactly the stated length without header text and colours,
// or text of one solid. Refuses files that are cut short, text that breaks its pattern, numbers that are none, and
// files without triangles. `path` is used in messages.
Result<std::string> plain_stl(std::string_view bytes, const std::string& path);

}  // namespace pontata
