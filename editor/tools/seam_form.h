// The Nudge tool's fields: how far along a seam a drag reaches, and every drag typed.
#pragma once

#include <optional>
#include <string>

#include "editor/tools/clicked_points.h"
#include "engine/document/seam_edits.h"
#include "engine/seams/seam_follow.h"

namespace pontata {

class SeamForm {
 public:
  // As typed, in m; none while that is no length above 0.
  std::optional<double> reach() const;
  void draw(Workbench& bench);
  // What was dragged, into the fields: to be corrected there and made again.
  void put(ChartPoint from, Vec2 by);
  void put_node(ChartPoint from, ChartPoint to);

 private:
  void move_fields(Workbench& bench);
  void node_buttons(Workbench& bench);

  std::string reach_ = "20cm", from_, by_, to_;
  TypedPlaces course_;
};

// One undo step, and how far it moved; true when it was made.
bool commit_seams(Workbench& bench, const Result<SeamsEdited>& edit);

// The stretch that would follow, the thinner the less it follows, and its nodes.
void draw_follow(ImDrawList& list, const Workbench& bench, const Pane& pane, const SeamFollow& follow);

}  // namespace pontata
