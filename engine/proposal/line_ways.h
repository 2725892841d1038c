// Ways that a layout's lines may take over the picture. Internal to engine/proposal.
//
// Based on: Dijkstra, "A note on two problems in connexion with graphs", 1959 (the way itself); Dreyfus and Wagner,
// "The Steiner problem in graphs", 1971 (where three ways meet: at the place with the least sum of their costs).
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "engine/proposal/lines.h"
#include "engine/seams/hug_search.h"

namespace pontata {

using WayLine = std::vector<Vec2>;  // chart m

// Within `reach` (chart m) of it no line leaves its course.
struct NarrowPlace {
  Vec2 at{0, 0};
  double reach = 0;
};

class LineWays {
 public:
  // `strict`: as ProposalSettings::contours. Both must outlive this.
  LineWays(const ProposalGround& ground, const ProposalInput& input, double strict);
  // There are contours to follow; without them only straightened and joined may be called.
  bool follow() const { return cost_ != nullptr; }

  // The cheapest way beside the course, its ends given, close by it at narrow places, on none of the picture's cells
  // that the lines `off` run over; empty: there is none, or it was cancelled.
  WayLine hugged(const WayLine& course, Vec2 from, Vec2 to, std::span<const NarrowPlace> narrow,
                 std::span<const WayLine> off, Progress* progress);
  // The same on wide cells only, for a first look; the course itself where there is no way.
  WayLine roughly(const WayLine& course, Vec2 from, Vec2 to, Progress* progress);
  // The course without its steps, nowhere farther than so many cells of the ground from it but at its ends.
  WayLine straightened(const WayLine& course, Vec2 from, Vec2 to, double cells) const;
  // The course from one place to another near its ends: it begins and ends where it passes them.
  WayLine joined(const WayLine& course, Vec2 from, Vec2 to) const;

  // Where lines that meet about a corner cost least together, as far as a junction may move; `legs`: each as it leaves
  // the corner, some way along it. It keeps away from the places `others`. None: no such place, or cancelled.
  std::optional<Vec2> least_place(Vec2 corner, std::span<const WayLine> legs, std::span<const Vec2> others,
                                  Progress* progress);
  // The plainest contour within so many cells of the ground; the place itself where there is none.
  Vec2 on_contour(Vec2 place, double cells) const;
  // As much of a line from its beginning on as least_place needs.
  WayLine leg(const WayLine& line) const;

 private:
  int cells(const HugCost& cost, double of_ground) const;
  HugCells corridor(HugCost& cost, const WayLine& course, std::span<const NarrowPlace> narrow = {}) const;
  std::optional<std::vector<HugCell>> path(HugCost& cost, const WayLine& course, Vec2 from, Vec2 to,
                                           std::span<const NarrowPlace> narrow, std::span<const WayLine> off,
                                           Progress* progress);

  const ProposalGround& ground_;
  const ProposalInput& input_;
  std::unique_ptr<HugCost> cost_;                // of the picture's cells; null: no contours
  std::vector<std::unique_ptr<HugCost>> rough_;  // wider and wider ones, to about the ground's
};

}  // namespace pontata
