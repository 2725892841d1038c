// A surface that is split along lines of its chart and stays the same surface: a new point lies in the triangle that it
// splits (on an edge: within rounding of it), its normal interpolated on each side, so that an arris keeps its two
// normals. Internal to engine/chart.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "engine/base/predicates.h"
#include "engine/wall/surface_mesh.h"

namespace pontata {

class CutMesh {
 public:
  // Precondition: a sheet that a chart was certified for, with its places.
  CutMesh(const SurfaceMesh& mesh, const std::vector<LatticePoint>& places);

  static constexpr std::uint32_t kNone = 0xffffffffu;
  struct Side {
    std::uint32_t triangle = kNone;
    int k = 0;  // the edge from corner k to the next; as a place in a fan, corner k
  };

  LatticePoint place(std::uint32_t v) const { return places_[v]; }
  const Vec3& point(std::uint32_t v) const { return mesh_.points[v]; }
  std::uint32_t corner(Side s, int ahead = 0) const {
    return mesh_.triangles[s.triangle][static_cast<std::size_t>((s.k + ahead) % 3)];
  }
  bool on_border(Side s) const { return across_[s.triangle][static_cast<std::size_t>(s.k)] == kNone; }

  // Corners at v, counter-clockwise, from the border where v lies on it.
  std::vector<Side> fan(std::uint32_t v) const;
  // Points on the border, by number.
  std::vector<std::uint32_t> border_points() const;
  // Triangle that holds p (closed); nullopt outside. O(n).
  std::optional<std::uint32_t> triangle_at(LatticePoint p) const;

  // Makes p a point: a new one in triangle t, or on its side where p is all but on it, or a corner that is there
  // already and all but p. nullopt where none of that gives sound triangles.
  std::optional<std::uint32_t> insert(std::uint32_t t, LatticePoint p);
  // The same for a place p that lies on the edge but for rounding: a new point there, or one of the edge's ends.
  std::optional<std::uint32_t> insert_on(Side edge, LatticePoint p);

  // Says that the way cut runs from v to w, which share an edge.
  void mark(std::uint32_t v, std::uint32_t w);
  // Triangles left of the way cut, up to the way itself; forgets the way. Empty where it has the surface nowhere on its
  // left.
  std::vector<std::uint32_t> left_of_marks();
  void remove(const std::vector<std::uint32_t>& triangles);

  // What hangs together, each as its triangles, the largest in the chart first.
  std::vector<std::vector<std::uint32_t>> parts() const;
  Int128 twice_chart_area(const std::vector<std::uint32_t>& triangles) const;
  // A point in which two parts of the surface touch without sharing an edge.
  std::optional<std::uint32_t> pinched_point() const;

  struct Surface {
    SurfaceMesh mesh;
    std::vector<LatticePoint> places;
  };
  Surface surface() const;  // without what was removed, the rest in its order

 private:
  LatticePoint place_of(std::uint32_t t, std::size_t k) const { return places_[mesh_.triangles[t][k]]; }
  int side_towards(std::uint32_t t, std::uint32_t other) const;
  bool sound(LatticePoint a, LatticePoint b, LatticePoint c) const;
  bool can_split_edge(Side edge, LatticePoint p) const;
  std::uint32_t split_edge(Side edge, LatticePoint p);
  std::uint32_t split_triangle(std::uint32_t t, LatticePoint p);
  Vec3 weights(std::uint32_t t, LatticePoint p) const;  // of p in triangle t, also a little beyond it
  std::uint32_t add_point(std::uint32_t t, const Vec3& shares, LatticePoint p);
  std::uint32_t add_normal(std::uint32_t t, const Vec3& shares);
  std::uint32_t add_triangle(const Triangle& corners, const Triangle& normals, const Triangle& across,
                             const std::array<int, 3>& marks);
  void relink(std::uint32_t t, std::uint32_t from, std::uint32_t to);
  void find_fans();

  SurfaceMesh mesh_;
  std::vector<LatticePoint> places_;
  std::vector<Triangle> across_;
  std::vector<std::array<int, 3>> marks_;  // how often the way runs along the side, less how often against it
  std::vector<char> alive_;
  std::vector<std::uint32_t> some_;  // a triangle at each point; kNone where there is none
};

}  // namespace pontata
