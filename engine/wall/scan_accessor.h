// Checked reading of glTF accessors: no offset, stride or count of the file is trusted.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "engine/base/result.h"
#include "engine/base/vec.h"

namespace tinygltf {
class Model;
}

namespace pontata {

// Three floats per element, sparse replacements applied. `path` is used in messages.
Result<std::vector<Vec3>> read_vec3(const tinygltf::Model& model, int accessor, const std::string& path);

// Unsigned bytes, shorts or ints, every one below `limit`.
Result<std::vector<std::uint32_t>> read_indices(const tinygltf::Model& model, int accessor, std::size_t limit,
                                                const std::string& path);

}  // namespace pontata
