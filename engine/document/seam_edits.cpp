#include "engine/document/seam_edits.h"

namespace pontata {

namespace {
Problem not_yet() { return {"this edit cannot be made yet", "", ""}; }
}  // namespace

Result<SeamsEdited> nudge(const Document&, WallId, ChartPoint, Vec2, double) { return not_yet(); }
Result<SeamsEdited> redraw(const Document&, WallId, const std::vector<ChartPoint>&, bool, Progress*) {
  return not_yet();
}
Result<SeamsEdited> commit_redraw(const Document&, WallId, const HuggedLine&) { return not_yet(); }
Result<SeamsEdited> move_node(const Document&, WallId, ChartPoint, ChartPoint) { return not_yet(); }
Result<SeamsEdited> add_node(const Document&, WallId, ChartPoint) { return not_yet(); }
Result<SeamsEdited> remove_node(const Document&, WallId, ChartPoint) { return not_yet(); }

}  // namespace pontata
