#include "engine/wall/scan_assimp.h"

#include <assimp/BaseImporter.h>
#include <assimp/importerdesc.h>
#include <assimp/scene.h>
#include <fmt/format.h>

#include <assimp/Importer.hpp>
#include <bit>
#include <cmath>

#include "engine/wall/scan_bytes.h"
#include "engine/wall/scan_polygons.h"

namespace pontata {
namespace {

// Leaves the importer with the one reader wanted.
void keep_reader(Assimp::Importer& importer, std::string_view kind) {
  for (std::size_t i = importer.GetImporterCount(); i-- > 0;) {
    Assimp::BaseImporter* reader = importer.GetImporter(i);
    if (std::string_view(reader->GetInfo()->mFileExtensions) == kind) continue;
    importer.UnregisterLoader(reader);
    delete reader;
  }
}

// Points told apart by their three numbers alone, in the order in which they first come.
class PointSet {
 public:
  explicit PointSet(std::size_t most) : slots_(std::bit_ceil(2 * most + 16), kEmpty) {}

  std::uint32_t index_of(const Vec3& p) {
    for (std::size_t at = hash(p) & (slots_.size() - 1);; at = (at + 1) & (slots_.size() - 1)) {
      if (slots_[at] == kEmpty) {
        slots_[at] = static_cast<std::uint32_t>(points_.size());
        points_.push_back(p);
        return slots_[at];
      }
      if (points_[slots_[at]] == p) return slots_[at];
    }
  }
  std::vector<Vec3> take() { return std::move(points_); }
  const std::vector<Vec3>& points() const { return points_; }

 private:
  static constexpr std::uint32_t kEmpty = 0xffffffffu;
  static std::size_t hash(const Vec3& p) {
    std::uint64_t h = 0;
    for (int k = 0; k < 3; ++k) {
      h = (h ^ std::bit_cast<std::uint64_t>(p[k] + 0.0)) * 0x9e3779b97f4a7c15u;
      h ^= h >> 29;
    }
    return static_cast<std::size_t>(h ^ h >> 32);
  }
  std::vector<Vec3> points_;
  std::vector<std::uint32_t> slots_;
};

Vec3 from(const aiVector3D& v) { return {v.x, v.y, v.z}; }

std::size_t points_in(const aiScene& scene) {
  std::size_t n = 0;
  for (unsigned m = 0; m < scene.mNumMeshes; ++m) n += scene.mMeshes[m]->mNumVertices;
  return n;
}

// The face's own directions against those of its winding.
bool back_is_painted(const aiMesh& mesh, const aiFace& face, const std::vector<Vec3>& points, const Triangle& t) {
  if (!mesh.mNormals) return false;
  Vec3 mean{0, 0, 0};
  for (unsigned k = 0; k < face.mNumIndices; ++k) mean += from(mesh.mNormals[face.mIndices[k]]);
  return glm::dot(mean, glm::cross(points[t[1]] - points[t[0]], points[t[2]] - points[t[0]])) < 0;
}

Result<RawScan> gather(const aiScene& scene, const std::string& path) {
  RawScan out;
  PointSet set(points_in(scene));
  std::vector<std::uint32_t> corners;
  for (unsigned m = 0; m < scene.mNumMeshes; ++m) {
    const aiMesh& mesh = *scene.mMeshes[m];
    for (unsigned f = 0; f < mesh.mNumFaces; ++f) {
      const aiFace& face = mesh.mFaces[f];
      corners.clear();
      for (unsigned k = 0; k < face.mNumIndices; ++k) {
        if (face.mIndices[k] >= mesh.mNumVertices)
          return damaged_scan(path, "a triangle names a point beyond the last");
        const Vec3 p = from(mesh.mVertices[face.mIndices[k]]);
        if (!std::isfinite(p.x) || !std::isfinite(p.y) || !std::isfinite(p.z))
          return not_a_number(path, face.mIndices[k] + std::size_t{1});
        corners.push_back(set.index_of(p));
      }
      const std::size_t first = out.triangles.size();
      split_polygon(set.points(), corners, out.triangles);
      for (std::size_t t = first; t < out.triangles.size(); ++t)
        out.back.push_back(back_is_painted(mesh, face, set.points(), out.triangles[t]));
    }
  }
  out.points = set.take();
  return out;
}

Problem unreadable(const std::string& path, std::string why) {
  if (why.size() > 120) why = why.substr(0, 120) + "...";
  for (char& c : why)
    if (static_cast<unsigned char>(c) < 32) c = ' ';
  return damaged_scan(path, why.empty() ? "it cannot be understood" : why);
}

}  // namespace

Result<RawScan> read_with_library(std::string_view bytes, std::string_view kind, const std::string& path) {
  try {
    Assimp::Importer importer;
    keep_reader(importer, kind);
    const aiScene* scene = importer.ReadFileFromMemory(bytes.data(), bytes.size(), 0, std::string(kind).c_str());
    if (!scene) return unreadable(path, importer.GetErrorString());
    return gather(*scene, path);
  } catch (const std::bad_alloc&) {
    return Problem{"the scan does not fit into memory", path, "Thin the scan, or cut it to the painted wall"};
  } catch (const std::exception& e) {
    return unreadable(path, e.what());
  }
}

}  // namespace pontata
