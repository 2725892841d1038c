// One reader for every kind of scan file: what it is by its content first, by its name second.
#pragma once

#include <string>

#include "engine/base/result.h"
#include "engine/wall/scan_gltf.h"

namespace pontata {

enum class ScanFormat { gltf, obj, ply, stl };

// "glTF", "OBJ", "PLY", "STL".
const char* format_name(ScanFormat format);
// glTF states metres and Y up; the others state neither, so the unit must be asked, and Z up is the usual guess.
bool states_unit(ScanFormat format);
bool is_y_up(ScanFormat format);

// Refuses what is missing, cannot be read, is empty, or is none of the four.
Result<ScanFormat> scan_format(const std::string& path);

// Points and triangles of .glb, .gltf, .obj, .ply or .stl, in the file's own unit and axes, nothing mended but faces of
// more than three corners split. Each refusal is one sentence that names the file. Memory: about ten times the file's
// bytes at most.
Result<RawScan> read_any(const std::string& path);

}  // namespace pontata
