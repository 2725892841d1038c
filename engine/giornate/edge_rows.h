// Directed edges sorted into rows of the chart, for many questions about one set of rings or seams.
#pragma once

#include <algorithm>
#include <cstdint>
#include <span>
#include <vector>

#include "engine/base/lattice.h"

namespace pontata {

struct ChartEdge {
  LatticePoint from, to;
  std::uint32_t tag = 0;  // the caller's own
};

class EdgeRows {
 public:
  explicit EdgeRows(std::vector<ChartEdge> edges);
  static EdgeRows of_rings(std::span<const Ring> rings);

  const std::vector<ChartEdge>& edges() const { return edges_; }
  LatticePoint low() const { return low_; }  // box of all edges
  LatticePoint high() const { return high_; }

  // Calls f(edge) once for every edge whose heights meet [y0, y1], and for some a little beyond.
  template <class F>
  void visit(std::int64_t y0, std::int64_t y1, F&& f) const {
    if (edges_.empty() || y1 < low_.y || y0 > high_.y) return;
    const std::size_t first = row_of(std::max(y0, low_.y));
    const std::size_t last = row_of(std::min(y1, high_.y));
    for (std::size_t row = first; row <= last; ++row)
      for (std::uint32_t k = start_[row]; k < start_[row + 1]; ++k) {
        const ChartEdge& e = edges_[items_[k]];
        if (row == first || row_of(std::min(e.from.y, e.to.y)) == row) f(e);
      }
  }

  // How often the edges, taken as closed rings, wind counter-clockwise round p. Exact; p must lie on no edge.
  int winding(LatticePoint p) const;

 private:
  std::size_t row_of(std::int64_t y) const { return static_cast<std::size_t>((y - low_.y) / row_height_); }
  std::vector<ChartEdge> edges_;
  std::vector<std::uint32_t> start_, items_;
  LatticePoint low_, high_;
  std::int64_t row_height_ = 1;
};

}  // namespace pontata
