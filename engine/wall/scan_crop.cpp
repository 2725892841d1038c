#include "engine/wall/scan_crop.h"

#include <array>
#include <cmath>
#include <unordered_map>

namespace pontata {
namespace {

constexpr double kOnSide = 1e-6;  // m

struct Side {
  int axis;
  double at;
  double sign;  // +1: what lies above is kept
};

std::vector<Vec3> own_places(const Soup& soup, const Placement3& placement) {
  const Placement3 back{{0, 0, 0}, -placement.turn_deg};
  std::vector<Vec3> own;
  own.reserve(soup.points.size());
  for (const Vec3& p : soup.points) own.push_back(apply(back, p - placement.at));
  return own;
}

// Cuts with one side of the box after the other; `own` are the soup's points in the scan's own frame.
class Cropper {
 public:
  Cropper(Soup& soup, const Placement3& placement)
      : soup_(soup), placement_(placement), own_(own_places(soup, placement)) {}

  void cut(const Side& side) {
    Soup kept;
    cuts_.clear();
    for (std::size_t t = 0; t < soup_.triangles.size(); ++t) {
      const double whole = triangle_area(soup_.points, soup_.triangles[t]);
      std::array<std::uint32_t, 4> inside{};
      const std::size_t n = clip(soup_.triangles[t], side, inside);
      for (std::size_t k = 1; k + 1 < n; ++k) {
        const Triangle piece{inside[0], inside[k], inside[k + 1]};
        kept.triangles.push_back(piece);
        kept.facing.push_back(whole > 0 ? soup_.facing[t] * (triangle_area(soup_.points, piece) / whole) : 0);
      }
    }
    soup_.triangles = std::move(kept.triangles);
    soup_.facing = std::move(kept.facing);
  }

 private:
  // Above 0 inside, 0 on the side, below outside.
  double inward(std::uint32_t p, const Side& side) const {
    const double d = (own_[p][side.axis] - side.at) * side.sign;
    return std::abs(d) <= kOnSide ? 0 : d;
  }

  // Corners of the part inside, at most 4; fewer than 3: nothing. (Sutherland and Hodgman, "Reentrant Polygon
  // Clipping", 1974.)
  std::size_t clip(const Triangle& t, const Side& side, std::array<std::uint32_t, 4>& out) {
    std::size_t n = 0;
    bool any = false, outside = false;
    for (const auto corner : t) any = any || inward(corner, side) > 0, outside = outside || inward(corner, side) < 0;
    if (!any && outside) return 0;
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t a = t[k], b = t[(k + 1) % 3];
      const double da = inward(a, side), db = inward(b, side);
      if (da >= 0) out[n++] = a;
      if (da * db < 0) out[n++] = cut_point(a, b, side);
    }
    return n;
  }

  std::uint32_t cut_point(std::uint32_t a, std::uint32_t b, const Side& side) {
    if (a > b) std::swap(a, b);
    const auto [it, is_new] =
        cuts_.try_emplace(std::uint64_t{a} << 32 | b, static_cast<std::uint32_t>(soup_.points.size()));
    if (!is_new) return it->second;
    const double s = (side.at - own_[a][side.axis]) / (own_[b][side.axis] - own_[a][side.axis]);
    Vec3 p = own_[a] + (own_[b] - own_[a]) * s;
    p[side.axis] = side.at;
    own_.push_back(p);
    soup_.points.push_back(apply(placement_, p));
    return it->second;
  }

  Soup& soup_;
  const Placement3& placement_;
  std::vector<Vec3> own_;
  std::unordered_map<std::uint64_t, std::uint32_t> cuts_;
};

}  // namespace

double crop(Soup& soup, const ScanOptions& options) {
  const double before = total_area(soup.points, soup.triangles);
  Cropper cropper(soup, options.placement);
  for (int axis = 0; axis < 3; ++axis) {
    cropper.cut({axis, options.crop->low[axis], 1});
    cropper.cut({axis, options.crop->high[axis], -1});
  }
  compact(soup, {});
  return before - total_area(soup.points, soup.triangles);
}

ScanOptions::Box reach_of(const Soup& soup, const Placement3& placement) {
  ScanOptions::Box box{Vec3(1e300), Vec3(-1e300)};
  for (const Vec3& p : own_places(soup, placement)) box.low = glm::min(box.low, p), box.high = glm::max(box.high, p);
  return box;
}

}  // namespace pontata
