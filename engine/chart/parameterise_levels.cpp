#include "engine/chart/parameterise_levels.h"

#include <Eigen/Core>
#include <algorithm>
#include <atomic>
#include <cmath>
#include <limits>

#include "engine/base/parallel.h"
#include "engine/chart/parameterise_relax.h"

namespace pontata {
namespace {

constexpr std::size_t kGrain = 500;  // points worth a worker of their own

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
Vec2 return_place(const std::vector<FanTriangle>& fan, bool held_back) {
  if (held_back) return kernel_middle(fan, true);
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

bool refine(const LiddedSheet& sheet, const Levels& levels, std::size_t to, const std::vector<char>& dented,
            std::vector<Vec2>& places) {
  std::atomic<bool> placed{true};
  const auto put_back = [&](std::size_t begin, std::size_t end) {
    std::vector<FanTriangle> fan;
    for (std::size_t i = begin; i < end; ++i) {
      const Collapse& c = levels.collapses[i];
      const bool inside = fan_of(sheet, c, levels.rings.data() + c.first, places, fan);
      const bool held_back = !inside && dented[c.point];
      Vec2 p = return_place(fan, held_back);
      if (!(least_share(fan, p) > 0)) placed = false;
      if (!held_back)
        for (int step = 0; step < 3; ++step) p = relaxed_place(fan, p);
      places[c.point] = p;
    }
  };
  std::size_t end = levels.levels[to + 1].collapses;
  for (auto pass = levels.passes.rbegin(); pass != levels.passes.rend(); ++pass) {
    if (*pass >= end) continue;
    if (end <= levels.levels[to].collapses) break;
    for_blocks(end - *pass, kGrain, [&](std::size_t b, std::size_t e) { put_back(*pass + b, *pass + e); });
    if (!placed) return false;
    end = *pass;
  }
  return true;
}

}  // namespace pontata
