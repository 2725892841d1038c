#include "engine/wall/picking.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>

namespace pontata {

// Inner nodes have count 0 and children at `first` and `first + 1`; leaves hold `count` entries of the order.
struct PickTree::Node {
  Vec3 low, high;
  std::uint32_t first = 0, count = 0;
};

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr std::uint32_t kLeafSize = 4;
constexpr int kBins = 16;

struct Box {
  Vec3 low{kInfinity, kInfinity, kInfinity}, high{-kInfinity, -kInfinity, -kInfinity};
  void add(const Vec3& p) { low = glm::min(low, p), high = glm::max(high, p); }
  void add(const Box& b) { low = glm::min(low, b.low), high = glm::max(high, b.high); }
  double half_area() const {
    const Vec3 d = high - low;
    return d.x < 0 ? 0 : d.x * d.y + d.y * d.z + d.z * d.x;
  }
};

// Based on: Wald, "On fast Construction of SAH-based Bounding Volume Hierarchies", 2007 (binned splits by the middles).
template <class Node>
class TreeBuilder {
 public:
  explicit TreeBuilder(const SurfaceMesh& mesh)
      : order_(mesh.triangles.size()), boxes_(order_.size()), mids_(order_.size()) {
    std::iota(order_.begin(), order_.end(), 0u);
    for (std::size_t t = 0; t < order_.size(); ++t) {
      for (const auto corner : mesh.triangles[t]) boxes_[t].add(mesh.points[corner]);
      mids_[t] = 0.5 * (boxes_[t].low + boxes_[t].high);
    }
    nodes_.reserve(order_.size());
    nodes_.emplace_back();
    split(0, 0, static_cast<std::uint32_t>(order_.size()));
  }
  std::vector<Node> nodes_;
  std::vector<std::uint32_t> order_;

 private:
  void split(std::size_t node, std::uint32_t begin, std::uint32_t end) {
    Box box, mids;
    for (auto i = begin; i < end; ++i) box.add(boxes_[order_[i]]), mids.add(mids_[order_[i]]);
    nodes_[node].low = box.low, nodes_[node].high = box.high;
    const auto middle = end - begin <= kLeafSize ? begin : partition(begin, end, mids);
    if (middle == begin) {
      nodes_[node].first = begin, nodes_[node].count = end - begin;
      return;
    }
    const std::size_t child = nodes_.size();
    nodes_[node].first = static_cast<std::uint32_t>(child);
    nodes_.resize(child + 2);
    split(child, begin, middle);
    split(child + 1, middle, end);
  }

  // Orders begin..end about the cheapest split and returns it; halves by rank when all middles coincide.
  std::uint32_t partition(std::uint32_t begin, std::uint32_t end, const Box& mids) {
    const Vec3 extent = mids.high - mids.low;
    const int axis = extent.x >= extent.y && extent.x >= extent.z ? 0 : (extent.y >= extent.z ? 1 : 2);
    if (!(extent[axis] > 0)) return begin + (end - begin) / 2;
    const double scale = kBins * (1 - 1e-12) / extent[axis];
    const auto bin_of = [&](std::uint32_t t) { return static_cast<int>((mids_[t][axis] - mids.low[axis]) * scale); };
    const int cut = cheapest_cut(begin, end, bin_of);
    const auto middle =
        std::partition(order_.begin() + begin, order_.begin() + end, [&](std::uint32_t t) { return bin_of(t) <= cut; });
    return static_cast<std::uint32_t>(middle - order_.begin());
  }

  template <class BinOf>
  int cheapest_cut(std::uint32_t begin, std::uint32_t end, const BinOf& bin_of) const {
    std::array<Box, kBins> boxes;
    std::array<int, kBins> counts{};
    for (auto i = begin; i < end; ++i) {
      const auto b = static_cast<std::size_t>(bin_of(order_[i]));
      boxes[b].add(boxes_[order_[i]]), ++counts[b];
    }
    std::array<double, kBins> above{};  // cost of bins b+1..
    Box box;
    int count = 0;
    for (std::size_t b = kBins - 1; b > 0; --b) {
      box.add(boxes[b]), count += counts[b];
      above[b - 1] = box.half_area() * count;
    }
    box = Box{}, count = 0;
    int best = 0;
    double least = kInfinity;
    for (std::size_t b = 0; b + 1 < kBins; ++b) {
      box.add(boxes[b]), count += counts[b];
      const double cost = box.half_area() * count + above[b];
      if (cost < least) least = cost, best = static_cast<int>(b);
    }
    return best;
  }

  std::vector<Box> boxes_;
  std::vector<Vec3> mids_;
};

// Distance along the ray at which it enters the box; infinity for a miss or beyond `limit`.
double enter(const Vec3& low, const Vec3& high, const Vec3& origin, const Vec3& inverse, double limit) {
  double from = 0, to = limit;
  for (int k = 0; k < 3; ++k) {
    double a = (low[k] - origin[k]) * inverse[k], b = (high[k] - origin[k]) * inverse[k];
    if (a > b) std::swap(a, b);
    if (a > from) from = a;  // comparisons with NaN (origin on a face, ray along it) leave the bounds open
    if (b < to) to = b;
  }
  constexpr double kSlack = 1 + 1e-12;
  return from <= to * kSlack ? from : kInfinity;
}

// Based on: Woop, Benthin, Wald, "Watertight Ray/Triangle Intersection", 2013: space is sheared so that the ray runs
// along one axis; the signs of the plane cross products that remain are never wrong, only sometimes 0, which counts as
// a hit, so that no ray slips between neighbours.
struct ShearedRay {
  Vec3 origin;
  int x, y, z;  // z: the axis the ray runs along most
  Vec3 shear;

  ShearedRay(const Vec3& from, const Vec3& d) : origin(from) {
    const Vec3 a = glm::abs(d);
    z = a.x >= a.y && a.x >= a.z ? 0 : (a.y >= a.z ? 1 : 2);
    x = (z + 1) % 3, y = (z + 2) % 3;
    shear = {d[x] / d[z], d[y] / d[z], 1 / d[z]};
  }
  Vec3 sheared(const Vec3& p) const {
    const Vec3 q = p - origin;
    return {q[x] - shear.x * q[z], q[y] - shear.y * q[z], shear.z * q[z]};
  }
  bool hits(const std::array<Vec3, 3>& corner, Vec3& weights, double& distance) const {
    const Vec3 a = sheared(corner[0]), b = sheared(corner[1]), c = sheared(corner[2]);
    const Vec3 edge{c.x * b.y - c.y * b.x, a.x * c.y - a.y * c.x, b.x * a.y - b.y * a.x};
    const bool some_negative = edge.x < 0 || edge.y < 0 || edge.z < 0;
    const bool some_positive = edge.x > 0 || edge.y > 0 || edge.z > 0;
    const double sum = edge.x + edge.y + edge.z;
    if ((some_negative && some_positive) || sum == 0) return false;
    weights = edge / sum;
    distance = weights.x * a.z + weights.y * b.z + weights.z * c.z;
    return true;
  }
};

// Weights of the point of the triangle nearest to p. Based on: Ericson, "Real-Time Collision Detection", 2005, 5.1.5.
Vec3 nearest_weights(const std::array<Vec3, 3>& corner, const Vec3& p) {
  const Vec3 ab = corner[1] - corner[0], ac = corner[2] - corner[0], ap = p - corner[0];
  const double d1 = glm::dot(ab, ap), d2 = glm::dot(ac, ap);
  if (d1 <= 0 && d2 <= 0) return {1, 0, 0};
  const Vec3 bp = p - corner[1];
  const double d3 = glm::dot(ab, bp), d4 = glm::dot(ac, bp);
  if (d3 >= 0 && d4 <= d3) return {0, 1, 0};
  const double vc = d1 * d4 - d3 * d2;
  if (vc <= 0 && d1 >= 0 && d3 <= 0) return {1 - d1 / (d1 - d3), d1 / (d1 - d3), 0};
  const Vec3 cp = p - corner[2];
  const double d5 = glm::dot(ab, cp), d6 = glm::dot(ac, cp);
  if (d6 >= 0 && d5 <= d6) return {0, 0, 1};
  const double vb = d5 * d2 - d1 * d6;
  if (vb <= 0 && d2 >= 0 && d6 <= 0) return {1 - d2 / (d2 - d6), 0, d2 / (d2 - d6)};
  const double va = d3 * d6 - d5 * d4;
  if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
    const double w = (d4 - d3) / ((d4 - d3) + (d5 - d6));
    return {0, 1 - w, w};
  }
  const double sum = va + vb + vc;
  return {va / sum, vb / sum, vc / sum};
}

double box_distance2(const Vec3& low, const Vec3& high, const Vec3& p) {
  const Vec3 d = glm::max(glm::max(low - p, p - high), Vec3{0, 0, 0});
  return glm::dot(d, d);
}

std::array<Vec3, 3> corners(const SurfaceMesh& mesh, std::uint32_t t) {
  const auto& tri = mesh.triangles[t];
  return {mesh.points[tri[0]], mesh.points[tri[1]], mesh.points[tri[2]]};
}

// Visits nodes nearest first. `key` gives a node's least possible value, `leaf` handles a triangle and may lower
// `best`.
template <class Node, class Key, class Leaf>
void search(const std::vector<Node>& nodes, const std::vector<std::uint32_t>& order, const double& best, const Key& key,
            const Leaf& leaf) {
  std::vector<std::pair<double, std::uint32_t>> stack{{key(nodes[0]), 0}};
  while (!stack.empty()) {
    const auto [value, index] = stack.back();
    stack.pop_back();
    if (!(value < best)) continue;
    const Node& node = nodes[index];
    for (std::uint32_t i = 0; i < node.count; ++i) leaf(order[node.first + i]);
    if (node.count > 0) continue;
    std::pair<double, std::uint32_t> near{key(nodes[node.first]), node.first};
    std::pair<double, std::uint32_t> far{key(nodes[node.first + 1]), node.first + 1};
    if (far.first < near.first) std::swap(near, far);
    stack.push_back(far);
    stack.push_back(near);
  }
}

}  // namespace

PickTree::PickTree(std::shared_ptr<const SurfaceMesh> mesh) : mesh_(std::move(mesh)) {
  if (mesh_->triangles.empty()) return;
  TreeBuilder<Node> builder(*mesh_);
  nodes_ = std::make_shared<const std::vector<Node>>(std::move(builder.nodes_));
  order_ = std::make_shared<const std::vector<std::uint32_t>>(std::move(builder.order_));
}

std::optional<RayHit> PickTree::cast(const Vec3& origin, const Vec3& direction, double max_distance) const {
  const double length = glm::length(direction);
  if (!nodes_ || !(length > 0)) return std::nullopt;
  const Vec3 unit = direction / length, inverse = 1.0 / unit;
  const ShearedRay ray(origin, unit);
  double best = max_distance;
  std::optional<RayHit> hit;
  search(
      *nodes_, *order_, best, [&](const Node& n) { return enter(n.low, n.high, origin, inverse, best); },
      [&](std::uint32_t t) {
        Vec3 weights;
        double distance = 0;
        if (!ray.hits(corners(*mesh_, t), weights, distance)) return;
        if (distance < 0 || distance > best || (hit && distance == best && t > hit->point.triangle)) return;
        best = distance;
        hit = RayHit{{t, weights}, distance};
      });
  return hit;
}

NearestHit PickTree::nearest(const Vec3& p) const {
  NearestHit hit;
  double best = kInfinity;
  if (!nodes_) return hit;
  search(
      *nodes_, *order_, best, [&](const Node& n) { return box_distance2(n.low, n.high, p); },
      [&](std::uint32_t t) {
        const auto corner = corners(*mesh_, t);
        const Vec3 w = nearest_weights(corner, p);
        const Vec3 d = w.x * (corner[0] - p) + w.y * (corner[1] - p) + w.z * (corner[2] - p);
        const double distance2 = glm::dot(d, d);
        if (distance2 >= best) return;
        best = distance2;
        hit = {{t, w}, std::sqrt(distance2)};
      });
  return hit;
}

}  // namespace pontata
