// Building a shape's triangles from rows of points: neighbouring rows, which may hold different numbers of points, are
// joined by a strip of triangles. Steps along a row and between rows come from the sagitta: on a cylinder a chord of
// length s stays within s^2 / 8R of the surface; on a sphere a triangle inscribed in a circle of radius c stays within
// c^2 / 2R, and a right triangle with legs s has c = s / sqrt 2.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "engine/wall/shape_surfaces.h"
#include "engine/wall/shapes.h"

namespace pontata {

class TriangleRows {
 public:
  explicit TriangleRows(const Placement3& placement) : placement_(placement) {}

  // A point as one of the webs that meet there sees it.
  struct Corner {
    std::uint32_t point = 0, facing = 0;
  };
  // Corners in order, each with a key that grows along the row.
  struct Row {
    std::vector<Corner> corners;
    std::vector<double> keys;
    void push(Corner corner, double key) { corners.push_back(corner), keys.push_back(key); }
    void append(const Row& other);
    Row reversed() const;
  };

  Corner add(const SurfacePoint& p);
  // The same point with another normal, for the web across an arris.
  Corner facing(Corner corner, const Vec3& normal);

  // count + 1 points at fractions 0..1 of a row, which are its keys.
  Row add_row(int count, const std::function<SurfacePoint(double)>& at);
  // Rows at fractions 0..1 upward in the chart, all with the same number of points.
  void add_grid(int across, int up, const std::function<SurfacePoint(double, double)>& at);

  // Joins two rows that run the same way and may begin or end in a shared corner; triangles are counter-clockwise in
  // the chart. Takes the next point of the row whose next step is the earlier at half way by their keys, so that steps
  // of both rows interlock evenly.
  void join(const Row& a, const Row& b) {
    join(a, b, [](double) { return 0.5; });
  }
  // The same where row b begins and ends along straight or outward bent edges, so that the ends of row a do not see
  // past them: before key `middle` the row that is behind goes first, after it the row whose next point comes first.
  void join_bent(const Row& a, const Row& b, double middle) {
    join(a, b, [middle](double key) { return key < middle ? 0.0 : 1.0; });
  }

  ShapeMesh take();

 private:
  // `part` of the way along a step, by the key where it begins, at which steps are compared.
  template <class Part>
  void join(const Row& a, const Row& b, const Part& part) {
    const std::size_t n = a.corners.size() - 1, m = b.corners.size() - 1;
    const auto due = [&](const Row& row, std::size_t i) {
      return row.keys[i] + part(row.keys[i]) * (row.keys[i + 1] - row.keys[i]);
    };
    for (std::size_t i = 0, j = 0; i < n || j < m;) {
      const bool step_a = j == m || (i < n && due(a, i) <= due(b, j));
      if (step_a)
        triangle(a.corners[i], a.corners[i + 1], b.corners[j]), ++i;
      else
        triangle(b.corners[j + 1], b.corners[j], a.corners[i]), ++j;
    }
  }
  void triangle(Corner a, Corner b, Corner c);

  Placement3 placement_;
  ShapeMesh out_;
  std::vector<Vec3> own_normals_;                     // as given, before the placement turns them
  std::vector<std::pair<std::uint32_t, Vec3>> more_;  // further normals: of which point, and the normal as given
};

}  // namespace pontata
