#include "engine/wall/scan_rim.h"

#include <algorithm>
#include <cmath>

#include "engine/wall/scan_polygons.h"

namespace pontata {
namespace {

constexpr std::size_t kMostSpanned = 250;  // points of a rim spanned at once: cubic cost

Vec3 unit(const Vec3& v) {
  const double length = glm::length(v);
  return length > 0 ? v / length : Vec3{0, 0, 0};
}

// Weight of a partial triangulation: greatest fold (1 - cosine), then area.
struct Weight {
  double fold = 0, area = 0;
  bool operator<(const Weight& o) const { return fold != o.fold ? fold < o.fold : area < o.area; }
};
constexpr double kForbidden = 1e9;

// Table over chords i..k of the rim.
class Span {
 public:
  Span(const std::vector<Vec3>& points, const Rim& rim, const std::vector<Vec3>& outward, const MayJoin& may_join)
      : points_(points),
        rim_(rim),
        outward_(outward),
        may_join_(may_join),
        n_(rim.size()),
        best_(n_ * n_),
        at_(n_ * n_) {}

  std::vector<Triangle> triangles() {
    for (std::size_t width = 2; width < n_; ++width)
      for (std::size_t i = 0; i + width < n_; ++i) choose(i, i + width);
    std::vector<Triangle> out;
    if (best_[n_ - 1].fold < kForbidden) collect(0, n_ - 1, out);
    return out;
  }

 private:
  std::size_t cell(std::size_t i, std::size_t k) const { return i * n_ + k; }
  const Vec3& point(std::size_t i) const { return points_[rim_[i]]; }
  Vec3 cross(std::size_t i, std::size_t m, std::size_t k) const {
    return glm::cross(point(m) - point(i), point(k) - point(i));
  }
  // Direction of what lies behind chord i..k: a triangle of the filling, or the surroundings.
  Vec3 behind(std::size_t i, std::size_t k) const {
    return k == i + 1 ? outward_[i] : unit(cross(i, at_[cell(i, k)], k));
  }

  void choose(std::size_t i, std::size_t k) {
    Weight& best = best_[cell(i, k)];
    best = {kForbidden, 0};
    const bool closing = i == 0 && k == n_ - 1;  // this chord is a rim edge itself
    if (!closing && !may_join_(rim_[i], rim_[k])) return;
    for (std::size_t m = i + 1; m < k; ++m) {
      const Weight &left = best_[cell(i, m)], &right = best_[cell(m, k)];
      if (std::max(left.fold, right.fold) >= kForbidden) continue;
      const Vec3 twice = cross(i, m, k), up = unit(twice);
      Weight w{std::max({left.fold, right.fold, fold(up, behind(i, m)), fold(up, behind(m, k))}),
               left.area + right.area + glm::length(twice) / 2};
      if (closing) w.fold = std::max(w.fold, fold(up, outward_[n_ - 1]));
      if (w < best) best = w, at_[cell(i, k)] = m;
    }
  }
  static double fold(const Vec3& a, const Vec3& b) { return glm::dot(b, b) == 0 ? 0 : 1 - glm::dot(a, b); }

  void collect(std::size_t i, std::size_t k, std::vector<Triangle>& out) const {
    if (k < i + 2) return;
    const std::size_t m = at_[cell(i, k)];
    out.push_back({rim_[i], rim_[m], rim_[k]});
    collect(i, m, out);
    collect(m, k, out);
  }

  const std::vector<Vec3>& points_;
  const Rim& rim_;
  const std::vector<Vec3>& outward_;
  const MayJoin& may_join_;
  std::size_t n_;
  std::vector<Weight> best_;
  std::vector<std::size_t> at_;
};

bool neighbours_on_rim(std::size_t a, std::size_t b, std::size_t n) { return (a + 1) % n == b || (b + 1) % n == a; }

// By ears in the mean plane; empty where that overlaps itself or needs a forbidden edge.
std::vector<Triangle> span_flat(const std::vector<Vec3>& points, const Rim& rim, const MayJoin& may_join) {
  std::vector<Vec3> corners;
  Rim order;
  for (const auto p : rim) {
    order.push_back(static_cast<std::uint32_t>(corners.size()));
    corners.push_back(points[p]);
  }
  std::vector<Triangle> out;
  split_polygon(corners, order, out);
  Vec3 up{0, 0, 0};
  for (const Triangle& t : out) up += glm::cross(corners[t[1]] - corners[t[0]], corners[t[2]] - corners[t[0]]);
  const double flat = -1e-11 * glm::dot(up, up);  // corners in a line may make triangles without area
  for (Triangle& t : out) {
    if (glm::dot(up, glm::cross(corners[t[1]] - corners[t[0]], corners[t[2]] - corners[t[0]])) < flat) return {};
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t a = t[k], b = t[(k + 1) % 3];
      if (!neighbours_on_rim(a, b, rim.size()) && !may_join(rim[a], rim[b])) return {};
    }
  }
  for (Triangle& t : out)
    for (auto& corner : t) corner = rim[corner];
  return out;
}

}  // namespace

std::vector<Triangle> span_rim(const std::vector<Vec3>& points, const Rim& rim, const std::vector<Vec3>& outward,
                               const MayJoin& may_join) {
  if (rim.size() < 3) return {};
  if (rim.size() <= kMostSpanned) return Span(points, rim, outward, may_join).triangles();
  return span_flat(points, rim, may_join);
}

}  // namespace pontata
