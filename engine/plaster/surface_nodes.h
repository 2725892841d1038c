// A surface thinned to nodes about evenly apart along it, each standing for the points round it.
#pragma once

#include <glm/mat3x3.hpp>
#include <glm/matrix.hpp>

#include "engine/plaster/point_graph.h"

namespace pontata {

struct SurfaceNode {
  Vec3 place{0, 0, 0};   // mean of its points, m
  Vec3 normal{0, 0, 1};  // unit, mean
  double area = 0;       // m^2
  glm::dmat3 spread{0};  // mean of (x - place)(x - place)^T over its points, m^2
};

struct SurfaceNodes {
  std::vector<SurfaceNode> nodes;
  std::vector<std::uint32_t> first_point, points;   // points (slots of the graph) of each node
  std::vector<std::uint32_t> first_beside, beside;  // nodes next to each, sorted
  std::span<const std::uint32_t> points_of(std::uint32_t i) const {
    return {points.data() + first_point[i], points.data() + first_point[i + 1]};
  }
  std::span<const std::uint32_t> neighbours(std::uint32_t i) const {
    return {beside.data() + first_beside[i], beside.data() + first_beside[i + 1]};
  }
};

// Points are taken in their order; each that no node holds yet begins one and draws in what is free within half the
// spacing (m) of it along the surface. Independent of where the wall stands. O(n log n).
SurfaceNodes surface_nodes(const PointGraph& graph, double spacing);

// Gathers the nodes that hang together with one within a ball round it and face about the same way (within 60 degrees),
// so that the far side of a pier or a leaf is never mistaken for this one. Kept between calls to save its tables.
class NodeBall {
 public:
  explicit NodeBall(const SurfaceNodes& nodes) : nodes_(nodes), seen_(nodes.nodes.size(), 0) {}
  // The node itself first; valid until the next call.
  std::span<const std::uint32_t> around(std::uint32_t node, double radius);

 private:
  const SurfaceNodes& nodes_;
  std::vector<std::uint32_t> seen_, found_;
  std::uint32_t turn_ = 0;
};

}  // namespace pontata
