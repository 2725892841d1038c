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
  std::optional<SeamSpot> spot;  // when it lies on a seam
  std::vector<HugPlace> places;  // where it may be drawn to, nearest first; at least one
  bool is(Vec2 p) const { return places.size() == 1 && places[0].at == p; }
};

// The way found between two ends, and which of their places it joins; no cells: straight.
struct HugWay {
  HugPlace from, to;
  std::optional<std::vector<HugCell>> cells;
};

class HugGuide {
 public:
  HugGuide(std::shared_ptr<const HugGround> ground, const HugOptions& options);

  const ChartedWall& wall() const { return *ground_->wall; }
  const HugOptions& options() const { return options_; }
  HugCost* cost() { return cost_ ? &*cost_ : nullptr; }
  double long_loop() const { return 2 * std::max(options_.reach_m, 0.025); }

  // An end at a click: drawn to the seam within reach, else to a contour's place that does not lie beside the barrier
  // (one that would make the line run into itself), else exactly there. The barrier may be null.
  HugEnd click(ChartPoint p, const HugBarrier* barrier = nullptr);
  // An end that stays where it is: the line drawn so far has been led there.
  HugEnd fixed(Vec2 at) const;

  // The way along seams when both ends lie on them and it stays near the straight stroke.
  std::optional<HugPath> along_seams(const HugEnd& a, const HugEnd& b) const;
  // Where a tree for ways from this end is rooted.
  std::vector<HugRoot> roots(const HugEnd& a);
  // The cheapest way in the tree, which is rooted at a, to one of b's places; nullopt when there is none. A place
  // farther from its click than the nearest one must save more than half as much again.
  std::optional<HugWay> way(HugTree& tree, const HugEnd& a, const HugEnd& b);
  static HugWay straight(const HugEnd& a, const HugEnd& b) { return {a.places[0], b.places[0], {}}; }
  // Dense line along the way, drawn to seams it runs beside, without loops.
  HugPath dense(const HugWay& way);

 private:
  std::shared_ptr<const HugGround> ground_;
  HugOptions options_;
  HugSeams seams_;
  std::optional<HugCost> cost_;
};

}  // namespace pontata
