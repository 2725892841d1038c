// The chart: every point of the wall's triangles has its own place on the integer lattice, and no two
// triangles overlap there. An address, not a ruler: nothing is ever measured in it.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "engine/base/lattice.h"
#include "engine/base/result.h"
#include "engine/chart/border_grid.h"
#include "engine/chart/triangle_grid.h"
#include "engine/wall/surface_mesh.h"

namespace pontata {

struct ChartBox {
  double width = 0, height = 0;  // m; the lower left corner is (0, 0)
};

struct ChartStretch {
  double least = 1, greatest = 1;  // principal scale factors surface/chart over all triangles
};

class Chart {
 public:
  // Snaps the addresses (m) to the lattice, moved so that the box's lower left is the origin, and certifies the map:
  // every triangle keeps a positive exact area with a least altitude of 16 pitches or more, every border loop is
  // simple, loops do not cross, and the triangles' areas sum exactly to the area inside the loops; for a disc-like or
  // holed mesh that makes the map bijective (Lipman, "Bijective mappings of meshes with boundary", 2014). Otherwise a
  // Problem with the place (X, Y, Z) of the first fault.
  // keep_origin: the addresses are taken as they are (all at or above 0), so that a wall keeps its places when an
  // opening takes away its corner.
  static Result<Chart> certify(std::shared_ptr<const SurfaceMesh> mesh, std::span<const Vec2> addresses,
                               const std::string& name, bool keep_origin = false);

  const SurfaceMesh& mesh() const { return *mesh_; }
  std::shared_ptr<const SurfaceMesh> shared_mesh() const { return mesh_; }
  const std::vector<LatticePoint>& places() const { return places_; }  // one per mesh point
  ChartBox box() const { return box_; }
  ChartStretch stretch() const { return stretch_; }
  ChartStretch stretch_of(std::uint32_t t) const;  // of one triangle

  // Border loops as mesh points: the outer one first, counter-clockwise, then the holes, clockwise.
  const std::vector<std::vector<std::uint32_t>>& border_loops() const { return loops_; }
  std::vector<Ring> border_rings() const;

  // Triangle across edge k (corner k to corner k+1) of triangle t; kNoTriangle at the border.
  static constexpr std::uint32_t kNoTriangle = 0xffffffffu;
  std::uint32_t across(std::uint32_t t, int k) const { return across_[t][static_cast<std::size_t>(k)]; }

  // Border edges one after another along the loops, in the order of border_loops(); each runs with the wall on its
  // left.
  struct BorderEdge {
    std::uint32_t triangle = 0;  // the edge from its corner `side` to the next corner
    int side = 0;
    std::uint32_t loop = 0;
  };
  const std::vector<BorderEdge>& border_edges() const { return border_edges_; }
  // Indices of loop l's edges: begin and one past the end.
  std::pair<std::uint32_t, std::uint32_t> loop_range(std::uint32_t l) const {
    return {loop_start_[l], loop_start_[l + 1]};
  }
  // Border edge that starts at a mesh point; kNoTriangle for points inside the wall.
  std::uint32_t border_edge_from(std::uint32_t point) const { return border_from_[point]; }
  LatticePoint border_start(std::uint32_t edge) const;
  LatticePoint border_end(std::uint32_t edge) const;
  // Place on the border nearest to p in the chart: edge and fraction 0..1 along it. Expected O(1) near the border.
  struct BorderPlace {
    std::uint32_t edge = 0;
    double along = 0;
  };
  BorderPlace nearest_border(ChartPoint p) const;

  // A wall that closes round itself is cut open: two border edges are then the same stretch of surface, run opposite
  // ways (their ends are the same places in space, bit for bit). The other one of a border edge; kNoTriangle where the
  // wall really ends.
  std::uint32_t across_cut(std::uint32_t edge) const { return cut_.empty() ? kNoTriangle : cut_[edge]; }
  bool has_cuts() const { return !cut_.empty(); }
  // The same surface place as seen from the other side of the cut; nullopt where the wall really ends.
  std::optional<BorderPlace> other_side(BorderPlace at) const;

  // Triangle that holds p (closed, exact); nullopt outside the wall. Expected O(1) by a grid.
  std::optional<std::uint32_t> triangle_at(LatticePoint p) const;
  // Surface point at a chart place; nullopt outside the wall.
  std::optional<WallPoint> locate(ChartPoint p) const;
  // Nearest place of the wall to p in the chart, p itself when inside. A place on the border is moved by up to three
  // pitches so that it lies on the lattice and in the wall.
  ChartPoint clamp(ChartPoint p) const;
  // Chart place of a surface point.
  ChartPoint address(const WallPoint& p) const;
  // Barycentric weights of p in triangle t, extended beyond it.
  Vec3 weights(std::uint32_t t, ChartPoint p) const;

 private:
  std::shared_ptr<const SurfaceMesh> mesh_;
  std::vector<LatticePoint> places_;
  std::vector<Triangle> across_;
  std::vector<std::vector<std::uint32_t>> loops_;
  std::vector<BorderEdge> border_edges_;
  std::vector<std::uint32_t> loop_start_, border_from_;
  std::vector<std::uint32_t> cut_;  // by border edge; empty where nothing is cut
  ChartBox box_;
  ChartStretch stretch_;
  TriangleGrid grid_;
  BorderGrid border_grid_;
  friend class ChartBuilder;
};

}  // namespace pontata
