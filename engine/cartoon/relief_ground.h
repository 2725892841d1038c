// The ground that relief cuts are planned on: a giornata laid flat roughly, as a grid of square cells on the paper.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "engine/cartoon/cartoon.h"
#include "engine/flatten/flattening.h"

namespace pontata {

// A way on the paper, m, from a rim point inward.
using PaperWay = std::vector<Vec2>;

class ReliefGround {
 public:
  // `flat` (m): the patch without slits. All must outlive this. Cost: O(triangles + cells), some 20,000 cells a m².
  ReliefGround(const CartoonWall& wall, const Patch& patch, std::span<const Vec2> flat);

  // Where a way from rim position i inward leads to: `share` of the way to where the patch is widest. The least-cost
  // way there keeps out of keep-whole zones and of what is taken, and costs half as much along the picture's contours.
  // Nearer where the place cannot be reached. nullopt where there is no way of at least kLeastWay.
  std::optional<PaperWay> way_from(std::size_t rim, std::size_t i, double share) const;
  // Keeps other ways off this one.
  void take(const PaperWay& way);
  void free_all() { taken_.assign(taken_.size(), 0); }
  // Neither in a keep-whole zone nor within its clearance.
  bool is_free(Vec2 p) const;

  // The same way in the chart, its first point left out; ends before it would cross a cut of the chart.
  std::vector<LatticePoint> in_chart(const PaperWay& way) const;

  static constexpr double kLeastWay = 0.03;        // m
  static constexpr double kZoneClearance = 0.008;  // m

 private:
  static constexpr std::uint32_t kOutside = 0xffffffffu;
  struct Cell {
    int x = 0, y = 0;
  };
  std::size_t index(Cell c) const {
    return static_cast<std::size_t>(c.y) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(c.x);
  }
  Cell cell_of(Vec2 p) const;
  Cell cell_at(std::size_t i) const {
    return {static_cast<int>(i % static_cast<std::size_t>(columns_)),
            static_cast<int>(i / static_cast<std::size_t>(columns_))};
  }
  Vec2 middle(Cell c) const { return low_ + size_ * Vec2{c.x + 0.5, c.y + 0.5}; }
  bool inside(Cell c) const {
    return c.x >= 0 && c.y >= 0 && c.x < columns_ && c.y < rows_ && triangle_[index(c)] != kOutside;
  }
  ChartPoint place(std::uint32_t t, Vec2 p) const;
  void fill(const CartoonWall& wall);
  void mark_zones(const CartoonWall& wall);
  void mark_contours(const CartoonWall& wall);
  void grow_blocked();
  void measure_depths();
  std::optional<std::size_t> nearest_inside(Vec2 p) const;
  std::size_t ridge_from(std::size_t start, double share) const;
  double step_cost(std::size_t from, std::size_t to, double length) const;
  double straight_cost(Vec2 a, Vec2 b) const;
  PaperWay straightened(const PaperWay& way) const;

  const Patch& patch_;
  std::span<const Vec2> flat_;
  Vec2 low_{0, 0};
  double size_ = 0.008;  // m, of a cell
  int columns_ = 0, rows_ = 0;
  std::vector<std::uint32_t> triangle_;  // per cell
  std::vector<float> depth_;             // m from the nearest rim
  std::vector<char> blocked_, contour_, taken_;
};

}  // namespace pontata
