#include "engine/wall/surface_mesh.h"

namespace pontata {

namespace {

Vec3 blend(const std::vector<Vec3>& values, const Triangle& corners, const Vec3& weights) {
  return weights.x * values[corners[0]] + weights.y * values[corners[1]] + weights.z * values[corners[2]];
}

}  // namespace

Vec3 position(const SurfaceMesh& mesh, const WallPoint& p) {
  return blend(mesh.points, mesh.triangles[p.triangle], p.weights);
}

Vec3 normal(const SurfaceMesh& mesh, const WallPoint& p) {
  return glm::normalize(blend(mesh.normals, mesh.corner_normals[p.triangle], p.weights));
}

}  // namespace pontata
