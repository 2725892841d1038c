// How much each stretch of seam shows from an eye point, as lines to draw over the wall or over a view of it.
//
// Four grades, each darker and broader than the one before, so that they are told apart without colour. Where one ends
// and the next begins is our own choice, no source (SeamSight::shows).
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "engine/review/from_floor.h"

namespace pontata {

struct HeatGrade {
  double from_shows = 0;   // SeamSight::shows at least this, and below the next grade's
  std::uint32_t rgb = 0;   // 0xRRGGBB
  double width = 1;        // of its line, times that of the first
  std::string_view words;  // "shows a little"
};
inline constexpr std::size_t kHeatGrades = 4;
const std::array<HeatGrade, kHeatGrades>& heat_grades();
// The first: 0. Out of sight (shows 0): nullopt.
std::optional<std::size_t> heat_grade(double shows);

// A run of stretches of one seam that are of one grade.
struct HeatLine {
  std::size_t grade = 0;
  std::vector<ChartPoint> line;  // at least two places
};
// Stretches out of sight are left out. `sights` in the order of seams_from.
std::vector<HeatLine> heat_lines(std::span<const SeamSight> sights);

}  // namespace pontata
