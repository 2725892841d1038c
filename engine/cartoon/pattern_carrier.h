// Lines of the wall carried onto a flat pattern, through its triangles.
#pragma once

#include <span>
#include <utility>
#include <vector>

#include "engine/cartoon/pattern.h"

namespace pontata {

struct CarriedPoint {
  Vec2 at{0, 0};     // mm on the pattern
  ChartPoint place;  // where that is on the wall
};
using CarriedLine = std::vector<CarriedPoint>;

class PatternCarrier {
 public:
  // Keeps a reference to the pattern. O(triangles).
  explicit PatternCarrier(const Pattern& pattern);

  // What of a line in the chart (m; its stretches straight there) lies on the pattern, in its order: every crossing
  // with a side of a triangle is a point, and it parts where the pattern ends and where a relief cut opens. Expected
  // time goes with the triangles under it.
  std::vector<CarriedLine> operator()(std::span<const ChartPoint> line) const;

 private:
  struct Piece {
    double from = 0, to = 0;  // shares of the stretch
    CarriedPoint start, end;
  };
  std::vector<Piece> pieces_of(Vec2 a, Vec2 b) const;
  int column(double x) const;
  int row(double y) const;

  const Pattern& pattern_;
  Vec2 low_{0, 0}, high_{0, 0};
  double cell_ = 1;  // chart m
  int columns_ = 1, rows_ = 1;
  std::vector<std::uint32_t> start_, items_;  // triangles of each cell
};

// The shapes of CarriedLines alone.
std::vector<Vec2> shape_of(const CarriedLine& line);

// The place of the pattern's rim (mm) that lies at a chart place of the giornata's rim, and the unit direction into the
// pattern there; nothing where no rim passes within 10 micrometres of it in the chart. O(rim).
struct RimSpot {
  Vec2 at{0, 0}, inward{0, 1};
};
std::optional<RimSpot> place_on_rim(const Pattern& pattern, ChartPoint place);

}  // namespace pontata
