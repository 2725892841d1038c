#include "engine/seams/seam_moves.h"

namespace pontata {

namespace {
Problem not_yet() { return {"this edit cannot be made yet", "", ""}; }
}  // namespace

Result<MovedSeams> nudge_seam(const ChartedWall&, const Network&, ChartPoint, Vec2, double, const SeamHold&) {
  return not_yet();
}
Result<MovedSeams> redraw_seam(const ChartedWall&, const Network&, const std::vector<ChartPoint>&, const SeamHold&) {
  return not_yet();
}
std::optional<VertexId> node_near(const ChartedWall&, const Network&, ChartPoint, double) { return std::nullopt; }
Result<MovedSeams> move_node(const ChartedWall&, const Network&, ChartPoint, ChartPoint, const SeamHold&) {
  return not_yet();
}
Result<MovedSeams> add_node(const ChartedWall&, const Network&, ChartPoint, const SeamHold&) { return not_yet(); }
Result<MovedSeams> remove_node(const ChartedWall&, const Network&, ChartPoint, const SeamHold&) { return not_yet(); }

}  // namespace pontata
