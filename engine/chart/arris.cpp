#include "engine/chart/arris.h"

#include <algorithm>

#include "engine/chart/joints.h"

namespace pontata {

namespace {

// Signed tan(phi / 2) from one normal to the other round `along`: positive where they part toward the painter.
double half_tangent(const Vec3& own, const Vec3& other, const Vec3& along) {
  constexpr double kLeastCosine = -0.8660254037844387;
  const Vec3 turn = glm::cross(own, other);
  const double sine = glm::length(turn);  // parallel to the arris itself, of which `along` is a chord
  const double tangent = sine / (1 + std::max(kLeastCosine, glm::dot(own, other)));
  return glm::dot(turn, along) < 0 ? -tangent : tangent;
}

const Vec3& normal_at(const SurfaceMesh& mesh, EdgeSide s, std::size_t step) {
  return mesh.normals[mesh.corner_normals[s.triangle][(s.edge + step) % 3]];
}

// a1 that one side of the edge gets.
double bend_at(const SurfaceMesh& mesh, EdgeSide one, EdgeSide other) {
  const auto& corners = mesh.corner_normals;
  if (corners[one.triangle][one.edge] == corners[other.triangle][(other.edge + 1) % 3] &&
      corners[one.triangle][(one.edge + 1) % 3] == corners[other.triangle][other.edge])
    return 0;
  const auto& t = mesh.triangles[one.triangle];
  const Vec3 along = mesh.points[t[(one.edge + 1) % 3]] - mesh.points[t[one.edge]];
  const double begin = half_tangent(normal_at(mesh, one, 0), normal_at(mesh, other, 1), along);
  const double end = half_tangent(normal_at(mesh, one, 1), normal_at(mesh, other, 0), along);
  return 0.5 * (begin + end) * glm::length(along);
}

}  // namespace

std::vector<double> arris_bends(const Chart& chart) {
  const SurfaceMesh& mesh = chart.mesh();
  std::vector<double> bends;
  each_joint(chart, [&](EdgeSide one, EdgeSide other) {
    const double bend = bend_at(mesh, one, other);
    if (bend == 0) return;
    if (bends.empty()) bends.assign(mesh.triangles.size(), 0);
    bends[one.triangle] += bend;
  });
  return bends;
}

}  // namespace pontata
