// A layout in a few figures, so that two can be held side by side.
#pragma once

#include <optional>
#include <span>
#include <string>

#include "engine/review/findings.h"

namespace pontata {

// Seam between giornate, or a giornata and the rest, and how it lies to the picture's contours. The wall's border, and
// seam where no picture shows, are left out of all but seam_m.
struct ContourShare {
  double seam_m = 0;        // all seam
  double judged_m = 0;      // of it where a picture shows
  double on_contour_m = 0;  // of that within contour_mm of a contour
  double near_m = 0;        // of judged_m where a contour that runs the seam's way lies within kContourNear: where
                            // there are contours to follow
  double near_on_m = 0;     // of near_m within contour_mm of such a one
  double on_contour() const { return judged_m > 0 ? on_contour_m / judged_m : 0; }
  double where_contours() const { return near_m > 0 ? near_on_m / near_m : 0; }
};
inline constexpr double kContourNear = 0.10;  // m

ContourShare contour_share(const ChartedWall& wall, const Network& network, const ContourField* contours,
                           const Draped* draped, double contour_mm);
// The same for lines in the chart instead of seams: for a layout shifted as a whole, what falls off the wall left out.
ContourShare contour_share(const ChartedWall& wall, std::span<const std::vector<ChartPoint>> lines,
                           const ContourField* contours, const Draped* draped, double contour_mm);

struct LayoutFigures {
  std::size_t giornate = 0;
  std::optional<int> days;       // working days from the first to the last of the wall's giornate; none without a plan
  std::size_t over_hours = 0;    // giornate over the day's hours
  std::size_t disconnected = 0;  // giornate in more than one piece
  std::size_t thin = 0;          // giornate with a thin end
  ContourShare contours;
  double hours = 0;  // of painting, all together; 0 without a rate
  double fullest_h = 0, emptiest_h = 0;
  std::size_t decide = 0, warn = 0, note = 0;  // open findings by severity
  std::optional<Finding> worst;                // the first open finding
};

// From what a review and its findings have; `findings` as review() gives them.
LayoutFigures layout_figures(const ReviewInput& input, const ReviewSettings& settings,
                             std::span<const Finding> findings);

// "12 giornate in 12 days, 31.4 m of seam, 83 % of it on contours; the worst: ...". One line.
std::string figures_words(const LayoutFigures& figures);

}  // namespace pontata
