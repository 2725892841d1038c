#include "engine/wall/scan_needles.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "engine/wall/scan_topology.h"

namespace pontata {
namespace {

struct Shape {
  double altitude = 0, longest = 0, shortest = 0;
  std::size_t longest_edge = 0, shortest_edge = 0;
  bool thin() const { return altitude < std::max(kLeastAltitude, kLeastSlender * longest); }
  double slender() const { return altitude / std::max(longest, 1e-300); }
};

Shape shape_of(const std::vector<Vec3>& points, const Triangle& t) {
  Shape s;
  s.shortest = 1e300;
  for (std::size_t k = 0; k < 3; ++k) {
    const double length = glm::length(points[t[(k + 1) % 3]] - points[t[k]]);
    if (length > s.longest) s.longest = length, s.longest_edge = k;
    if (length < s.shortest) s.shortest = length, s.shortest_edge = k;
  }
  s.altitude = 2 * triangle_area(points, t) / std::max(s.longest, 1e-300);
  return s;
}

// One pass over the thin triangles; a mended place is locked until the next pass.
class Mender {
 public:
  explicit Mender(Soup& sheet)
      : sheet_(sheet),
        across_(link_triangles(sheet.points, sheet.triangles)),
        gone_(sheet.triangles.size(), false),
        locked_(sheet.points.size(), false) {
    index_fans();
  }

  std::size_t pass() {
    std::size_t mended = 0;
    for (std::uint32_t t = 0; t < sheet_.triangles.size(); ++t) {
      const Triangle& corners = sheet_.triangles[t];
      const Shape shape = shape_of(sheet_.points, corners);
      if (!shape.thin() || locked_[corners[0]] || locked_[corners[1]] || locked_[corners[2]]) continue;
      const bool needle = shape.shortest < 3 * shape.altitude || shape.shortest < 2 * kLeastAltitude;
      mended += needle ? collapse(t, shape.shortest_edge) : flatten(t, shape);
    }
    compact(sheet_, gone_);
    return mended;
  }

 private:
  void index_fans() {
    start_.assign(sheet_.points.size() + 1, 0);
    for (const Triangle& t : sheet_.triangles)
      for (const auto corner : t) ++start_[corner + 1];
    std::partial_sum(start_.begin(), start_.end(), start_.begin());
    fans_.resize(start_.back());
    auto at = start_;
    for (std::uint32_t t = 0; t < sheet_.triangles.size(); ++t)
      for (const auto corner : sheet_.triangles[t]) fans_[at[corner]++] = t;
  }

  template <class F>
  void for_fan(std::uint32_t p, F f) const {
    for (std::size_t i = start_[p]; i < start_[p + 1]; ++i) f(fans_[i]);
  }

  bool on_border(std::uint32_t p) const {
    bool border = false;
    for_fan(p, [&](std::uint32_t t) {
      for (std::size_t k = 0; k < 3; ++k)
        border |=
            across_[t][k] == kNoNeighbour && (sheet_.triangles[t][k] == p || sheet_.triangles[t][(k + 1) % 3] == p);
    });
    return border;
  }

  std::vector<std::uint32_t> ring(std::uint32_t p) const {
    std::vector<std::uint32_t> out;
    for_fan(p, [&](std::uint32_t t) {
      for (const auto corner : sheet_.triangles[t])
        if (corner != p) out.push_back(corner);
    });
    std::sort(out.begin(), out.end());
    out.erase(std::unique(out.begin(), out.end()), out.end());
    return out;
  }

  void lock_around(std::uint32_t p) {
    locked_[p] = true;
    for (const auto q : ring(p)) locked_[q] = true;
  }

  // A flat triangle: its long edge is turned, or, on the border, it goes.
  bool flatten(std::uint32_t t, const Shape& shape) {
    const Triangle corners = sheet_.triangles[t];
    const std::size_t k = shape.longest_edge;
    const std::uint32_t a = corners[k], b = corners[(k + 1) % 3], c = corners[(k + 2) % 3];
    const std::uint32_t n = across_[t][k];
    if (n == kNoNeighbour) return drop_at_border(t, c);
    std::uint32_t d = a;
    for (const auto corner : sheet_.triangles[n])
      if (corner != a && corner != b) d = corner;
    if (locked_[d]) return false;
    const auto around = ring(c);
    if (std::binary_search(around.begin(), around.end(), d)) return false;
    const Triangle one{a, d, c}, two{d, b, c};
    const double before = std::min(shape.slender(), shape_of(sheet_.points, sheet_.triangles[n]).slender());
    const double after = std::min(shape_of(sheet_.points, one).slender(), shape_of(sheet_.points, two).slender());
    if (after <= 2 * before) return false;
    lock_around(a), lock_around(b), lock_around(c), lock_around(d);
    sheet_.triangles[t] = one;
    sheet_.triangles[n] = two;
    return true;
  }

  bool drop_at_border(std::uint32_t t, std::uint32_t apex) {
    if (on_border(apex)) return false;
    for (const auto corner : sheet_.triangles[t]) lock_around(corner);
    return gone_[t] = true;
  }

  // The short edge k of t vanishes: its first end moves onto its second, the other way round where only that is safe.
  bool collapse(std::uint32_t t, std::size_t k) {
    const std::uint32_t a = sheet_.triangles[t][k], b = sheet_.triangles[t][(k + 1) % 3];
    const bool at_border = across_[t][k] == kNoNeighbour;
    const bool border_a = on_border(a), border_b = on_border(b);
    if (!at_border && border_a && border_b) return false;
    const auto ring_a = ring(a), ring_b = ring(b);
    std::vector<std::uint32_t> common;
    std::set_intersection(ring_a.begin(), ring_a.end(), ring_b.begin(), ring_b.end(), std::back_inserter(common));
    if (common.size() != (at_border ? 1u : 2u)) return false;
    if ((!border_a || border_b) && move_onto(a, b)) return true;
    return (!border_b || border_a) && move_onto(b, a);
  }

  bool move_onto(std::uint32_t from, std::uint32_t onto) {
    bool safe = true;
    std::size_t left = 0;
    for_fan(from, [&](std::uint32_t t) {
      safe &= !gone_[t];
      Triangle moved = sheet_.triangles[t];
      if (std::find(moved.begin(), moved.end(), onto) != moved.end()) return;
      ++left;
      const Vec3 before = cross_of(moved);
      std::replace(moved.begin(), moved.end(), from, onto);
      safe &= glm::dot(before, cross_of(moved)) >= 0 &&
              shape_of(sheet_.points, moved).slender() > 0.2 * shape_of(sheet_.points, sheet_.triangles[t]).slender();
    });
    for (const auto q : ring(from)) safe &= !locked_[q];
    for (const auto q : ring(onto)) safe &= !locked_[q];
    if (!safe || left == 0) return false;
    lock_around(from), lock_around(onto);
    for_fan(from, [&](std::uint32_t t) {
      Triangle& corners = sheet_.triangles[t];
      if (std::find(corners.begin(), corners.end(), onto) != corners.end())
        gone_[t] = true;
      else
        std::replace(corners.begin(), corners.end(), from, onto);
    });
    return true;
  }

  Vec3 cross_of(const Triangle& t) const {
    return glm::cross(sheet_.points[t[1]] - sheet_.points[t[0]], sheet_.points[t[2]] - sheet_.points[t[0]]);
  }

  Soup& sheet_;
  std::vector<Triangle> across_;
  std::vector<bool> gone_, locked_;
  std::vector<std::size_t> start_;
  std::vector<std::uint32_t> fans_;
};

}  // namespace

std::size_t mend_needles(Soup& sheet) {
  std::size_t total = 0;
  for (int pass = 0; pass < 16; ++pass) {
    const bool any = std::any_of(sheet.triangles.begin(), sheet.triangles.end(),
                                 [&](const Triangle& t) { return shape_of(sheet.points, t).thin(); });
    if (!any) break;
    const std::size_t mended = Mender(sheet).pass();
    if (mended == 0) break;
    total += mended;
  }
  return total;
}

}  // namespace pontata
