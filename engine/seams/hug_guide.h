// What the strokes over one ground share: where their ends lie, the way between them, and the line along that way.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "engine/seams/hug_path.h"
#include "engine/seams/hug_places.h"
#include "engine/seams/hug_seams.h"
#include "engine/seams/hug_search.h"

namespace pontata {

// A stroke's end.
struct HugEnd {
  Vec2 given{0, 0};              // the place asked for, on the wall, or its place on a seam
  std::optional<SeamSpot> spot;  // when it lies on a seam, or on an edge of the wall
  std::optional<SeamSpot> rib;   // when it lies on a rib
  std::vector<HugPlace> places;  // where it may be drawn to, nearest first; at least one
  bool is(Vec2 p) const { return places.size() == 1 && places[0].at == p; }
};

// The way found between two ends, and which of their places it joins; no cells: straight.
struct HugWay {
  HugPlace from, to;
  std::optional<std::vector<HugCell>> cells;
  double cost_m = 0;  // of the cells, and of drawing the ends to their places; metres of smooth ground
};

class HugGuide {
 public:
  HugGuide(std::shared_ptr<const HugGround> ground, const HugOptions& options);

  const ChartedWall& wall() const { return *ground_->wall; }
  const HugSeams& seams() const { return seams_; }
  const HugOptions& options() const { return options_; }
  HugCost* cost() { return cost_.empty() ? nullptr : cost_.front().get(); }
  double long_loop() const { return 2 * std::max(options_.reach_m, 0.025); }

  // An end at a click: drawn to the seam within reach, else to the rib, else to a contour's place that does not lie
  // beside the barrier (one that would make the line run into itself), else exactly there. The barrier may be null.
  HugEnd click(ChartPoint p, const HugBarrier* barrier = nullptr);
  // An end that stays where it is: the line drawn so far has been led there.
  HugEnd fixed(Vec2 at) const;

  // The way along seams, or along ribs, when both ends lie on them and it stays near the straight stroke.
  std::optional<HugPath> along_seams(const HugEnd& a, const HugEnd& b) const;
  // The least-cost way from a to b over all cells within reach of the stroke; straight where there is none, where
  // nothing is hugged and when cancelled. Of an end's places, one farther from the click than the nearest must save
  // more than half as much again. Precondition: no barrier where b means to meet the line.
  HugWay exact(const HugEnd& a, const HugEnd& b, const HugBarrier* barrier, const Progress* progress);
  // About the same, sought on coarse cells first and on finer ones beside the way found; nullopt when cancelled and
  // where there is none on the coarse ones.
  std::optional<HugWay> rough(const HugEnd& a, const HugEnd& b, const HugBarrier* barrier, const Progress* progress);
  // The cheapest way to b among those that keep to the cells of a way shown before and, within `reach_m` (chart
  // metres) of b, any cells.
  std::optional<HugWay> kept(const std::vector<HugCell>& cells, double reach_m, const HugEnd& a, const HugEnd& b,
                             const HugBarrier* barrier);
  static HugWay straight(const HugEnd& a, const HugEnd& b) { return {a.places[0], b.places[0], {}, 0}; }
  // Dense line along the way, drawn to seams it runs beside, without loops.
  HugPath dense(const HugWay& way);

 private:
  HugRegion within_reach(const HugEnd& a, const HugEnd& b) const { return {a.given, b.given, options_.reach_m, false}; }
  // Where a tree for ways from this end is rooted.
  std::vector<HugRoot> roots(HugCost& cost, const HugEnd& a);
  // The cheapest way in the tree, which is rooted at a, to one of b's places; nullopt when there is none.
  std::optional<HugWay> way(HugCost& cost, HugTree& tree, const HugEnd& a, const HugEnd& b);
  HugCost& level(std::size_t n);  // cells 4^n times as wide
  std::size_t coarsest(const HugRegion& region) const;

  std::shared_ptr<const HugGround> ground_;
  HugOptions options_;
  HugSeams seams_, ribs_;
  std::vector<std::unique_ptr<HugCost>> cost_;  // finest first; none where there are no contours to follow
};

}  // namespace pontata
