// The seams of a layout as lines: from the sides of cells to lines along the picture's contours.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "engine/proposal/tidy.h"

namespace pontata {

// From junction to junction, or from or to the rim of what is laid out.
struct LayoutLine {
  std::vector<Vec2> at;                        // chart m
  std::uint32_t left = 0, right = 0;           // groups
  bool first_open = false, last_open = false;  // that end lies on the rim: it is led on beyond
};

// Along the sides of cells. An island's rim comes in two lines. O(cells).
std::vector<LayoutLine> trace_lines(const ProposalGround& ground, const CellGroups& groups);

// Lines that pass here stay close by their course: nearby (1), or farther round (2).
struct PlainPlace {
  Vec2 at{0, 0};  // chart
  std::size_t way = 1;
};

// The same lines led along contours: each within some cells of its course, its junctions where the lines that meet
// there cost least, none crossing another nor a keep-whole zone; where that cannot be, a line is led beside those that
// it would cross, is straightened only, or stays along its cells. Without contours lines are straightened.
// Cost: as hug (engine/seams/hug.h) for the length of the lines.
class LineLeader {
 public:
  // `strict`: as ProposalSettings::contours. Ground and input must outlive this.
  LineLeader(const ProposalGround& ground, const ProposalInput& input, double strict, std::span<const LayoutLine> lines,
             Progress* progress = nullptr);
  ~LineLeader();
  // Each time from the beginning. Cheap beside the making of it.
  std::vector<LayoutLine> led(std::span<const PlainPlace> plain = {}, Progress* progress = nullptr);

 private:
  class State;
  std::unique_ptr<State> state_;
};

}  // namespace pontata
