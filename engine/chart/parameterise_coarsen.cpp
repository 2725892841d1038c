#include <algorithm>
#include <cmath>
#include <limits>
#include <span>
#include <utility>

#include "engine/base/parallel.h"
#include "engine/chart/parameterise_levels.h"

namespace pontata {
namespace {

constexpr std::size_t kGrain = 2000;       // points worth a worker of its own
constexpr std::size_t kShare = 5;          // a pass takes out no more than this part of the points
constexpr double kLeastSlender = 0.08;     // triangles made thinner than this are worse than those they replace
constexpr double kLeastTurn2 = 0.2 * 0.2;  // squared cosine of the angle that a triangle may turn by
constexpr double kEdgeCost = 1e-3;         // of an edge's length^4 against the quadric: short edges first on flat walls
constexpr std::uint32_t kNobody = 0xffffffffu;

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

struct Ring {
  std::vector<std::uint32_t> points;
  bool closed = true;
};

// The triangles round every point. Fans that grow move to the end of the pool; a rebuild packs it again.
class Fans {
 public:
  void build(const std::vector<Triangle>& triangles, std::size_t points) {
    begin_.assign(points, 0);
    count_.assign(points, 0);
    for (const Triangle& t : triangles)
      for (const auto corner : t) ++count_[corner];
    std::uint32_t total = 0;
    for (std::size_t p = 0; p < points; ++p) begin_[p] = total, total += std::exchange(count_[p], 0);
    pool_.resize(total);
    for (std::uint32_t t = 0; t < triangles.size(); ++t)
      for (const auto corner : triangles[t]) pool_[begin_[corner] + count_[corner]++] = t;
  }
  std::span<const std::uint32_t> of(std::uint32_t p) const { return {pool_.data() + begin_[p], count_[p]}; }
  void take_out(std::uint32_t p, std::uint32_t t) {
    const auto first = pool_.begin() + begin_[p], last = first + count_[p];
    std::copy(std::find(first, last, t) + 1, last, std::find(first, last, t));
    --count_[p];
  }
  void append(std::uint32_t p, const std::vector<std::uint32_t>& more) {
    const auto from = begin_[p];
    begin_[p] = static_cast<std::uint32_t>(pool_.size());
    for (std::uint32_t i = 0; i < count_[p]; ++i) pool_.push_back(pool_[from + i]);
    pool_.insert(pool_.end(), more.begin(), more.end());
    count_[p] += static_cast<std::uint32_t>(more.size());
  }
  void clear(std::uint32_t p) { count_[p] = 0; }

 private:
  std::vector<std::uint32_t> begin_, count_, pool_;
};

// What looking at one point needs, kept from point to point.
struct Look {
  Ring ring;
  std::vector<std::pair<std::uint32_t, std::uint32_t>> edges;
  std::vector<double> costs;
};

class Coarsener {
 public:
  Coarsener(const LiddedSheet& sheet, Levels& out)
      : sheet_(sheet), points_(sheet.points), triangles_(sheet.triangles), out_(out) {
    fans_.build(triangles_, points_.size());
    find_outer_rim();
    for (std::uint32_t p = 0; p < points_.size(); ++p)
      if (!fans_.of(p).empty()) living_.push_back(p);
    set_quadrics();
  }

  std::size_t left() const { return living_.size(); }
  const std::vector<Triangle>& triangles() const { return triangles_; }

  // Takes out up to a fifth of the points, cheapest first, no two of them neighbours; returns the number taken.
  std::size_t pass(std::size_t target) {
    const auto order = candidates();
    const std::size_t most = std::min(left() - std::min(left(), target), std::max<std::size_t>(1, left() / kShare));
    std::vector<bool> locked(points_.size(), false), gone(triangles_.size(), false);
    Look look;
    std::size_t taken = 0;
    out_.passes.push_back(out_.collapses.size());
    for (const Candidate& c : order) {
      if (taken == most) break;
      if (locked[c.from]) continue;
      ring_of(c.from, look);
      if (!keeps_sheet(c.from, c.onto, look.ring)) continue;
      for (const auto q : look.ring.points) locked[q] = true;
      locked[c.from] = true;
      collapse(c.from, c.onto, look.ring, gone);
      ++taken;
    }
    pack(gone);
    return taken;
  }

 private:
  struct Candidate {
    double cost = std::numeric_limits<double>::infinity();
    std::uint32_t from = kNobody, onto = kNobody;
    bool operator<(const Candidate& o) const { return cost != o.cost ? cost < o.cost : from < o.from; }
  };

  Vec3 cross_of(const Triangle& t) const {
    return glm::cross(points_[t[1]] - points_[t[0]], points_[t[2]] - points_[t[0]]);
  }

  // On the outer rim the neighbours that a point's edges lead to and those they come from are not the same.
  void find_outer_rim() {
    std::vector<std::uint32_t> odd(points_.size(), 0);
    for (const Triangle& t : triangles_)
      for (std::size_t k = 0; k < 3; ++k) odd[t[k]] ^= t[(k + 1) % 3] ^ t[(k + 2) % 3];
    outer_.resize(points_.size());
    for (std::size_t p = 0; p < odd.size(); ++p) outer_[p] = odd[p] != 0;
  }

  void set_quadrics() {
    quadrics_.resize(points_.size());
    for_blocks(points_.size(), kGrain, [&](std::size_t begin, std::size_t end) {
      Look look;
      for (std::size_t p = begin; p < end; ++p) set_quadric(static_cast<std::uint32_t>(p), look);
    });
  }

  void set_quadric(std::uint32_t p, Look& look) {
    for (const auto t : fans_.of(p)) {
      if (sheet_.is_lid(triangles_[t])) continue;
      const Vec3 n = cross_of(triangles_[t]);
      const double twice = glm::length(n);
      if (twice > 0) quadrics_[p].add_plane(n / twice, points_[p], twice);
    }
    if (fans_.of(p).empty() || !(outer_[p] || sheet_.hole[p] != 0)) return;
    ring_of(p, look);
    for (const auto q : look.ring.points) {  // a plane upright on the rim keeps its line
      if (!on_rim(p, q, look.ring)) continue;
      const Vec3 edge = points_[q] - points_[p];
      const Vec3 side = glm::cross(edge, cross_of(triangles_[fans_.of(p)[0]]));
      const double length = glm::length(side);
      if (length > 0) quadrics_[p].add_plane(side / length, points_[p], 4 * glm::dot(edge, edge));
    }
  }

  // The edge from p to its neighbour q belongs to the outer rim or to the rim of a hole.
  bool on_rim(std::uint32_t p, std::uint32_t q, const Ring& ring) const {
    if (!ring.closed) return q == ring.points.front() || q == ring.points.back();
    if (sheet_.hole[p] == 0 || sheet_.hole[q] != sheet_.hole[p]) return false;
    const auto fan = fans_.of(p);
    return std::any_of(fan.begin(), fan.end(), [&](auto t) {
      const Triangle& c = triangles_[t];
      return sheet_.is_lid(c) && (c[0] == q || c[1] == q || c[2] == q);
    });
  }

  // The fan's outer edges p->q chained into one path.
  void ring_of(std::uint32_t p, Look& look) const {
    auto& edges = look.edges;
    edges.clear();
    for (const auto t : fans_.of(p)) {
      const Triangle& c = triangles_[t];
      const std::size_t k = c[0] == p ? 0 : c[1] == p ? 1 : 2;
      edges.emplace_back(c[(k + 1) % 3], c[(k + 2) % 3]);
    }
    look.ring.closed = !outer_[p];
    if (outer_[p])  // begin with the edge that no other leads to
      for (std::size_t i = 0; i < edges.size(); ++i)
        if (std::none_of(edges.begin(), edges.end(), [&](const auto& e) { return e.second == edges[i].first; }))
          std::swap(edges[0], edges[i]);
    for (std::size_t n = 1; n < edges.size(); ++n)
      for (std::size_t i = n; i < edges.size(); ++i)
        if (edges[i].first == edges[n - 1].second) {
          std::swap(edges[n], edges[i]);
          break;
        }
    auto& ring = look.ring.points;
    ring.clear();
    for (const auto& e : edges) ring.push_back(e.first);
    if (outer_[p]) ring.push_back(edges.back().second);
  }

  std::vector<Candidate> candidates() const {
    std::vector<Candidate> all(living_.size());
    for_blocks(living_.size(), kGrain, [&](std::size_t begin, std::size_t end) {
      Look look;
      for (std::size_t i = begin; i < end; ++i) all[i] = best(living_[i], look);
    });
    std::erase_if(all, [](const Candidate& c) { return c.from == kNobody; });
    std::sort(all.begin(), all.end());
    return all;
  }

  // The cheapest neighbour that the point may be moved onto.
  Candidate best(std::uint32_t p, Look& look) const {
    if (p >= sheet_.lid_points) return {};
    ring_of(p, look);
    const Ring& ring = look.ring;
    const bool of_rim = outer_[p] || sheet_.hole[p] != 0;
    const double never = std::numeric_limits<double>::infinity();
    auto& costs = look.costs;
    costs.clear();
    for (const auto q : ring.points) {
      const Vec3 edge = points_[q] - points_[p];
      const double size = glm::dot(edge, edge);
      const bool ruled_out = q >= sheet_.lid_points || (of_rim && !on_rim(p, q, ring));
      costs.push_back(ruled_out ? never : quadrics_[p].at(points_[q]) + kEdgeCost * size * size);
    }
    for (;;) {
      const auto least = std::min_element(costs.begin(), costs.end());
      if (*least == never) return {};
      const auto q = ring.points[static_cast<std::size_t>(least - costs.begin())];
      if (keeps_shape(p, q) && keeps_sheet(p, q, ring)) return {*least, p, q};
      *least = never;
    }
  }

  // The link condition: the two ends have no neighbours in common but those across the edge.
  bool keeps_sheet(std::uint32_t from, std::uint32_t onto, const Ring& ring) const {
    if (ring.points.size() < (sheet_.hole[from] == 0 ? 3u : 4u))
      return false;  // ears stay: they could not return behind their rim
    std::size_t common = 0;
    for (const auto q : ring.points) common += q != onto && neighbours(onto, q);
    return common == (ring.closed ? 2u : 1u);
  }

  bool neighbours(std::uint32_t a, std::uint32_t b) const {
    for (const auto t : fans_.of(a)) {
      const Triangle& c = triangles_[t];
      if (c[0] == b || c[1] == b || c[2] == b) return true;
    }
    return false;
  }

  // No triangle turns over or becomes a needle.
  bool keeps_shape(std::uint32_t from, std::uint32_t onto) const {
    for (const auto t : fans_.of(from)) {
      Triangle moved = triangles_[t];
      if (sheet_.is_lid(moved) || moved[0] == onto || moved[1] == onto || moved[2] == onto) continue;
      const Vec3 before = cross_of(moved);
      std::replace(moved.begin(), moved.end(), from, onto);
      const Vec3 after = cross_of(moved);
      const double turn = glm::dot(before, after), after2 = glm::dot(after, after);
      if (turn <= 0 || turn * turn <= kLeastTurn2 * glm::dot(before, before) * after2) return false;
      const double slender2 = after2 / longest4(moved);
      if (slender2 < kLeastSlender * kLeastSlender && slender2 < glm::dot(before, before) / longest4(triangles_[t]))
        return false;
    }
    return true;
  }

  // Fourth power of the longest edge.
  double longest4(const Triangle& t) const {
    double longest = 1e-150;
    for (std::size_t k = 0; k < 3; ++k) {
      const Vec3 e = points_[t[(k + 1) % 3]] - points_[t[k]];
      longest = std::max(longest, glm::dot(e, e));
    }
    return longest * longest;
  }

  void collapse(std::uint32_t from, std::uint32_t onto, const Ring& ring, std::vector<bool>& gone) {
    out_.collapses.push_back({from, static_cast<std::uint32_t>(out_.rings.size()),
                              static_cast<std::uint32_t>(ring.points.size()), ring.closed});
    out_.rings.insert(out_.rings.end(), ring.points.begin(), ring.points.end());
    std::vector<std::uint32_t> moved;
    for (const auto t : fans_.of(from)) {
      Triangle& c = triangles_[t];
      if (std::find(c.begin(), c.end(), onto) != c.end()) {
        gone[t] = true;
        for (const auto q : c)
          if (q != from) fans_.take_out(q, t);
      } else {
        std::replace(c.begin(), c.end(), from, onto);
        moved.push_back(t);
      }
    }
    fans_.clear(from);
    fans_.append(onto, moved);
    quadrics_[onto] += quadrics_[from];
  }

  void pack(const std::vector<bool>& gone) {
    std::size_t kept = 0;
    for (std::size_t t = 0; t < triangles_.size(); ++t)
      if (!gone[t]) triangles_[kept++] = triangles_[t];
    triangles_.resize(kept);
    std::erase_if(living_, [&](auto p) { return fans_.of(p).empty(); });
    fans_.build(triangles_, points_.size());
  }

  const LiddedSheet& sheet_;
  const std::vector<Vec3>& points_;
  std::vector<Triangle> triangles_;
  Fans fans_;
  std::vector<char> outer_;  // whether the point lies on the outer rim
  std::vector<std::uint32_t> living_;
  std::vector<Quadric> quadrics_;
  Levels& out_;
};

}  // namespace

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

}  // namespace pontata
