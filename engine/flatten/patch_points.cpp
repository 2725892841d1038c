#include "engine/flatten/patch_points.h"

#include <algorithm>
#include <cmath>
#include <unordered_map>

#include "engine/base/predicates.h"

namespace pontata {
namespace {

struct Box {
  LatticePoint lo{kLatticeLimit, kLatticeLimit}, hi{-kLatticeLimit, -kLatticeLimit};
};

Box box_of(const std::vector<DenseRim>& rims) {
  Box box;
  for (const DenseRim& rim : rims)
    for (const LatticePoint p : rim.points) {
      box.lo = {std::min(box.lo.x, p.x), std::min(box.lo.y, p.y)};
      box.hi = {std::max(box.hi.x, p.x), std::max(box.hi.y, p.y)};
    }
  return box;
}

// Points in the sheared plane, in square cells; answers whether one lies within a cell's width.
class NearPoints {
 public:
  explicit NearPoints(double cell) : cell_(cell) {}
  void add(Vec2 p) { cells_[key(index(p.x), index(p.y))].push_back(p); }
  bool any_within(Vec2 p, double distance) const {
    const std::int64_t i = index(p.x), j = index(p.y);
    for (std::int64_t a = i - 1; a <= i + 1; ++a)
      for (std::int64_t b = j - 1; b <= j + 1; ++b)
        if (const auto it = cells_.find(key(a, b)); it != cells_.end())
          for (const Vec2& q : it->second)
            if (glm::dot(p - q, p - q) < distance * distance) return true;
    return false;
  }

 private:
  std::int64_t index(double x) const { return static_cast<std::int64_t>(std::floor(x / cell_)); }
  static std::uint64_t key(std::int64_t i, std::int64_t j) {
    return (static_cast<std::uint64_t>(i) << 32) ^ (static_cast<std::uint64_t>(j) & 0xffffffffu);
  }
  double cell_;
  std::unordered_map<std::uint64_t, std::vector<Vec2>> cells_;
};

// How far rim points keep grid points away, and how long an inside edge may be, in spacings.
constexpr double kClear = 0.65, kLong = 1.7;

void add_grid(RegionTriangles& region, const Shear& shear, double spacing) {
  Triangulation& tri = region.triangulation;
  NearPoints rim_points(spacing);
  Vec2 lo{1e300, 1e300}, hi{-1e300, -1e300};
  for (const auto& rim : region.rims)
    for (const std::uint32_t v : rim) {
      const Vec2 q = shear.apply(to_vec(to_chart(tri.place(v))));
      rim_points.add(q);
      lo = glm::min(lo, q), hi = glm::max(hi, q);
    }
  const double step = spacing * std::sqrt(0.75);
  const auto rows = static_cast<int>((hi.y - lo.y) / step), columns = static_cast<int>((hi.x - lo.x) / spacing) + 1;
  const double first_y = lo.y + 0.5 * ((hi.y - lo.y) - rows * step);
  for (int j = 0; j <= rows; ++j)
    for (int n = 0; n <= columns; ++n) {
      const int i = j % 2 ? columns - n : n;  // to and fro, so that each point is found near the last
      const Vec2 q{lo.x + (i + (j % 2 ? 0.5 : 0.0)) * spacing, first_y + j * step};
      if (q.x < hi.x && !rim_points.any_within(q, kClear * spacing))
        tri.insert_inside(to_lattice(to_chart(shear.invert(q))));
    }
}

class Surface {
 public:
  Surface(const ChartedWall& wall, const Triangulation& tri) : wall_(wall), tri_(tri) {}
  Vec3 at(std::uint32_t v) {
    while (points_.size() <= v)
      points_.push_back(position_near(wall_, tri_.place(static_cast<std::uint32_t>(points_.size()))));
    return points_[v];
  }

 private:
  const ChartedWall& wall_;
  const Triangulation& tri_;
  std::vector<Vec3> points_;
};

LatticePoint middle(LatticePoint a, LatticePoint b) { return {(a.x + b.x) / 2, (a.y + b.y) / 2}; }

bool halve_long_edges(Triangulation& tri, Surface& surface, double longest, std::size_t limit) {
  const auto now = tri.region();
  std::vector<LatticePoint> add;
  for (std::uint32_t t = 0; t < now.triangles.size(); ++t)
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t s = now.across[t][k], a = now.triangles[t][k], b = now.triangles[t][(k + 1) % 3];
      if (s == Triangulation::kNoneAcross || t > s) continue;
      if (glm::distance(surface.at(a), surface.at(b)) > longest) add.push_back(middle(tri.place(a), tri.place(b)));
    }
  bool added = false;
  for (const LatticePoint p : add)
    if (tri.size() < limit) added |= tri.insert_inside(p).has_value();
  return added;
}

double cotangent(const Vec3& at, const Vec3& b, const Vec3& c) {
  const Vec3 p = b - at, q = c - at;
  return glm::dot(p, q) / std::max(glm::length(glm::cross(p, q)), 1e-300);
}

}  // namespace

std::uint32_t triangle_near(const Chart& chart, LatticePoint p) {
  if (const auto t = chart.triangle_at(p)) return *t;
  const ChartPoint inside = chart.clamp(to_chart(p));
  if (const auto w = chart.locate(inside)) return w->triangle;
  return chart.triangle_at(to_lattice(inside)).value_or(0);
}

Vec3 position_near(const ChartedWall& wall, LatticePoint p) {
  const std::uint32_t t = triangle_near(*wall.chart, p);
  return position(wall.mesh(), {t, wall.chart->weights(t, to_chart(p))});
}

Shear average_shear(const ChartedWall& wall, const std::vector<DenseRim>& rims) {
  double E = 0, F = 0, G = 0, n = 0;
  const auto add = [&](std::uint32_t t) {
    const auto f = wall.metric->first_form(t);
    E += f.E, F += f.F, G += f.G, n += 1;
  };
  constexpr int kGrid = 12;
  const Box box = box_of(rims);
  for (int i = 0; i < kGrid; ++i)
    for (int j = 0; j < kGrid; ++j) {
      const LatticePoint p{box.lo.x + (box.hi.x - box.lo.x) * (2 * i + 1) / (2 * kGrid),
                           box.lo.y + (box.hi.y - box.lo.y) * (2 * j + 1) / (2 * kGrid)};
      bool inside = false;
      for (const DenseRim& rim : rims) inside ^= point_in_ring(rim.points, p) > 0;
      if (const auto t = wall.chart->triangle_at(p); inside && t) add(*t);
    }
  if (n == 0)
    for (const DenseRim& rim : rims)
      for (std::size_t i = 0; i < rim.points.size(); i += 1 + rim.points.size() / 50)
        add(triangle_near(*wall.chart, rim.points[i]));
  E /= n, F /= n, G /= n;
  const double xx = std::sqrt(E), xy = F / xx;
  return {xx, xy, std::sqrt(std::max(G - xy * xy, 1e-6 * G))};
}

std::optional<RegionTriangles> triangulate_rims(const std::vector<DenseRim>& rims, const Shear& shear) {
  const Box box = box_of(rims);
  RegionTriangles out{Triangulation(box.lo, box.hi, shear), {}};
  for (const DenseRim& rim : rims) {
    out.rims.emplace_back();
    for (const LatticePoint p : rim.points) out.rims.back().push_back(out.triangulation.insert(p));
  }
  for (const auto& rim : out.rims)
    for (std::size_t i = 0; i < rim.size(); ++i) {
      const std::uint32_t a = rim[i], b = rim[(i + 1) % rim.size()];
      if (a != b && !out.triangulation.fix(a, b)) return std::nullopt;
    }
  if (!out.triangulation.find_inside()) return std::nullopt;
  out.triangulation.restore_delaunay();
  return out;
}

void fill_region(RegionTriangles& region, const ChartedWall& wall, const Shear& shear, double spacing,
                 std::size_t limit) {
  Triangulation& tri = region.triangulation;
  add_grid(region, shear, spacing);
  Surface surface(wall, tri);
  const auto better = [&](std::uint32_t a, std::uint32_t b, std::uint32_t c, std::uint32_t d) {
    return cotangent(surface.at(c), surface.at(a), surface.at(b)) +
               cotangent(surface.at(d), surface.at(b), surface.at(a)) <
           -1e-9;
  };
  tri.improve(better, 20);
  for (int pass = 0; pass < 5 && halve_long_edges(tri, surface, kLong * spacing, limit); ++pass)
    tri.improve(better, 20);
}

}  // namespace pontata
