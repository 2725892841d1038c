// A uniform grid over chart triangles: which triangles may hold a place.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "engine/base/lattice.h"
#include "engine/wall/surface_mesh.h"

namespace pontata {

class TriangleGrid {
 public:
  TriangleGrid() = default;
  // About one cell per two triangles; O(n) for triangles of ordinary proportions. Places start at (0, 0).
  TriangleGrid(const std::vector<Triangle>& triangles, const std::vector<LatticePoint>& places, LatticePoint high);

  // Every triangle that holds p (closed) is listed, in rising order, with some that do not.
  std::span<const std::uint32_t> near(LatticePoint p) const;

 private:
  template <class F>
  void visit_cells(const Triangle& triangle, const std::vector<LatticePoint>& places, F&& f) const;
  int row(double y) const;
  int column(double x) const;

  double inverse_cell_ = 1;  // cells per pitch
  int columns_ = 1, rows_ = 1;
  LatticePoint high_;
  std::vector<std::uint32_t> start_, items_;
};

}  // namespace pontata
