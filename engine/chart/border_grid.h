// A uniform grid over the chart's border: which border edges may be the nearest to a place.
#pragma once

#include <cstdint>
#include <utility>
#include <vector>

#include "engine/base/vec.h"

namespace pontata {

class BorderGrid {
 public:
  BorderGrid() = default;
  // About one cell per edge; O(n) for borders that do not fill the plane. Ends of each edge in chart metres.
  explicit BorderGrid(const std::vector<std::pair<Vec2, Vec2>>& edges);

  // The edge nearest to p and the fraction 0..1 along it of its nearest place; of equally near edges the first.
  // Precondition: there are edges. Expected O(1) near the border, O(n) at most.
  struct Nearest {
    std::uint32_t edge = 0;
    double along = 0, distance2 = 0;
  };
  Nearest nearest(const Vec2& p) const;

 private:
  template <class F>
  void visit_cells(const std::pair<Vec2, Vec2>& edge, F f) const;
  int column(double x) const;
  int row(double y) const;

  std::vector<std::pair<Vec2, Vec2>> edges_;
  Vec2 low_{0, 0};
  double cell_ = 1;  // m
  int columns_ = 1, rows_ = 1;
  std::vector<std::uint32_t> start_, items_;
};

}  // namespace pontata
