// A line drawn click by click; between clicks it follows contours and seams unless it is let go. Ways are sought on the
// second thread: the window never waits. While the pointer moves a line is shown that was sought roughly and does not
// flip; once it rests, and at a click, the exact one.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "editor/tools/tool.h"
#include "engine/chart/cut_crossing.h"
#include "engine/document/document.h"
#include "engine/seams/hug.h"

namespace pontata {

class GuidedStroke {
 public:
  GuidedStroke();
  ~GuidedStroke();
  GuidedStroke(GuidedStroke&&) noexcept;
  GuidedStroke& operator=(GuidedStroke&&) noexcept;

  // Takes up the chosen wall; what was begun on another state of the project is given up. False without a wall.
  bool ready(Workbench& bench);
  const std::shared_ptr<const WallItem>& item() const;
  // The seams that this stroke follows in place of the wall's own, until it is cleared.
  void follow_instead(Network seams);
  // Where clicks landed and, of those whose line is still being sought, where they were made.
  const std::vector<ChartPoint>& points() const;

  // The pointer is at p: the line to it is shown as soon as it is found. Precondition: a point and ready().
  void aim(Workbench& bench, ChartPoint p, bool straight);
  void hide_live();
  // A click at p. Its line is the exact one; where that is not the one shown last, the status line says so.
  void add(Workbench& bench, ChartPoint p, bool straight);
  void take_back();
  void clear();
  // Calls done(last) once all clicks are drawn, with the line from the last point to `closing`, or an empty one without
  // it; at once where nothing needs to be sought. What is added or taken back before that calls it off.
  void finish(Workbench& bench, std::optional<ChartPoint> closing, bool straight,
              std::function<void(const HuggedLine& last)> done);

  HuggedLine straight_to(ChartPoint p) const;
  void draw(Workbench& bench, ImDrawList& list, const Pane& pane) const;
  // What the line to the pointer follows, in plain words; empty where none is shown.
  std::string follows(const Workbench& bench) const;

  // All stretches, and `last` behind them, as one line with no place twice in a row.
  HuggedLine whole(const HuggedLine& last = {}) const;

 private:
  struct State;
  std::shared_ptr<State> state_;  // work on the second thread comes back to it where it still lives
};

}  // namespace pontata
