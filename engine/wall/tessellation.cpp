// Every shape is cut into rows of points; neighbouring rows, which may hold different numbers of points, are joined by
// a strip of triangles. Steps along a row and between rows come from the sagitta: on a cylinder a chord of length s
// stays within s^2 / 8R of the surface; on a sphere a triangle inscribed in a circle of radius c stays within
// c^2 / 2R, and a right triangle with legs s has c = s / sqrt 2.

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "engine/wall/shape_sizes.h"
#include "engine/wall/shapes.h"

namespace pontata {

namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kAspect = 4;  // steps along straight lines may be this much longer than across

struct SurfacePoint {
  Vec3 place, normal;  // own frame
  Vec2 address;
};

// Number of equal steps, each at most `step`, in `length`.
int steps(double length, double step, int least) {
  return std::max(least, static_cast<int>(std::ceil(length / step * (1 - 1e-12))));
}

// The same along straight lines, where longer steps cost no accuracy: at most as many as keep the wall to its most
// triangles with `across` steps the other way.
int straight_steps(double length, double step, int across) {
  const double most = kMostTriangles / 2 / across;
  return length / step > most ? std::max(1, static_cast<int>(most)) : steps(length, step, 1);
}

class Tessellation {
 public:
  explicit Tessellation(const Placement3& placement) : placement_(placement) {}

  std::uint32_t add(const SurfacePoint& p) {
    const auto index = static_cast<std::uint32_t>(out_.address.size());
    out_.mesh.points.push_back(apply(placement_, p.place));
    out_.mesh.normals.push_back(apply_direction(placement_, p.normal));
    out_.address.push_back(p.address);
    return index;
  }

  using Row = std::vector<std::uint32_t>;
  // count + 1 points at fractions 0..1 of a row.
  Row add_row(int count, const std::function<SurfacePoint(double)>& at) {
    Row row;
    for (int i = 0; i <= count; ++i) row.push_back(add(at(static_cast<double>(i) / count)));
    return row;
  }

  // Joins two rows that run the same way; `left` lies to the left of `right` seen along them in the chart. Takes the
  // next point of the row whose next step is the earlier at half way, so that steps of both rows interlock evenly.
  void join(const Row& right, const Row& left) {
    const std::size_t n = right.size() - 1, m = left.size() - 1;
    for (std::size_t i = 0, j = 0; i < n || j < m;) {
      const bool step_right = j == m || (i < n && (2 * i + 1) * m <= (2 * j + 1) * n);
      if (step_right)
        triangle(right[i], right[i + 1], left[j]), ++i;
      else
        triangle(left[j + 1], left[j], right[i]), ++j;
    }
  }

  ShapeMesh take() {
    out_.mesh.corner_normals = out_.mesh.triangles;
    return std::move(out_);
  }

 private:
  void triangle(std::uint32_t a, std::uint32_t b, std::uint32_t c) {
    if (a != b && b != c && c != a) out_.mesh.triangles.push_back({a, b, c});
  }

  Placement3 placement_;
  ShapeMesh out_;
};

// Rows at fractions 0..1 upward in the chart, all with the same number of points.
void add_grid(Tessellation& mesh, int across, int up, const std::function<SurfacePoint(double, double)>& at) {
  Tessellation::Row below;
  for (int j = 0; j <= up; ++j) {
    const double v = static_cast<double>(j) / up;
    auto row = mesh.add_row(across, [&](double u) { return at(u, v); });
    if (j > 0) mesh.join(below, row);
    below = std::move(row);
  }
}

void add_flat(Tessellation& mesh, const ShapeSpec& spec) {
  const double longer = std::max(spec.width, spec.height), shorter = std::min(spec.width, spec.height);
  const double cell = std::max(std::min(longer / 8, shorter), longer / 512);
  add_grid(mesh, steps(spec.width, cell, 1), steps(spec.height, cell, 1), [&](double u, double v) {
    const Vec2 place{u * spec.width, v * spec.height};
    return SurfacePoint{{place.x, 0, place.y}, {0, -1, 0}, place};
  });
}

void add_barrel(Tessellation& mesh, const ShapeSpec& spec, double tolerance) {
  const SegmentSizes segment = segment_sizes(spec.span, spec.rise);
  const double radius = segment.radius, half_angle = segment.half_angle;
  const double arc = 2 * half_angle * radius;
  const double step = std::min(std::sqrt(8 * radius * tolerance), kAspect * spec.length);
  const int up = steps(arc, step, 4);
  const int along = straight_steps(spec.length, kAspect * arc / up, up);
  add_grid(mesh, along, up, [&](double u, double v) {
    const double psi = half_angle * (1 - 2 * v);  // from the crown
    const double dip = 2 * radius * (std::pow(std::sin(half_angle / 2), 2) - std::pow(std::sin(psi / 2), 2));
    return SurfacePoint{{u * spec.length, radius * std::sin(psi), dip},
                        {0, -std::sin(psi), -std::cos(psi)},
                        {u * spec.length, v * arc}};
  });
}

// Rings of a dome from the crown outward: arc from the crown and step along the ring. Inside, `step` serves; the rim is
// a circle that bends within the surface, and the sliver between it and its chords is lost area, so steps shrink toward
// `rim_step` there.
struct DomeRing {
  double arc, step;
};
std::vector<DomeRing> dome_rings(double reach, double step, double rim_step) {
  constexpr double kGrowth = 0.5;
  const double coarse = std::min(step, reach / 3);
  std::vector<DomeRing> rings;  // arc holds the distance from the rim until the end
  double inward = 0;
  while (inward < reach * (1 - 1e-12)) {
    rings.push_back({inward, std::min(coarse, rim_step + kGrowth * inward)});
    inward += rings.back().step;
  }
  for (auto& ring : rings) ring.arc = reach * (1 - ring.arc / inward);
  std::reverse(rings.begin(), rings.end());
  return rings;
}

// Sagitta allowed to the rim's chords: the lost area stays in proportion to the tolerance, and near 3e-5 of the wall at
// the default.
double rim_sagitta(const ShapeSpec& spec, double tolerance) {
  return 0.5 * tolerance * std::min(1.0, 5e-5 * 0.5 * spec.span / default_tolerance(spec));
}

void add_dome(Tessellation& mesh, const ShapeSpec& spec, double tolerance) {
  const SegmentSizes segment = segment_sizes(spec.span, spec.rise);
  const double radius = segment.radius, half_angle = segment.half_angle;
  const double step = 2 * std::sqrt(radius * tolerance), reach = half_angle * radius;
  const double rim_step = std::sqrt(8 * 0.5 * spec.span * rim_sagitta(spec, tolerance));
  const Vec2 centre{reach, reach};
  const auto at = [&](double theta, double turn) {  // turn counter-clockwise in the chart: phi = -turn
    const double c = std::cos(turn), s = std::sin(turn);
    const double dip = 2 * radius * (std::pow(std::sin(half_angle / 2), 2) - std::pow(std::sin(theta / 2), 2));
    return SurfacePoint{{radius * std::sin(theta) * c, -radius * std::sin(theta) * s, dip},
                        {-std::sin(theta) * c, std::sin(theta) * s, -std::cos(theta)},
                        centre + radius * theta * Vec2{c, s}};
  };
  Tessellation::Row inner{mesh.add(at(0, 0))};
  for (const auto& [arc, ring_step] : dome_rings(reach, step, rim_step)) {
    const double theta = half_angle * (arc / reach);
    const int count = 4 * steps(2 * kPi * radius * std::sin(theta), 4 * ring_step, 2);
    Tessellation::Row ring;
    for (int i = 0; i < count; ++i) ring.push_back(mesh.add(at(theta, 2 * kPi * i / count)));
    ring.push_back(ring.front());
    mesh.join(ring, inner);
    inner = std::move(ring);
  }
}

void add_apse(Tessellation& mesh, const ShapeSpec& spec, double tolerance) {
  const double r = 0.5 * spec.span;
  const double step = 2 * std::sqrt(r * tolerance);
  const int columns = 2 * steps(kPi * r, 2 * step, 4);
  const int drum_rows = straight_steps(spec.height, kAspect * kPi * r / columns, columns);
  const auto on_row = [&](double theta, double v, double fraction) {
    const double phi = kPi * fraction, c = std::cos(theta);
    const Vec3 out{-c * std::cos(phi), c * std::sin(phi), std::sin(theta)};
    const double z = theta > 0 ? spec.height + r * std::sin(theta) : v;
    return SurfacePoint{{r * out.x, r * out.y, z}, -out, {r * kPi / 2 + r * c * (phi - kPi / 2), v}};
  };
  Tessellation::Row below;
  const auto add = [&](int count, double theta, double v) {
    auto row = mesh.add_row(count, [&](double f) { return on_row(theta, v, f); });
    if (!below.empty()) mesh.join(below, row);
    below = std::move(row);
  };
  for (int j = 0; j <= drum_rows; ++j) add(columns, 0, spec.height * j / drum_rows);
  const int rows = steps(kPi / 2 * r, step, 4);
  for (int j = 1; j < rows; ++j) {
    const double theta = kPi / 2 * j / rows;
    add(2 * steps(kPi * r * std::cos(theta), 2 * step, 1), theta, spec.height + r * theta);
  }
  const Tessellation::Row pole{
      mesh.add({{0, 0, spec.height + r}, {0, 0, -1}, {r * kPi / 2, spec.height + r * kPi / 2}})};
  mesh.join(below, pole);
}

}  // namespace

ShapeMesh tessellate(const ShapeSpec& spec, const Placement3& placement, double tolerance) {
  if (!(tolerance > 0)) tolerance = default_tolerance(spec);
  Tessellation mesh(placement);
  switch (spec.kind) {
    case ShapeKind::flat:
      add_flat(mesh, spec);
      break;
    case ShapeKind::barrel:
      add_barrel(mesh, spec, tolerance);
      break;
    case ShapeKind::dome:
      add_dome(mesh, spec, tolerance);
      break;
    case ShapeKind::apse:
      add_apse(mesh, spec, tolerance);
      break;
    default:
      break;
  }
  return mesh.take();
}

}  // namespace pontata
