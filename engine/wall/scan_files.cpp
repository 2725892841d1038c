#include "engine/wall/scan_files.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "engine/wall/scan_assimp.h"
#include "engine/wall/scan_bytes.h"
#include "engine/wall/scan_obj.h"
#include "engine/wall/scan_ply.h"
#include "engine/wall/scan_stl.h"

namespace pontata {
namespace {

std::string extension_of(const std::string& path) {
  const std::size_t dot = path.find_last_of("./");
  if (dot == std::string::npos || path[dot] != '.') return "";
  std::string out = path.substr(dot + 1);
  for (char& c : out) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return out;
}

// A line of the kind "v 1 2 3" among the first hundred.
bool looks_like_obj(std::string_view text) {
  for (int line = 0; line < 100 && !text.empty(); ++line) {
    std::string_view words = next_line(text);
    if (next_word(words) != "v") continue;
    return is_decimal(next_word(words)) && is_decimal(next_word(words)) && is_decimal(next_word(words));
  }
  return false;
}

bool looks_like_gltf(std::string_view text) {
  if (text.substr(0, 4) == "glTF") return true;
  const std::size_t first = text.find_first_not_of(" \t\r\n");
  return first != std::string_view::npos && text[first] == '{';
}

Result<ScanFormat> format_of(std::string_view bytes, const std::string& path) {
  if (bytes.empty()) return Problem{"the file is empty", path, "Copy the file again, or export the scan again"};
  if (looks_like_gltf(bytes)) return ScanFormat::gltf;
  if (std::string_view head = bytes.substr(0, 16); next_word(head) == "ply") return ScanFormat::ply;
  if (is_stl(bytes)) return ScanFormat::stl;
  if (looks_like_obj(bytes)) return ScanFormat::obj;
  const std::string extension = extension_of(path);
  if (extension == "stl") return ScanFormat::stl;
  if (extension == "obj") return ScanFormat::obj;
  return Problem{"this is not a glTF or GLB file, nor OBJ, PLY or STL", path,
                 "Export the scan as GLB, or as OBJ, PLY or STL"};
}

// Distance of neighbouring numbers that the reader can tell apart, at the place farthest from the origin.
double step_of(const std::vector<Vec3>& points) {
  double most = 0;
  for (const Vec3& p : points) most = std::max({most, std::abs(p.x), std::abs(p.y), std::abs(p.z)});
  return most > 0 ? std::exp2(std::floor(std::log2(most)) - 23) : 0;
}

Result<RawScan> read_checked(ScanFormat format, const std::vector<unsigned char>& bytes, const std::string& path) {
  const auto plain = format == ScanFormat::obj   ? plain_obj(text_of(bytes), path)
                     : format == ScanFormat::ply ? plain_ply(text_of(bytes), path)
                                                 : plain_stl(text_of(bytes), path);
  if (!plain) return plain.problem();
  return read_with_library(*plain, format == ScanFormat::obj ? "obj" : format == ScanFormat::ply ? "ply" : "stl", path);
}

}  // namespace

const char* format_name(ScanFormat format) {
  constexpr std::array<const char*, 4> kNames{"glTF", "OBJ", "PLY", "STL"};
  return kNames[static_cast<std::size_t>(format)];
}

bool states_unit(ScanFormat format) { return format == ScanFormat::gltf; }

bool is_y_up(ScanFormat format) { return format == ScanFormat::gltf; }

Result<ScanFormat> scan_format(const std::string& path) {
  const auto bytes = read_scan_bytes(path);
  if (!bytes) return bytes.problem();
  return format_of(text_of(*bytes), path);
}

Result<RawScan> read_any(const std::string& path) {
  try {
    auto bytes = read_scan_bytes(path);
    if (!bytes) return bytes.problem();
    const auto format = format_of(text_of(*bytes), path);
    if (!format) return format.problem();
    auto raw = *format == ScanFormat::gltf ? read_gltf(std::move(*bytes), path) : read_checked(*format, *bytes, path);
    if (raw) raw->step = step_of(raw->points);
    return raw;
  } catch (const std::bad_alloc&) {
    return Problem{"the scan does not fit into memory", path, "Thin the scan, or cut it to the painted wall"};
  }
}

}  // namespace pontata
