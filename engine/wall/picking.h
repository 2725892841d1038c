// A bounding-volume tree over a wall's triangles: rays (the mouse, line of sight) and nearest points (addresses).
#pragma once

#include <memory>
#include <optional>

#include "engine/wall/surface_mesh.h"

namespace pontata {

struct RayHit {
  WallPoint point;
  double distance = 0;  // m along the unit direction
};
struct NearestHit {
  WallPoint point;
  double distance = 0;  // m
};

class PickTree {
 public:
  PickTree() = default;
  // O(n log n); 1 million triangles in about a second.
  explicit PickTree(std::shared_ptr<const SurfaceMesh> mesh);

  // First triangle hit from either side; `direction` need not be unit length.
  std::optional<RayHit> cast(const Vec3& origin, const Vec3& direction, double max_distance = 1e9) const;
  NearestHit nearest(const Vec3& p) const;

 private:
  struct Node;
  std::shared_ptr<const SurfaceMesh> mesh_;
  std::shared_ptr<const std::vector<Node>> nodes_;
  std::shared_ptr<const std::vector<std::uint32_t>> order_;
};

}  // namespace pontata
