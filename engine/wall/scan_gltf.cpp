#include "engine/wall/scan_gltf.h"

#include <fmt/format.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <optional>

#include "engine/wall/scan_accessor.h"
#include "engine/wall/scan_container.h"
#include "engine/wall/scan_tinygltf.h"

namespace pontata {
namespace {

constexpr std::size_t kMostTriangles = 50'000'000;

// x -> m x + t.
struct Transform {
  Vec3 x{1, 0, 0}, y{0, 1, 0}, z{0, 0, 1}, t{0, 0, 0};  // images of the axes, translation
  Vec3 turn(const Vec3& v) const { return x * v.x + y * v.y + z * v.z; }
  Vec3 operator()(const Vec3& p) const { return turn(p) + t; }
  double determinant() const { return glm::dot(x, glm::cross(y, z)); }
  // Direction of a normal: rows of the cofactor matrix, its sign made that of the surface.
  Vec3 turn_normal(const Vec3& n) const {
    const Vec3 turned = glm::cross(y, z) * n.x + glm::cross(z, x) * n.y + glm::cross(x, y) * n.z;
    return determinant() < 0 ? -turned : turned;
  }
};

Transform operator*(const Transform& a, const Transform& b) { return {a.turn(b.x), a.turn(b.y), a.turn(b.z), a(b.t)}; }

Transform local_transform(const tinygltf::Node& node) {
  if (const auto& m = node.matrix; m.size() == 16)
    return {{m[0], m[1], m[2]}, {m[4], m[5], m[6]}, {m[8], m[9], m[10]}, {m[12], m[13], m[14]}};
  Transform out;
  if (const auto& q = node.rotation; q.size() == 4) {
    const double x = q[0], y = q[1], z = q[2], w = q[3];
    out.x = {1 - 2 * (y * y + z * z), 2 * (x * y + z * w), 2 * (x * z - y * w)};
    out.y = {2 * (x * y - z * w), 1 - 2 * (x * x + z * z), 2 * (y * z + x * w)};
    out.z = {2 * (x * z + y * w), 2 * (y * z - x * w), 1 - 2 * (x * x + y * y)};
  }
  if (const auto& s = node.scale; s.size() == 3) out.x *= s[0], out.y *= s[1], out.z *= s[2];
  if (const auto& t = node.translation; t.size() == 3) out.t = {t[0], t[1], t[2]};
  return out;
}

std::vector<Triangle> corners_of(int mode, const std::vector<std::uint32_t>& order) {
  std::vector<Triangle> out;
  if (mode == TINYGLTF_MODE_TRIANGLES)
    for (std::size_t i = 0; i + 2 < order.size(); i += 3) out.push_back({order[i], order[i + 1], order[i + 2]});
  if (mode == TINYGLTF_MODE_TRIANGLE_STRIP)
    for (std::size_t i = 0; i + 2 < order.size(); ++i)
      out.push_back(i % 2 == 0 ? Triangle{order[i], order[i + 1], order[i + 2]}
                               : Triangle{order[i + 1], order[i], order[i + 2]});
  if (mode == TINYGLTF_MODE_TRIANGLE_FAN)
    for (std::size_t i = 1; i + 1 < order.size(); ++i) out.push_back({order[0], order[i], order[i + 1]});
  return out;
}

class Gatherer {
 public:
  Gatherer(const tinygltf::Model& model, const std::string& path) : model_(model), path_(path) {}

  Outcome gather() {
    const auto roots = root_nodes();
    if (!roots) return roots.problem();
    if (model_.nodes.empty()) return gather_loose_meshes();
    std::vector<std::pair<int, Transform>> waiting;
    for (auto it = roots->rbegin(); it != roots->rend(); ++it) waiting.emplace_back(*it, Transform{});
    std::vector<bool> seen(model_.nodes.size(), false);
    while (!waiting.empty()) {
      const auto [index, above] = waiting.back();
      waiting.pop_back();
      if (index < 0 || static_cast<std::size_t>(index) >= model_.nodes.size())
        return damaged("it names a node that does not exist");
      if (seen[static_cast<std::size_t>(index)]) return damaged("its nodes do not form a tree");
      seen[static_cast<std::size_t>(index)] = true;
      const auto& node = model_.nodes[static_cast<std::size_t>(index)];
      const Transform here = above * local_transform(node);
      if (node.mesh >= 0)
        if (const auto done = add_mesh(node.mesh, here); !done) return done;
      for (auto it = node.children.rbegin(); it != node.children.rend(); ++it) waiting.emplace_back(*it, here);
    }
    return Done{};
  }

  RawScan take() { return std::move(out_); }

 private:
  Problem damaged(std::string_view how) const {
    return {fmt::format("the file is damaged: {}", how), path_, "Copy the file again, or export the scan again as GLB"};
  }

  // Of the default scene; without scenes, the nodes that are nobody's children.
  Result<std::vector<int>> root_nodes() const {
    if (!model_.scenes.empty()) {
      const int scene = model_.defaultScene < 0 ? 0 : model_.defaultScene;
      if (static_cast<std::size_t>(scene) >= model_.scenes.size()) return damaged("its default scene does not exist");
      return model_.scenes[static_cast<std::size_t>(scene)].nodes;
    }
    std::vector<bool> child(model_.nodes.size(), false);
    for (const auto& node : model_.nodes)
      for (const int c : node.children)
        if (c >= 0 && static_cast<std::size_t>(c) < child.size()) child[static_cast<std::size_t>(c)] = true;
    std::vector<int> roots;
    for (std::size_t i = 0; i < child.size(); ++i)
      if (!child[i]) roots.push_back(static_cast<int>(i));
    return roots;
  }

  Outcome gather_loose_meshes() {
    for (std::size_t i = 0; i < model_.meshes.size(); ++i)
      if (const auto done = add_mesh(static_cast<int>(i), Transform{}); !done) return done;
    return Done{};
  }

  Outcome add_mesh(int index, const Transform& transform) {
    if (static_cast<std::size_t>(index) >= model_.meshes.size()) return damaged("it names a part that does not exist");
    for (const auto& primitive : model_.meshes[static_cast<std::size_t>(index)].primitives)
      if (const auto done = add_primitive(primitive, transform); !done) return done;
    return Done{};
  }

  Outcome add_primitive(const tinygltf::Primitive& primitive, const Transform& transform) {
    const int mode = primitive.mode < 0 ? TINYGLTF_MODE_TRIANGLES : primitive.mode;
    if (mode < TINYGLTF_MODE_TRIANGLES) return Done{};
    if (mode > TINYGLTF_MODE_TRIANGLE_FAN) return damaged("it holds shapes of an unknown kind");
    const auto position = primitive.attributes.find("POSITION");
    if (position == primitive.attributes.end()) return damaged("it has triangles without points");
    const auto points = read_vec3(model_, position->second, path_);
    if (!points) return points.problem();
    std::vector<std::uint32_t> order;
    if (primitive.indices >= 0) {
      auto read = read_indices(model_, primitive.indices, points->size(), path_);
      if (!read) return read.problem();
      order = std::move(*read);
    } else {
      for (std::size_t i = 0; i < points->size(); ++i) order.push_back(static_cast<std::uint32_t>(i));
    }
    return append(*points, normals_of(primitive, points->size()), corners_of(mode, order), transform);
  }

  // Normals only help to find the painter's side, so unusable ones are passed over.
  std::vector<Vec3> normals_of(const tinygltf::Primitive& primitive, std::size_t count) const {
    const auto found = primitive.attributes.find("NORMAL");
    if (found == primitive.attributes.end()) return {};
    auto normals = read_vec3(model_, found->second, path_);
    if (!normals || normals->size() != count) return {};
    return std::move(*normals);
  }

  Outcome append(const std::vector<Vec3>& points, const std::vector<Vec3>& normals, std::vector<Triangle> triangles,
                 const Transform& transform) {
    if (out_.triangles.size() + triangles.size() > kMostTriangles ||
        out_.points.size() + points.size() > 3 * kMostTriangles)
      return Problem{"the scan holds more than 50 million triangles", path_,
                     "Thin the scan, or cut it to the painted wall"};
    const auto first = static_cast<std::uint32_t>(out_.points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
      const Vec3 p = transform(points[i]);
      if (!std::isfinite(p.x) || !std::isfinite(p.y) || !std::isfinite(p.z))
        return Problem{fmt::format("point {} has a coordinate that is not a number", first + i), path_,
                       "Repair the scan in the program it came from, and export it again"};
      out_.points.push_back(p);
      Vec3 n = normals.empty() ? Vec3{0, 0, 0} : transform.turn_normal(normals[i]);
      if (!std::isfinite(glm::dot(n, n))) n = {0, 0, 0};
      out_.normals.push_back(n);
    }
    const bool mirrored = transform.determinant() < 0;
    for (Triangle t : triangles) {
      if (mirrored) std::swap(t[1], t[2]);
      for (auto& corner : t) corner += first;
      out_.triangles.push_back(t);
    }
    return Done{};
  }

  const tinygltf::Model& model_;
  const std::string& path_;
  RawScan out_;
};

// Buffers outside the file are read only from the file's own folder, and only from plain files.
bool exists_beside(const std::string& path, void* folder) {
  const std::string& base = *static_cast<const std::string*>(folder);
  std::error_code error;
  if (path.rfind(base, 0) != 0 || path.find("..", base.size()) != std::string::npos) return false;
  return std::filesystem::is_regular_file(path, error);
}

bool read_whole(std::vector<unsigned char>* out, std::string* error, const std::string& path, void*) {
  std::ifstream file(path, std::ios::binary | std::ios::ate);
  const std::streamoff size = file ? std::streamoff{file.tellg()} : -1;
  if (size < 0) {
    if (error) *error += "cannot be opened";
    return false;
  }
  out->resize(static_cast<std::size_t>(size));
  file.seekg(0);
  file.read(reinterpret_cast<char*>(out->data()), size);
  return static_cast<bool>(file);
}

std::string same_path(const std::string& path, void*) { return path; }

bool write_nothing(std::string*, const std::string&, const std::vector<unsigned char>&, void*) { return false; }

Outcome load(const GltfContainer& container, const std::string& path, tinygltf::Model& model) {
  std::string folder = std::filesystem::path(path).parent_path().string();
  if (folder.empty()) folder = ".";
  tinygltf::TinyGLTF reader;
  reader.SetFsCallbacks({exists_beside, same_path, read_whole, write_nothing, &folder});
  std::string error, warning;
  const auto size = static_cast<unsigned int>(container.bytes.size());
  const bool ok = container.binary
                      ? reader.LoadBinaryFromMemory(&model, &error, &warning, container.bytes.data(), size, folder)
                      : reader.LoadASCIIFromString(&model, &error, &warning,
                                                   reinterpret_cast<const char*>(container.bytes.data()), size, folder);
  while (!error.empty() && std::isspace(static_cast<unsigned char>(error.back()))) error.pop_back();
  if (ok && error.empty()) return Done{};
  if (error.size() > 160) error = error.substr(0, 160) + "...";
  for (char& c : error)
    if (std::iscntrl(static_cast<unsigned char>(c))) c = ' ';
  const bool outside = error.find("File not found") != std::string::npos;
  return Problem{fmt::format("the file is damaged or incomplete ({})", error.empty() ? "no reason given" : error), path,
                 outside ? "Keep the .bin file in the folder of the .gltf file, or export the scan as GLB"
                         : "Copy the file again, or export the scan again as GLB"};
}

}  // namespace

Result<RawScan> read_gltf(std::vector<unsigned char> bytes, const std::string& path) {
  tinygltf::Model model;
  try {
    const auto container = parse_container(std::move(bytes), path);
    if (!container) return container.problem();
    if (const auto loaded = load(*container, path, model); !loaded) return loaded.problem();
    Gatherer gatherer(model, path);
    if (const auto done = gatherer.gather(); !done) return done.problem();
    return gatherer.take();
  } catch (const std::bad_alloc&) {
    return Problem{"the scan does not fit into memory", path, "Thin the scan, or cut it to the painted wall"};
  } catch (const std::exception& e) {
    return Problem{fmt::format("the file is damaged ({})", e.what()), path,
                   "Copy the file again, or export the scan again as GLB"};
  }
}

}  // namespace pontata
