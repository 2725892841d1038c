#include "engine/wall/scan_polygons.h"

#include <algorithm>

namespace pontata {
namespace {

using Corners = std::vector<std::uint32_t>;

Vec3 newell_normal(const std::vector<Vec3>& points, std::span<const std::uint32_t> corners) {
  Vec3 sum{0, 0, 0};
  const Vec3 origin = points[corners[0]];
  for (std::size_t i = 1; i + 1 < corners.size(); ++i)
    sum += glm::cross(points[corners[i]] - origin, points[corners[i + 1]] - origin);
  return sum;
}

// Twice the signed area of a, b, c seen against the direction `up`.
double turn(const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& up) {
  return glm::dot(glm::cross(b - a, c - a), up);
}

class EarCutter {
 public:
  EarCutter(const std::vector<Vec3>& points, std::span<const std::uint32_t> corners)
      : points_(points),
        left_(corners.begin(), corners.end()),
        up_(newell_normal(points, corners)),
        flat_(1e-12 * glm::dot(up_, up_)) {}

  void cut(std::vector<Triangle>& out) {
    std::size_t at = 0, failed = 0;
    for (bool strict = true; left_.size() > 3;) {
      at %= left_.size();
      if (is_ear(at, strict)) {
        out.push_back({left_[before(at)], left_[at], left_[after(at)]});
        left_.erase(left_.begin() + static_cast<std::ptrdiff_t>(at));
        failed = 0;
        strict = true;
      } else if (++failed > left_.size()) {
        if (!strict) break;
        strict = false;  // only corners in a straight line are left: ears without area are cut as well
        failed = 0;
      }
      ++at;  // the next ear elsewhere: fewer slivers than by clipping round one corner
    }
    for (std::size_t i = 1; i + 1 < left_.size(); ++i) out.push_back({left_[0], left_[i], left_[i + 1]});
  }

 private:
  std::size_t before(std::size_t i) const { return (i + left_.size() - 1) % left_.size(); }
  std::size_t after(std::size_t i) const { return (i + 1) % left_.size(); }
  bool is_ear(std::size_t i, bool strict) const {
    const Vec3 a = points_[left_[before(i)]], b = points_[left_[i]], c = points_[left_[after(i)]];
    if (!(turn(a, b, c, up_) > (strict ? flat_ : -flat_))) return false;
    const double inside = strict ? -flat_ : flat_;
    for (const auto other : left_) {
      if (other == left_[before(i)] || other == left_[i] || other == left_[after(i)]) continue;
      const Vec3 p = points_[other];
      if (turn(a, b, p, up_) > inside && turn(b, c, p, up_) > inside && turn(c, a, p, up_) > inside) return false;
    }
    return true;
  }

  const std::vector<Vec3>& points_;
  Corners left_;
  Vec3 up_;
  double flat_;  // twice the area below which three corners stand in a line, times |up|
};

// The diagonal of a four-sided face that lies inside it; of two, the shorter.
void split_four(const std::vector<Vec3>& points, std::span<const std::uint32_t> q, std::vector<Triangle>& out) {
  const Vec3 up = newell_normal(points, q);
  const auto least = [&](std::size_t s) {
    const Vec3 a = points[q[s]], b = points[q[s + 1]], c = points[q[(s + 2) % 4]], d = points[q[(s + 3) % 4]];
    return std::min(turn(a, b, c, up), turn(a, c, d, up));
  };
  const auto length = [&](std::size_t s) { return glm::length(points[q[(s + 2) % 4]] - points[q[s]]); };
  const double first = least(0), second = least(1);
  const bool both = first > 0 && second > 0;
  const std::size_t s = both ? (length(1) < length(0) ? 1 : 0) : (second > first ? 1 : 0);
  out.push_back({q[s], q[s + 1], q[(s + 2) % 4]});
  out.push_back({q[s], q[(s + 2) % 4], q[(s + 3) % 4]});
}

}  // namespace

void split_polygon(const std::vector<Vec3>& points, std::span<const std::uint32_t> corners,
                   std::vector<Triangle>& out) {
  if (corners.size() < 3) return;
  if (corners.size() == 3)
    out.push_back({corners[0], corners[1], corners[2]});
  else if (corners.size() == 4)
    split_four(points, corners, out);
  else
    EarCutter(points, corners).cut(out);
}

}  // namespace pontata
