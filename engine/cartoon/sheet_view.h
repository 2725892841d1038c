// One sheet's view of a pattern: pattern mm to page mm.
#pragma once

#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "engine/cartoon/page.h"
#include "engine/cartoon/tiling.h"

namespace pontata {

class SheetView {
 public:
  // Keeps a reference to the tiling.
  SheetView(const Tiling& tiling, const Tile& tile)
      : tiling_(tiling), shift_(Vec2{tiling.margins.left, tiling.margins.bottom} - tile.corner) {}
  Vec2 operator()(Vec2 p) const { return placed(tiling_, p) + shift_; }
  std::vector<Vec2> operator()(const std::vector<Vec2>& line) const {
    std::vector<Vec2> out;
    out.reserve(line.size());
    for (const Vec2& p : line) out.push_back((*this)(p));
    return out;
  }
  double turn_deg() const { return pontata::turn_deg(tiling_); }

 private:
  const Tiling& tiling_;
  Vec2 shift_;
};

// Words centred on a point of the page at an angle.
inline void centred(Pages& pages, Vec2 centre, const std::string& words, TextStyle style) {
  const double a = style.angle_deg * std::numbers::pi / 180;
  style.align = Align::centre;
  pages.text(centre + Vec2{std::sin(a), -std::cos(a)} * (0.36 * style.size_mm), words, style);
}

}  // namespace pontata
