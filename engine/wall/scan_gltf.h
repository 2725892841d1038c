// Points and triangles out of a glTF or GLB file, in the file's own units and axes, nothing mended yet.
#pragma once

#include <string>
#include <vector>

#include "engine/base/result.h"
#include "engine/wall/surface_mesh.h"

namespace pontata {

struct RawScan {
  std::vector<Vec3> points;
  std::vector<Vec3> normals;  // one per point, zero where the file gives none; or empty
  std::vector<Triangle> triangles;
};

// All meshes of the default scene with their node transforms; lines and loose points are passed over. Every offset,
// stride and count is checked against its buffer before anything is read.
Result<RawScan> read_gltf(const std::string& path);

}  // namespace pontata
