#include "engine/cartoon/pattern_mirrored.h"

#include <algorithm>
#include <utility>

namespace pontata {
namespace {

Vec2 flipped(Vec2 p) { return {-p.x, p.y}; }

void flip(std::vector<Vec2>& line) {
  for (Vec2& p : line) p = flipped(p);
}

void turn_round(std::vector<Vec2>& line) {
  flip(line);
  std::reverse(line.begin(), line.end());
}

// A rim run the other way: its points, the steps between them, and the corners' positions.
void turn_rim(Patch& patch, std::size_t r) {
  auto& rim = patch.rims[r];
  const std::size_t n = rim.size();
  std::reverse(rim.begin(), rim.end());
  const auto turn_steps = [&](auto& steps) {  // step i now runs from point n-1-i back to n-2-i
    std::reverse(steps.begin(), steps.end());
    std::rotate(steps.begin(), steps.begin() + 1, steps.end());
  };
  if (r < patch.rim_steps.size() && patch.rim_steps[r].size() == n) {
    turn_steps(patch.rim_steps[r]);
    for (auto& step : patch.rim_steps[r]) std::swap(step.first, step.second);
  }
  if (r < patch.rim_lengths.size() && patch.rim_lengths[r].size() == n) turn_steps(patch.rim_lengths[r]);
  if (r < patch.corners.size()) {
    for (std::uint32_t& c : patch.corners[r]) c = static_cast<std::uint32_t>(n - 1 - c);
    std::reverse(patch.corners[r].begin(), patch.corners[r].end());
  }
  if (r < patch.outlines.size()) std::reverse(patch.outlines[r].begin(), patch.outlines[r].end());
  for (SlitPlace& slit : patch.slits) {
    if (slit.rim != r) continue;
    const auto turned = [&](std::uint32_t at) { return static_cast<std::uint32_t>(n - 1 - at); };
    slit = {slit.slit, slit.rim, turned(slit.right), turned(slit.tip), turned(slit.left)};
  }
}

// Counter-clockwise again: the second and third corner exchanged.
void turn_triangles(Patch& patch) {
  for (Triangle& t : patch.triangles) std::swap(t[1], t[2]);
  for (auto& places : patch.corner_places) std::swap(places[1], places[2]);
  for (auto& sides : patch.sides) std::swap(sides[0], sides[2]);
}

}  // namespace

Pattern mirrored(const Pattern& pattern) {
  Pattern out = pattern;
  turn_triangles(out.patch);
  for (std::size_t r = 0; r < out.patch.rims.size(); ++r) turn_rim(out.patch, r);
  flip(out.flat.flat);
  for (auto& rim : out.outline) turn_round(rim);
  for (RimStretch& stretch : out.stretches) turn_round(stretch.line);
  std::reverse(out.stretches.begin(), out.stretches.end());
  for (PatternCut& cut : out.cuts) {
    flip(cut.right), flip(cut.left);
    std::swap(cut.right, cut.left);
  }
  for (MatchMark& mark : out.marks) mark.at = flipped(mark.at), mark.inward = flipped(mark.inward);
  return out;
}

}  // namespace pontata
