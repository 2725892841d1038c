// Where a wall that closes round itself was cut open, side by side.
#pragma once

#include <optional>
#include <vector>

#include "engine/chart/chart.h"

namespace pontata {

// A turn and a shift of the chart: p goes to its turned place plus the shift.
struct ChartMotion {
  double cosine = 1, sine = 0;
  Vec2 shift{0, 0};                   // m
  std::optional<LatticePoint> steps;  // the shift in pitches, where there is no turn

  ChartPoint apply(ChartPoint p) const;  // exact where there is no turn
  ChartMotion inverse() const;
};

// A stretch of one side of a cut: border edges one after another whose other sides follow one another the other way
// round. Each cut gives two runs, one per side.
struct CutRun {
  std::vector<std::uint32_t> edges;      // border edges of the chart
  LatticePoint low, high;                // box of the run in the chart
  LatticePoint low_across, high_across;  // and of its other side
  std::optional<ChartMotion> motion;     // takes the chart at this side to the chart at the other, where one does
                                         // for the whole run within three pitches: drum, annular vault, cone
};

// All runs, in the order of the border; empty where nothing is cut.
std::vector<CutRun> cut_runs(const Chart& chart);

// The motion that takes one border edge of a cut onto its other side. Precondition: it has one.
ChartMotion motion_across(const Chart& chart, std::uint32_t edge);

// A place just outside the wall beside a cut, as seen from the other side of the cut; nullopt for places in the wall,
// beyond its real border, and where the other side has no wall there. O(border edges) for places outside.
std::optional<ChartPoint> place_across(const Chart& chart, ChartPoint p);

// Place on a border edge, fraction 0..1 along it.
ChartPoint border_place(const Chart& chart, Chart::BorderPlace at);
// Fraction along a border edge of the place on it nearest to p.
double share_along(const Chart& chart, std::uint32_t edge, LatticePoint p);

}  // namespace pontata
