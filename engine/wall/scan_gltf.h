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
  std::vector<bool> back;  // one per triangle: the file's own directions say that its back is painted; or empty
  double step = 0;         // file units: how finely the file's numbers tell places apart; 0 where they are exact
};

// All meshes of the default scene with their node transforms; lines and loose points are passed over. Every offset,
// stride and count is checked against its buffer before anything is read. `path` is used in messages and tells the
// folder of a .gltf's buffers.
Result<RawScan> read_gltf(std::vector<unsigned char> bytes, const std::string& path);

}  // namespace pontata
