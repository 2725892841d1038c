#include "engine/chart/ribs.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <numeric>
#include <utility>

#include "engine/chart/joints.h"
#include "engine/chart/rib_normals.h"

namespace pontata {

namespace {

constexpr double kLeastLength = 0.05;  // m
constexpr int kSmoothings = 4;

double degrees(const Vec3& a, const Vec3& b) {
  return std::acos(std::clamp(glm::dot(a, b), -1.0, 1.0)) * 180 / std::numbers::pi;
}

// Two normals at one point.
bool has_arrises(const SurfaceMesh& mesh) {
  std::vector<std::uint32_t> normal(mesh.points.size(), Chart::kNoTriangle);
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
    for (std::size_t k = 0; k < 3; ++k) {
      auto& own = normal[mesh.triangles[t][k]];
      if (own == Chart::kNoTriangle) own = mesh.corner_normals[t][k];
      if (own != mesh.corner_normals[t][k]) return true;
    }
  return false;
}

// Mean over the edge's ends, in degrees; 0 where both sides share their normals.
double arris_turn(const SurfaceMesh& mesh, EdgeSide one, EdgeSide other) {
  const auto at = [&](EdgeSide s, std::size_t step) { return mesh.corner_normals[s.triangle][(s.edge + step) % 3]; };
  if (at(one, 0) == at(other, 1) && at(one, 1) == at(other, 0)) return 0;
  return 0.5 * (degrees(mesh.normals[at(one, 0)], mesh.normals[at(other, 1)]) +
                degrees(mesh.normals[at(one, 1)], mesh.normals[at(other, 0)]));
}

struct RibEdge {
  std::uint32_t a = 0, b = 0;  // points, the smaller first
  double turn = 0;             // degrees
  auto operator<=>(const RibEdge&) const = default;
};

std::vector<RibEdge> turning_edges(const ChartedWall& wall, double least) {
  const SurfaceMesh& mesh = wall.mesh();
  const bool arrises = has_arrises(mesh);
  const auto normals = arrises ? std::vector<Vec3>{} : rib_normals(*wall.chart, least);
  std::vector<RibEdge> edges;
  each_joint(*wall.chart, [&](EdgeSide one, EdgeSide other) {
    const double turn =
        arrises ? arris_turn(mesh, one, other) : degrees(normals[one.triangle], normals[other.triangle]);
    if (turn < least) return;
    const auto& t = mesh.triangles[one.triangle];
    const auto [a, b] = std::minmax(t[one.edge], t[(one.edge + 1) % 3]);
    edges.push_back({a, b, turn});
  });
  std::sort(edges.begin(), edges.end());
  edges.erase(std::unique(edges.begin(), edges.end(),
                          [](const RibEdge& x, const RibEdge& y) { return x.a == y.a && x.b == y.b; }),
              edges.end());
  return edges;
}

// The edges as a graph over the mesh's points.
class RibGraph {
 public:
  RibGraph(const SurfaceMesh& mesh, std::vector<RibEdge> edges)
      : mesh_(mesh), edges_(std::move(edges)), alive_(edges_.size(), 1), first_(mesh.points.size() + 1, 0) {
    for (const auto& e : edges_) ++first_[e.a], ++first_[e.b];
    std::partial_sum(first_.begin(), first_.end(), first_.begin());
    beside_.resize(2 * edges_.size());
    for (std::size_t k = edges_.size(); k-- > 0;) beside_[--first_[edges_[k].a]] = beside_[--first_[edges_[k].b]] = k;
  }

  // Parts without an edge of `strong` degrees, and those shorter than kLeastLength altogether, go.
  void keep_parts(double strong) {
    std::vector<char> seen(edges_.size(), 0);
    for (std::size_t start = 0; start < edges_.size(); ++start) {
      if (seen[start] || !alive_[start]) continue;
      std::vector<std::size_t> part{start};
      seen[start] = 1;
      double length = 0, most = 0;
      for (std::size_t n = 0; n < part.size(); ++n) {
        const auto& e = edges_[part[n]];
        length += length_of(part[n]);
        most = std::max(most, e.turn);
        for (const auto p : {e.a, e.b})
          each_at(p, [&](std::size_t k) {
            if (!std::exchange(seen[k], char{1})) part.push_back(k);
          });
      }
      if (most >= strong && length >= kLeastLength) continue;
      for (const auto k : part) alive_[k] = 0;
    }
  }

  // Short dead ends that branch off a longer line are noise.
  void prune() {
    for (bool again = true; again;) {
      again = false;
      for (const auto& chain : chains()) {
        const auto begin = degree(chain.points.front()), end = degree(chain.points.back());
        if (std::min(begin, end) != 1 || std::max(begin, end) < 3 || chain.length >= kLeastLength) continue;
        for (const auto k : chain.edges) alive_[k] = 0;
        again = true;
      }
    }
  }

  struct Chain {
    std::vector<std::uint32_t> points;
    std::vector<std::size_t> edges;
    double length = 0;  // m on the surface
  };
  // From one end or branching to the next; then what closes on itself.
  std::vector<Chain> chains() const {
    std::vector<Chain> out;
    std::vector<char> used(edges_.size(), 0);
    for (const bool closed : {false, true})
      for (std::size_t k = 0; k < edges_.size(); ++k)
        for (const auto p : {edges_[k].a, edges_[k].b})
          if (alive_[k] && !used[k] && (closed || degree(p) != 2)) out.push_back(follow(p, k, used));
    return out;
  }

 private:
  template <class Each>
  void each_at(std::uint32_t p, const Each& each) const {
    for (auto n = first_[p]; n < first_[p + 1]; ++n)
      if (alive_[beside_[n]]) each(beside_[n]);
  }
  std::size_t degree(std::uint32_t p) const {
    std::size_t count = 0;
    each_at(p, [&](std::size_t) { ++count; });
    return count;
  }
  double length_of(std::size_t k) const { return glm::length(mesh_.points[edges_[k].a] - mesh_.points[edges_[k].b]); }

  Chain follow(std::uint32_t start, std::size_t edge, std::vector<char>& used) const {
    Chain chain;
    chain.points.push_back(start);
    for (std::size_t next = edge; next < edges_.size();) {
      used[next] = 1;
      const auto& e = edges_[next];
      const std::uint32_t p = e.a == chain.points.back() ? e.b : e.a;
      chain.points.push_back(p);
      chain.edges.push_back(next);
      chain.length += length_of(next);
      next = edges_.size();
      if (degree(p) != 2 || p == start) break;
      each_at(p, [&](std::size_t k) {
        if (!used[k]) next = k;
      });
    }
    return chain;
  }

  const SurfaceMesh& mesh_;
  std::vector<RibEdge> edges_;
  std::vector<char> alive_;
  std::vector<std::size_t> first_, beside_;  // edges at each point
};

// Passes of [1 2 1] / 4 along the line, its ends kept where it is open.
void smooth(std::vector<Vec2>& line) {
  const std::size_t n = line.size() - 1;
  const bool closed = line.front() == line.back();
  for (int pass = 0; pass < kSmoothings && n > 2; ++pass) {
    const auto old = line;
    for (std::size_t k = closed ? 0 : 1; k < n; ++k)
      line[k] = 0.25 * (old[k > 0 ? k - 1 : n - 1] + 2.0 * old[k] + old[k + 1]);
    if (closed) line[n] = line[0];
  }
}

}  // namespace

std::shared_ptr<const WallRibs> find_ribs(const ChartedWall& wall, double least_deg) {
  RibGraph graph(wall.mesh(), turning_edges(wall, 0.5 * least_deg));
  graph.keep_parts(least_deg);
  graph.prune();
  const bool on_edges = has_arrises(wall.mesh());
  auto ribs = std::make_shared<WallRibs>();
  for (const auto& chain : graph.chains()) {
    std::vector<Vec2> line;
    for (const auto p : chain.points) line.push_back(to_vec(to_chart(wall.chart->places()[p])));
    if (!on_edges) smooth(line);
    auto& told = ribs->lines.emplace_back();
    for (const Vec2& p : line) told.push_back(to_chart(to_lattice(to_chart(p))));
  }
  return ribs;
}

}  // namespace pontata
