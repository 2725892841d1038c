// The two prints of every shared seam, side by side.
#pragma once

#include <unordered_map>

#include "engine/cartoon/pattern.h"

namespace pontata {

// A directed chart step.
struct ChartStep {
  LatticePoint from, to;
  bool operator==(const ChartStep&) const = default;
};
struct ChartStepHash {
  std::size_t operator()(const ChartStep& s) const {
    return std::hash<LatticePoint>{}(s.from) * 31 + std::hash<LatticePoint>{}(s.to);
  }
};

class SeamIndex {
 public:
  // `pattern` must outlive this.
  void add(const Pattern& pattern);
  // Greatest distance (mm) between a stretch of this pattern's rim and the same stretch printed on another pattern,
  // after the best rigid fit of each stretch.
  double mismatch(const Pattern& pattern) const;

 private:
  struct Print {
    const Pattern* pattern = nullptr;
    Vec2 from{0, 0}, to{0, 0};  // mm
  };
  std::unordered_map<ChartStep, Print, ChartStepHash> prints_;
};

}  // namespace pontata
