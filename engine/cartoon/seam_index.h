// The two prints of every shared seam, side by side.
#pragma once

#include <unordered_map>

#include "engine/cartoon/pattern.h"

namespace pontata {

class SeamIndex {
 public:
  // Keeps the places that the pattern's rim is printed at, nothing else of it.
  void add(const Pattern& pattern);
  // Greatest distance (mm) between a stretch of this pattern's rim and the same stretch printed on another pattern,
  // after the best rigid fit of each stretch; a stretch ends at a cut's mouth on either print. Where a seam runs along
  // a cut of the chart the two sides share no steps, and it is not compared.
  double mismatch(const Pattern& pattern) const;

 private:
  struct Print {
    std::uint32_t pattern = 0;  // counted from 1
    bool mouth = false;         // a cut's mouth lies where the step begins
    Vec2 from{0, 0}, to{0, 0};  // mm
  };
  std::unordered_map<ChartStep, Print, ChartStepHash> prints_;
  std::uint32_t patterns_ = 0;
};

}  // namespace pontata
