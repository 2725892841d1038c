#include "engine/seams/hug_across.h"

namespace pontata {

namespace {

std::vector<ChartPoint> chart_points(const std::vector<LatticePoint>& places) {
  std::vector<ChartPoint> points;
  for (const auto& p : places) points.push_back(to_chart(p));
  return points;
}

}  // namespace

Result<HuggedLine> hug_pieces(const std::shared_ptr<const HugGround>& ground, std::span<const CutPiece> pieces,
                              bool closed, const HugOptions& options, Progress* progress) {
  if (pieces.size() == 1 && !pieces[0].begins && !pieces[0].ends)
    return hug(ground, chart_points(pieces[0].points), closed, options, progress);
  HuggedLine all;
  for (const CutPiece& piece : pieces) {
    if (piece.points.size() < 2) continue;
    auto part = hug(ground, chart_points(piece.points), false, options, progress);
    if (!part) return part.problem();
    if (piece.begins) part->line.front() = to_chart(piece.points.front());
    if (piece.ends) part->line.back() = to_chart(piece.points.back());
    append(all, *part);
  }
  return all;
}

}  // namespace pontata
