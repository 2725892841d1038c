#include "engine/plaster/surface_nodes.h"

#include <algorithm>

namespace pontata {

namespace {

constexpr std::uint32_t kFree = 0xffffffffu;
constexpr double kDraw = 0.55;  // of the spacing: how far a node draws points in

// The node of every point, and the points node by node.
std::vector<std::uint32_t> draw_in(const PointGraph& graph, double spacing, SurfaceNodes& out) {
  std::vector<std::uint32_t> owner(graph.size(), kFree);
  const double reach2 = kDraw * kDraw * spacing * spacing;
  out.points.reserve(graph.size());
  for (std::uint32_t seed = 0; seed < graph.size(); ++seed) {
    if (owner[seed] != kFree) continue;
    const auto node = static_cast<std::uint32_t>(out.first_point.size());
    out.first_point.push_back(static_cast<std::uint32_t>(out.points.size()));
    owner[seed] = node;
    out.points.push_back(seed);
    for (std::size_t at = out.first_point.back(); at < out.points.size(); ++at)
      for (const std::uint32_t p : graph.neighbours(out.points[at])) {
        const Vec3 step = graph.places[p] - graph.places[seed];
        if (owner[p] != kFree || glm::dot(step, step) > reach2) continue;
        owner[p] = node;
        out.points.push_back(p);
      }
  }
  out.first_point.push_back(static_cast<std::uint32_t>(out.points.size()));
  return owner;
}

SurfaceNode mean_of(const PointGraph& graph, std::span<const std::uint32_t> points) {
  SurfaceNode node;
  constexpr double kLeastArea = 1e-12;  // m^2: a point whose triangles have no area still has a place
  Vec3 normal{0, 0, 0};
  for (const auto p : points) {
    const double area = std::max(graph.area[p], kLeastArea);
    node.area += area;
    node.place += area * (graph.places[p] - graph.places[points[0]]);
    normal += area * graph.normals[p];
  }
  node.place = graph.places[points[0]] + node.place / node.area;
  node.normal = glm::length(normal) > 0 ? glm::normalize(normal) : graph.normals[points[0]];
  for (const auto p : points) {
    const Vec3 q = graph.places[p] - node.place;
    node.spread += std::max(graph.area[p], kLeastArea) / node.area * glm::outerProduct(q, q);
  }
  return node;
}

void list_neighbours(const PointGraph& graph, const std::vector<std::uint32_t>& owner, SurfaceNodes& out) {
  std::vector<std::uint32_t> near;
  for (std::uint32_t i = 0; i < out.nodes.size(); ++i) {
    out.first_beside.push_back(static_cast<std::uint32_t>(out.beside.size()));
    near.clear();
    for (const auto p : out.points_of(i))
      for (const auto q : graph.neighbours(p))
        if (owner[q] != i) near.push_back(owner[q]);
    std::sort(near.begin(), near.end());
    near.erase(std::unique(near.begin(), near.end()), near.end());
    out.beside.insert(out.beside.end(), near.begin(), near.end());
  }
  out.first_beside.push_back(static_cast<std::uint32_t>(out.beside.size()));
}

}  // namespace

SurfaceNodes surface_nodes(const PointGraph& graph, double spacing) {
  SurfaceNodes out;
  const auto owner = draw_in(graph, spacing, out);
  out.nodes.reserve(out.first_point.size() - 1);
  for (std::uint32_t i = 0; i + 1 < out.first_point.size(); ++i) out.nodes.push_back(mean_of(graph, out.points_of(i)));
  list_neighbours(graph, owner, out);
  return out;
}

std::span<const std::uint32_t> NodeBall::around(std::uint32_t node, double radius) {
  constexpr double kSameSide = 0.5;  // cosine of 60 degrees
  ++turn_;
  found_.assign(1, node);
  seen_[node] = turn_;
  const SurfaceNode& middle = nodes_.nodes[node];
  for (std::size_t at = 0; at < found_.size(); ++at)
    for (const std::uint32_t other : nodes_.neighbours(found_[at])) {
      if (seen_[other] == turn_) continue;
      seen_[other] = turn_;
      const SurfaceNode& n = nodes_.nodes[other];
      const Vec3 step = n.place - middle.place;
      if (glm::dot(step, step) < radius * radius && glm::dot(n.normal, middle.normal) > kSameSide)
        found_.push_back(other);
    }
  return found_;
}

}  // namespace pontata
