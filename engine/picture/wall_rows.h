// Which stretches of a horizontal chart line lie on the wall.
#pragma once

#include <span>
#include <vector>

#include "engine/base/lattice.h"

namespace pontata {

struct RowSpan {
  double from = 0, to = 0;  // chart u, m, from < to
};

// Stretches of the line v inside the rings (even-odd), left to right; edges count from their lower end up to but not
// including their upper end. O(all edges).
std::vector<RowSpan> wall_spans(std::span<const Ring> rings, double v);

// The same for the rows v = origin + j * spacing, j in [0, rows), with the edges sorted by row once.
class WallRows {
 public:
  WallRows(std::span<const Ring> rings, double origin, double spacing, int rows);
  std::vector<RowSpan> spans(int j) const;

 private:
  struct Edge {
    Vec2 low, high;
  };
  double origin_ = 0, spacing_ = 1;
  std::vector<std::vector<Edge>> edges_;  // per row, those that cross it
};

}  // namespace pontata
