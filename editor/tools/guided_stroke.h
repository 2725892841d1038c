// A line drawn click by click; between clicks it follows contours and seams unless it is let go.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "editor/tools/tool.h"
#include "engine/chart/cut_crossing.h"
#include "engine/document/document.h"
#include "engine/seams/hug.h"

namespace pontata {

class GuidedStroke {
 public:
  // Takes up the chosen wall; what was begun on another state of the project is given up. False without a wall.
  bool ready(Workbench& bench);
  const std::shared_ptr<const WallItem>& item() const { return item_; }
  const std::vector<ChartPoint>& points() const { return points_; }

  // The stretch from the last point to p. Precondition: a point and ready().
  HuggedLine stretch_to(Workbench& bench, ChartPoint p, bool straight);
  HuggedLine straight_to(ChartPoint p) const;
  void add(Workbench& bench, ChartPoint p, bool straight);
  void take_back();
  void clear();

  void show_live(HuggedLine line) { live_ = std::move(line); }
  void hide_live() { live_ = {}; }
  void draw(Workbench& bench, ImDrawList& list, const Pane& pane) const;

  // All stretches, and `last` behind them, as one line with no place twice in a row.
  HuggedLine whole(const HuggedLine& last = {}) const;

 private:
  std::vector<CutPiece> way_to(ChartPoint p) const;

  std::shared_ptr<const WallItem> item_;
  std::shared_ptr<const ContourField> contours_;
  std::shared_ptr<const HugGround> ground_;
  std::optional<HugStroke> stroke_;  // from the last point
  std::vector<ChartPoint> points_;
  std::vector<HuggedLine> stretches_;  // between them; one fewer than points
  HuggedLine live_;                    // from the last point to the pointer
};

}  // namespace pontata
