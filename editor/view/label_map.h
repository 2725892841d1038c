// Which giornata lies where, as a small raster over the part of the chart that is in view.
//
// Filled on the processor by the even-odd rule at each pixel's middle, so that faces with holes, thin tips and seams of
// any shape come out right at once; made again when the network or the view changes. Seams are drawn over its edges.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "engine/base/lattice.h"
#include "engine/base/vec.h"

namespace pontata {

// One face as drawn: rings in chart metres, outer and inner in any order.
struct LabelledFace {
  std::uint8_t label = 0;
  std::vector<std::vector<Vec2>> rings;
  Vec2 low{0, 0}, high{0, 0};  // box of the rings
};
LabelledFace labelled_face(std::uint8_t label, std::span<const Ring> rings);

inline constexpr std::uint8_t kChosenLabel = 8;  // added to the state 1 (planned) ... 5 (to redo)

struct LabelWindow {
  Vec2 low{0, 0};   // chart m
  Vec2 size{1, 1};  // chart m
  int columns = 1, rows = 1;
  bool operator==(const LabelWindow&) const = default;
};

// Row by row from the bottom; label 0 where no face is.
struct LabelMap {
  LabelWindow window;
  std::vector<std::uint8_t> labels;
  unsigned states = 0;  // bit s set: state s (1 to 5) may be found in it
  std::uint8_t at(int column, int row) const {
    return labels[static_cast<std::size_t>(row) * static_cast<std::size_t>(window.columns) +
                  static_cast<std::size_t>(column)];
  }
};
// Every second column and row, at least one of each; the same window.
LabelMap halved(const LabelMap& map);

LabelMap make_label_map(const LabelWindow& window, std::span<const LabelledFace> faces);

}  // namespace pontata
