// Pieces of spheres: rings about the crown, and the corners of a square plan.

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/base/lattice.h"
#include "engine/wall/shape_cusps.h"
#include "engine/wall/shape_sizes.h"
#include "engine/wall/tessellate_families.h"

namespace pontata {

namespace {

using Row = TriangleRows::Row;
using Corner = TriangleRows::Corner;
constexpr double kPi = std::numbers::pi;

// Rings down to theta = `end`, finer toward it; the outermost, its keys phi from 0 to a full turn.
Row add_cap(TriangleRows& mesh, const SphereFrame& frame, double end, double step, double edge_step) {
  const double reach = end * frame.radius;
  Row outermost, outer;
  for (const auto& [inward, ring_step] : inward_rows(reach, std::min(step, reach / 3), edge_step)) {
    const double theta = end * (1 - inward / reach);
    Row ring;
    if (theta > 0) {
      const int count = 4 * steps(2 * kPi * frame.radius * std::sin(theta), 4 * ring_step, 2);
      for (int i = 0; i < count; ++i) {
        const double phi = 2 * kPi * i / count;
        ring.push(mesh.add(sphere_point(frame, theta, phi)), phi);
      }
      ring.push(ring.corners.front(), 2 * kPi);
    } else {
      ring.push(mesh.add(sphere_point(frame, 0, 0)), kPi);
    }
    if (outer.corners.empty())
      outermost = ring;
    else
      mesh.join(outer, ring);
    outer = std::move(ring);
  }
  return outermost;
}

// A corner of the square below the ring that touches the middles of its sides: rows at equal height between the two
// edges. An edge is half a circle of radius `half` in an upright plane, psi from its top. Quarter q spans phi from
// q 90 degrees on.
class SquareCorner {
 public:
  SquareCorner(TriangleRows& mesh, const SphereFrame& frame, double half, int quarter)
      : mesh_(mesh), frame_(frame), half_(half), quarter_(quarter) {}

  // ring: keys phi from the beginning of the quarter. ring_joins: its ends are the tops of the edges; otherwise the
  // edges begin beside them, at psi = `from`.
  void fill(const Row& ring, bool ring_joins, double from, double edge_step, double row_step) {
    add_edges(steps(half_ * (kPi / 2 - from), edge_step, 4), from);
    const int n = static_cast<int>(left_.size()) - 1;
    if (ring_joins) left_[0] = ring.corners.front(), right_[0] = ring.corners.back();
    Row above = ring;
    for (int at = 0, next = 0; at < n; at = next) {
      next = at + 1;
      const bool narrow = above.corners.size() < 3;  // no inner point to see both edges from
      while (!narrow && next < n && frame_.radius * (theta_of(next + 1) - theta_of(at)) <= row_step) ++next;
      const Row row = row_between(next, row_step);
      Row whole = edge_stretch(left_, at, next, false);
      whole.append(row);
      whole.append(edge_stretch(right_, at, next, true).reversed());
      mesh_.join_bent(above, whole, kPi / 4);
      above = row;
    }
  }

 private:
  Vec3 turned(const Vec3& p) const {
    if (quarter_ == 1) return {-p.y, p.x, p.z};
    if (quarter_ == 2) return {-p.x, -p.y, p.z};
    if (quarter_ == 3) return {p.y, -p.x, p.z};
    return p;
  }

  void add_edges(int n, double from) {
    // Closer than this to a cusp, where the corner is less than 128 pitches wide, an edge has no points.
    const double least = std::sqrt(128 * kPitch * frame_.radius) / half_;
    for (int m = 0; m < n; ++m) {
      const double psi = from + (kPi / 2 - from) * m / n;
      if (m > 0 && (psi < least || kPi / 2 - psi < least)) continue;
      const double out = half_ * std::sin(psi), up = half_ * std::cos(psi);
      add_edge_point({half_, out, up}, {out, half_, up});
    }
    add_edge_point({half_, half_, 0}, {half_, half_, 0});
  }
  void add_edge_point(const Vec3& left, const Vec3& right) {
    thetas_.push_back(std::atan2(std::hypot(left.x, left.y), left.z));
    phis_.push_back(std::atan2(left.y, left.x));
    left_.push_back(mesh_.add(sphere_point(frame_, turned(left))));
    right_.push_back(left == right ? left_.back() : mesh_.add(sphere_point(frame_, turned(right))));
  }
  double theta_of(int m) const { return thetas_[static_cast<std::size_t>(m)]; }

  Row edge_stretch(const std::vector<Corner>& edge, int from, int to, bool right) const {
    Row row;
    for (int m = from; m < to; ++m) {
      const double phi = phis_[static_cast<std::size_t>(m)];
      row.push(edge[static_cast<std::size_t>(m)], right ? kPi / 2 - phi : phi);
    }
    return row;
  }

  Row row_between(int m, double step) const {
    const auto at = static_cast<std::size_t>(m);
    const double theta = thetas_[at], from = phis_[at], width = kPi / 2 - 2 * from;
    Row row;
    row.push(left_[at], from);
    if (at + 1 == left_.size()) return row;
    const int count = steps(frame_.radius * std::sin(theta) * width, step, 1);
    for (int i = 1; i < count; ++i) {
      const double phi = from + width * i / count;
      row.push(mesh_.add(sphere_point(frame_, theta, quarter_ * kPi / 2 + phi)), phi);
    }
    row.push(right_[at], kPi / 2 - from);
    return row;
  }

  TriangleRows& mesh_;
  const SphereFrame& frame_;
  double half_;
  int quarter_;
  std::vector<double> thetas_, phis_;
  std::vector<Corner> left_, right_;
};

Row quarter_of(const Row& ring, int quarter) {
  const std::size_t count = (ring.corners.size() - 1) / 4, from = count * static_cast<std::size_t>(quarter);
  Row out;
  for (std::size_t i = 0; i <= count; ++i)
    out.push(ring.corners[from + i], kPi / 2 * static_cast<double>(i) / static_cast<double>(count));
  return out;
}

}  // namespace

void add_dome(TriangleRows& mesh, const ShapeSpec& spec, double tolerance) {
  const SphereFrame frame = sphere_frame(spec);
  const double half = 0.5 * spec.span;
  const double edge_step = std::sqrt(8 * half * edge_sagitta(spec, tolerance, half));
  add_cap(mesh, frame, frame.foot, 2 * std::sqrt(frame.radius * tolerance), edge_step);
}

// The edges of the square plan bend within the sphere by 1 / R, and so does the ring between them.
void add_sail(TriangleRows& mesh, const ShapeSpec& spec, double tolerance) {
  const SphereFrame frame = sphere_frame(spec);
  const double step = 2 * std::sqrt(frame.radius * tolerance);
  const double edge_step = std::sqrt(8 * frame.radius * edge_sagitta(spec, tolerance, 0.3 * spec.side));
  const Row ring = add_cap(mesh, frame, kPi / 4, step, step);
  for (int quarter = 0; quarter < 4; ++quarter)
    SquareCorner(mesh, frame, 0.5 * spec.side, quarter).fill(quarter_of(ring, quarter), true, 0, edge_step, step);
}

void add_pendentive(TriangleRows& mesh, const ShapeSpec& spec, double tolerance) {
  const SphereFrame frame = sphere_frame(spec);
  const double half = 0.5 * spec.side, step = 2 * std::sqrt(frame.radius * tolerance);
  const double edge_step = std::sqrt(8 * frame.radius * edge_sagitta(spec, tolerance, 0.004 * spec.side));
  const double end = pendentive_end(spec), turn = kPi / 2 - 2 * end;
  Row ring = mesh.add_row(steps(half * turn, edge_step, 4),
                          [&](double f) { return sphere_point(frame, kPi / 4, end + turn * f); });
  for (auto& key : ring.keys) key = end + turn * key;
  SquareCorner(mesh, frame, half, 0).fill(ring, false, end, edge_step, 0.7 * step);
}

}  // namespace pontata
