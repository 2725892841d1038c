#include "engine/chart/parameterise_levels.h"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/chart/parameterise_relax.h"

namespace pontata {
namespace {

// Squared distances to planes, as a symmetric 4x4 form.
struct Quadric {
  std::array<double, 10> q{};
  void add_plane(const Vec3& n, const Vec3& through, double weight) {
    const std::array<double, 4> p{n.x, n.y, n.z, -glm::dot(n, through)};
    for (std::size_t i = 0, at = 0; i < 4; ++i)
      for (std::size_t j = i; j < 4; ++j) q[at++] += weight * p[i] * p[j];
  }
  Quadric& operator+=(const Quadric& o) {
    for (std::size_t i = 0; i < q.size(); ++i) q[i] += o.q[i];
    return *this;
  }
  double at(const Vec3& v) const {
    return q[0] * v.x * v.x + q[4] * v.y * v.y + q[7] * v.z * v.z + q[9] +
           2 * (q[1] * v.x * v.y + q[2] * v.x * v.z + q[3] * v.x + q[5] * v.y * v.z + q[6] * v.y + q[8] * v.z);
  }
};

class Coarsener {
 public:
  Coarsener(const LiddedSheet& sheet, Levels& out)
      : sheet_(sheet),
        points_(sheet.points),
        triangles_(sheet.triangles),
        alive_(sheet.triangles.size(), true),
        fans_(sheet.points.size()),
        out_(out) {
    for (std::uint32_t t = 0; t < triangles_.size(); ++t)
      for (const auto corner : triangles_[t]) fans_[corner].push_back(t);
    for (const auto& fan : fans_) left_ += !fan.empty();
    set_quadrics();
  }

  std::size_t left() const { return left_; }

  // Takes out about a sixth of the points, cheapest first; returns the number taken.
  std::size_t pass(std::size_t target) {
    std::vector<Candidate> order;
    for (std::uint32_t p = 0; p < points_.size(); ++p)
      if (!fans_[p].empty())
        if (const Candidate c = best(p); c.cost < std::numeric_limits<double>::infinity()) order.push_back(c);
    std::sort(order.begin(), order.end(), [](const Candidate& a, const Candidate& b) {
      return a.cost != b.cost ? a.cost < b.cost : a.from < b.from;
    });
    std::vector<bool> locked(points_.size(), false);
    const std::size_t most = std::min(left_ - std::min(left_, target), std::max<std::size_t>(1, left_ / 6));
    std::size_t taken = 0;
    for (const Candidate& c : order) {
      if (taken == most) break;
      if (locked[c.from] || locked[c.onto]) continue;
      const Ring ring = ring_of(c.from);
      if (std::any_of(ring.points.begin(), ring.points.end(), [&](auto q) { return locked[q]; })) continue;
      if (!allowed(c.from, c.onto, ring)) continue;
      for (const auto q : ring.points) locked[q] = true;
      locked[c.from] = true;
      collapse(c.from, c.onto, ring);
      ++taken;
    }
    return taken;
  }

  std::vector<Triangle> triangles() const {
    std::vector<Triangle> out;
    for (std::size_t t = 0; t < triangles_.size(); ++t)
      if (alive_[t]) out.push_back(triangles_[t]);
    return out;
  }

 private:
  struct Ring {
    std::vector<std::uint32_t> points;
    bool closed = true;
  };
  struct Candidate {
    double cost = std::numeric_limits<double>::infinity();
    std::uint32_t from = 0, onto = 0;
  };

  Vec3 cross_of(const Triangle& t) const {
    return glm::cross(points_[t[1]] - points_[t[0]], points_[t[2]] - points_[t[0]]);
  }

  void set_quadrics() {
    quadrics_.resize(points_.size());
    for (const Triangle& t : triangles_) {
      if (sheet_.is_lid(t)) continue;
      const Vec3 n = cross_of(t);
      const double twice = glm::length(n);
      if (!(twice > 0)) continue;
      for (const auto corner : t) quadrics_[corner].add_plane(n / twice, points_[corner], twice);
    }
    for (std::uint32_t p = 0; p < points_.size(); ++p) {
      if (fans_[p].empty()) continue;
      const Ring ring = ring_of(p);
      for (const auto q : ring.points) {  // a plane upright on the rim keeps its line
        if (!on_rim(p, q, ring)) continue;
        const Vec3 edge = points_[q] - points_[p];
        const Vec3 side = glm::cross(edge, cross_of(triangles_[fans_[p][0]]));
        const double length = glm::length(side);
        if (length > 0) quadrics_[p].add_plane(side / length, points_[p], 4 * glm::dot(edge, edge));
      }
    }
  }

  // The edge from p to its neighbour q belongs to the outer rim or to the rim of a hole.
  bool on_rim(std::uint32_t p, std::uint32_t q, const Ring& ring) const {
    if (!ring.closed) return q == ring.points.front() || q == ring.points.back();
    if (sheet_.hole[p] == 0 || sheet_.hole[q] != sheet_.hole[p]) return false;
    return std::any_of(fans_[p].begin(), fans_[p].end(), [&](auto t) {
      const Triangle& c = triangles_[t];
      return sheet_.is_lid(c) && (c[0] == q || c[1] == q || c[2] == q);
    });
  }

  // The fan's outer edges p->q chained into one path.
  Ring ring_of(std::uint32_t p) const {
    std::vector<std::pair<std::uint32_t, std::uint32_t>> edges;
    for (const auto t : fans_[p]) {
      const Triangle& c = triangles_[t];
      const std::size_t k = c[0] == p ? 0 : c[1] == p ? 1 : 2;
      edges.emplace_back(c[(k + 1) % 3], c[(k + 2) % 3]);
    }
    std::size_t first = 0;
    Ring ring;
    for (std::size_t i = 0; i < edges.size() && ring.closed; ++i) {
      const bool entered =
          std::any_of(edges.begin(), edges.end(), [&](const auto& e) { return e.second == edges[i].first; });
      if (!entered) first = i, ring.closed = false;
    }
    std::uint32_t at = edges[first].first;
    for (std::size_t n = 0; n < edges.size(); ++n) {
      ring.points.push_back(at);
      for (const auto& e : edges)
        if (e.first == at) {
          at = e.second;
          break;
        }
    }
    if (!ring.closed) ring.points.push_back(at);
    return ring;
  }

  Candidate best(std::uint32_t p) const {
    const Ring ring = ring_of(p);
    Candidate out;
    const bool of_rim = !ring.closed || sheet_.hole[p] != 0;
    if (p >= sheet_.lid_points) return out;
    for (const auto q : ring.points) {
      if (q >= sheet_.lid_points || (of_rim && !on_rim(p, q, ring))) continue;
      const Vec3 edge = points_[q] - points_[p];
      const double size = glm::dot(edge, edge);
      const double cost = quadrics_[p].at(points_[q]) + 1e-3 * size * size;
      if (cost < out.cost && allowed(p, q, ring)) out = {cost, p, q};
    }
    return out;
  }

  bool neighbours(std::uint32_t a, std::uint32_t b) const {
    return std::any_of(fans_[a].begin(), fans_[a].end(), [&](auto t) {
      const Triangle& c = triangles_[t];
      return c[0] == b || c[1] == b || c[2] == b;
    });
  }

  // Keeps the sheet a sheet (the link condition) and lets no triangle turn over or become a needle.
  bool allowed(std::uint32_t from, std::uint32_t onto, const Ring& ring) const {
    const std::size_t n = ring.points.size();
    if (n < (sheet_.hole[from] == 0 ? 3u : 4u)) return false;  // ears stay: they could not return behind their rim
    std::size_t common = 0;
    for (const auto q : ring.points) common += q != onto && neighbours(q, onto);
    if (common != (ring.closed ? 2u : 1u)) return false;
    for (const auto t : fans_[from]) {
      Triangle moved = triangles_[t];
      if (sheet_.is_lid(moved) || std::find(moved.begin(), moved.end(), onto) != moved.end()) continue;
      const Vec3 before = cross_of(moved);
      std::replace(moved.begin(), moved.end(), from, onto);
      const Vec3 after = cross_of(moved);
      if (glm::dot(before, after) <= 0.2 * glm::length(before) * glm::length(after)) return false;
      if (slender(moved) < std::min(0.08, slender(triangles_[t]))) return false;
    }
    return true;
  }

  double slender(const Triangle& t) const {
    double longest = 0;
    for (std::size_t k = 0; k < 3; ++k) {
      const Vec3 e = points_[t[(k + 1) % 3]] - points_[t[k]];
      longest = std::max(longest, glm::dot(e, e));
    }
    return glm::length(cross_of(t)) / std::max(longest, 1e-300);
  }

  void collapse(std::uint32_t from, std::uint32_t onto, const Ring& ring) {
    out_.collapses.push_back({from, static_cast<std::uint32_t>(out_.rings.size()),
                              static_cast<std::uint32_t>(ring.points.size()), ring.closed});
    out_.rings.insert(out_.rings.end(), ring.points.begin(), ring.points.end());
    for (const auto t : fans_[from]) {
      Triangle& c = triangles_[t];
      if (std::find(c.begin(), c.end(), onto) != c.end()) {
        alive_[t] = false;
        for (const auto q : c)
          if (q != from) std::erase(fans_[q], t);
      } else {
        std::replace(c.begin(), c.end(), from, onto);
        fans_[onto].push_back(t);
      }
    }
    fans_[from].clear();
    quadrics_[onto] += quadrics_[from];
    --left_;
  }

  const LiddedSheet& sheet_;
  const std::vector<Vec3>& points_;
  std::vector<Triangle> triangles_;
  std::vector<bool> alive_;
  std::vector<std::vector<std::uint32_t>> fans_;
  std::vector<Quadric> quadrics_;
  std::size_t left_ = 0;
  Levels& out_;
};

// ---- the way back

using Polygon = std::vector<Vec2>;

// The part of a convex polygon on the left of a->b.
Polygon left_of(const Polygon& polygon, const Vec2& a, const Vec2& b) {
  Polygon out;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vec2 &p = polygon[i], &q = polygon[(i + 1) % polygon.size()];
    const double sp = cross2(b - a, p - a), sq = cross2(b - a, q - a);
    if (sp >= 0) out.push_back(p);
    if ((sp > 0 && sq < 0) || (sp < 0 && sq > 0)) out.push_back(p + (q - p) * (sp / (sp - sq)));
  }
  return out;
}

// Middle of the places from which every outer edge of the fan is seen from its left.
Vec2 kernel_middle(const std::vector<FanTriangle>& fan, bool behind_rim) {
  Vec2 low(1e300), high(-1e300);
  for (const FanTriangle& f : fan) low = glm::min(low, glm::min(f.b, f.c)), high = glm::max(high, glm::max(f.b, f.c));
  const Vec2 more = 0.5 * (high - low) + Vec2(1e-9);
  low -= more, high += more;
  Polygon kernel{low, {high.x, low.y}, high, {low.x, high.y}};
  for (const FanTriangle& f : fan) kernel = left_of(kernel, f.b, f.c);
  if (behind_rim) kernel = left_of(kernel, fan.back().c, fan.front().b);
  Vec2 sum{0, 0};
  double weight = 0;
  for (std::size_t i = 1; i + 1 < kernel.size(); ++i) {
    const double area = cross2(kernel[i] - kernel[0], kernel[i + 1] - kernel[0]);
    sum += area * (kernel[0] + kernel[i] + kernel[i + 1]) / 3.0;
    weight += area;
  }
  return weight > 0 ? sum / weight : Vec2(std::numeric_limits<double>::quiet_NaN());
}

// Smallest share of its reference area that a triangle of the fan has with the point at p; negative where one folds.
double least_share(const std::vector<FanTriangle>& fan, const Vec2& p) {
  double least = std::numeric_limits<double>::infinity();
  for (const FanTriangle& f : fan) least = std::min(least, 0.5 * cross2(f.b - p, f.c - p) / f.flat.area);
  return std::isfinite(p.x + p.y) ? least : -1;
}

// Mean of where each triangle of the fan, laid on its outer edge, would put the point.
Vec2 laid_on_edges(const std::vector<FanTriangle>& fan) {
  Vec2 sum{0, 0};
  double weight = 0;
  for (const FanTriangle& f : fan) {
    // In the flat triangle: height over the outer edge 1/|g0|, foot at the share -g0.g1/|g0|^2 towards b.
    const auto& g = f.flat.gradient;
    const double height2 = 1 / g[0].squaredNorm(), share_b = -g[0].dot(g[1]) * height2;
    const Vec2 edge = f.c - f.b;
    const double length = std::max(glm::length(edge), 1e-300);
    const Vec2 foot = f.c - edge * share_b;
    sum += f.flat.area * (foot + Vec2{-edge.y, edge.x} / length * std::sqrt(height2));
    weight += f.flat.area;
  }
  return sum / weight;
}

// Where a point returns to: as on the surface where that folds nothing, else the middle of what is left to it.
Vec2 return_place(const std::vector<FanTriangle>& fan, bool inside, bool dented) {
  if (!inside && dented) return kernel_middle(fan, true);
  const Vec2 laid = laid_on_edges(fan);
  if (least_share(fan, laid) > 0.2) return laid;
  const Vec2 middle = kernel_middle(fan, false);
  return least_share(fan, laid) > least_share(fan, middle) ? laid : middle;
}

// The triangles round a point that returns; false where it lies on a rim. An open lid is left out, the fan then runs
// from one side of it to the other.
bool fan_of(const LiddedSheet& sheet, const Collapse& c, const std::uint32_t* ring, const std::vector<Vec2>& places,
            std::vector<FanTriangle>& fan) {
  std::uint32_t first = 0, count = c.inside ? c.count : c.count - 1;
  for (std::uint32_t k = 0; k < c.count; ++k)
    if (ring[k] >= sheet.lid_points && sheet.open[ring[k] - sheet.lid_points]) first = k + 1, count = c.count - 2;
  fan.clear();
  for (std::uint32_t k = first; k < first + count; ++k) {
    const std::uint32_t b = ring[k % c.count], d = ring[(k + 1) % c.count];
    fan.push_back({lay_flat(sheet.points[c.point], sheet.points[b], sheet.points[d]), places[b], places[d]});
    if (sheet.is_lid({c.point, b, d})) fan.back().flat.area *= 1e-3;
  }
  return count == c.count;
}

}  // namespace

LiddedSheet close_holes(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles, const Loops& rims) {
  LiddedSheet out{points, triangles, {}, static_cast<std::uint32_t>(points.size()), {}};
  out.open.assign(rims.size() - 1, false);
  out.hole.assign(points.size() + rims.size() - 1, 0);
  for (std::uint32_t h = 1; h < rims.size(); ++h) {
    const auto middle = static_cast<std::uint32_t>(out.points.size());
    Vec3 sum{0, 0, 0};
    for (std::size_t i = 0; i < rims[h].size(); ++i) {
      const std::uint32_t a = rims[h][i], b = rims[h][(i + 1) % rims[h].size()];
      out.triangles.push_back({b, a, middle});
      out.hole[a] = h;
      sum += points[a];
    }
    out.points.push_back(sum / static_cast<double>(rims[h].size()));
  }
  return out;
}

Levels coarsen(const LiddedSheet& sheet, const std::vector<std::size_t>& targets, Progress* progress) {
  Levels out;
  out.levels.push_back({sheet.triangles, 0});
  Coarsener coarsener(sheet, out);
  for (const std::size_t target : targets) {
    const std::size_t before = out.collapses.size();
    while (coarsener.left() > target && !is_cancelled(progress))
      if (coarsener.pass(target) < coarsener.left() / 200 + 1) break;
    if (out.collapses.size() > before) out.levels.push_back({coarsener.triangles(), out.collapses.size()});
  }
  return out;
}

bool refine(const LiddedSheet& sheet, const Levels& levels, std::size_t to, bool dented, std::vector<Vec2>& places) {
  std::vector<FanTriangle> fan;
  for (std::size_t i = levels.levels[to + 1].collapses; i-- > levels.levels[to].collapses;) {
    const Collapse& c = levels.collapses[i];
    const bool inside = fan_of(sheet, c, levels.rings.data() + c.first, places, fan);
    Vec2 p = return_place(fan, inside, dented);
    if (!(least_share(fan, p) > 0)) return false;
    if (inside || !dented)
      for (int step = 0; step < 3; ++step) p = relaxed_place(fan, p);
    places[c.point] = p;
  }
  return true;
}

}  // namespace pontata
