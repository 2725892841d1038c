// The outer shell of a glTF or GLB file: magic, lengths, chunks, required extensions. What comes out is safe to hand
// to the glTF reader: complete, and stripped of all that intake does not use (pictures, materials, skins, extras).
#pragma once

#include <string>
#include <vector>

#include "engine/base/result.h"

namespace pontata {

struct GltfContainer {
  bool binary = false;               // bytes hold a GLB; otherwise JSON text
  std::vector<unsigned char> bytes;  // as the glTF reader takes them
};

// Refuses files that are empty, cut short, no glTF 2, damaged, or require an extension that changes how points or
// triangles are stored (by its name). Extensions that only touch appearance are ignored. `path` is used in messages.
Result<GltfContainer> parse_container(std::vector<unsigned char> bytes, const std::string& path);

}  // namespace pontata
