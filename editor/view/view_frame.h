// One picture to be drawn: its size, from where, and how finely.
#pragma once

#include <cstddef>
#include <limits>

#include "editor/view/camera.h"

namespace pontata {

enum class ViewKind { space, flat };

// How true a frame is. error_px 0 is the true surface; otherwise levels may lie that far from it, on screen, and
// farther when more than `most_triangles` would be drawn.
struct Detail {
  double error_px = 0;
  std::size_t most_triangles = std::numeric_limits<std::size_t>::max();
  bool reduced() const { return error_px > 0; }
};
inline constexpr double kUnseenPx = 0.7;    // error_px that the eye does not see
inline constexpr double kCoarsestPx = 6.0;  // beyond this fewer triangles save nothing

struct ViewFrame {
  ViewKind kind = ViewKind::space;
  int width = 1, height = 1;  // px
  double scale = 1;           // of line widths, for sharp screens
  FlatCamera flat;            // the one of `kind` is used
  OrbitCamera space;
  double fill = 0.45;  // share of the state colour over the picture, 0..1
  Detail detail;
  ViewSize size() const { return {static_cast<double>(width), static_cast<double>(height)}; }
};

}  // namespace pontata
