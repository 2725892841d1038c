#include "engine/seams/outline_rings.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/base/crossing.h"
#include "engine/base/predicates.h"
#include "engine/seams/network_editor.h"

namespace pontata {

namespace {

LatticePoint meeting_place(LatticePoint a, LatticePoint b, LatticePoint c, LatticePoint d) {
  return segments_cross(a, b, c, d) ? rounded_crossing(a, b, c, d) : c;
}

Problem crosses_itself(LatticePoint place) {
  return {"The outline crosses or touches itself", place_name(place),
          "Draw it so that it goes once around the giornata."};
}

// A place where two rings of one outline meet.
std::optional<LatticePoint> rings_meet(const Ring& one, const Ring& two) {
  for (std::size_t i = 0; i < one.size(); ++i) {
    const LatticePoint a = one[i], b = one[(i + 1) % one.size()];
    for (std::size_t j = 0; j < two.size(); ++j) {
      const LatticePoint c = two[j], d = two[(j + 1) % two.size()];
      if (std::max(a.x, b.x) < std::min(c.x, d.x) || std::max(c.x, d.x) < std::min(a.x, b.x)) continue;
      if (segments_meet(a, b, c, d)) return meeting_place(a, b, c, d);
    }
  }
  return std::nullopt;
}

Result<Ring> clean_outline(const Ring& outline) {
  Ring ring;
  for (const auto& p : outline) {
    if (std::abs(p.x) >= kLatticeLimit || std::abs(p.y) >= kLatticeLimit)
      return Problem{"The outline has a point far outside the wall", place_name(p), "Draw it on the wall."};
    if (ring.empty() || p != ring.back()) ring.push_back(p);
  }
  while (ring.size() > 1 && ring.front() == ring.back()) ring.pop_back();
  if (ring.size() < 3)
    return Problem{"The outline has fewer than 3 different points", "", "Give at least 3 points around the giornata."};
  if (const auto hit = find_self_crossing(ring); hit.first >= 0) {
    const auto at = [&](int i) { return ring[static_cast<std::size_t>(i) % ring.size()]; };
    return crosses_itself(meeting_place(at(hit.first), at(hit.first + 1), at(hit.second), at(hit.second + 1)));
  }
  if (twice_area(ring) < 0) std::reverse(ring.begin(), ring.end());
  return ring;
}

}  // namespace

Result<std::vector<Ring>> clean_outlines(std::span<const Ring> outlines) {
  std::vector<Ring> rings;
  for (const Ring& outline : outlines) {
    auto ring = clean_outline(outline);
    if (!ring) return ring.problem();
    for (const Ring& other : rings)
      if (const auto place = rings_meet(*ring, other)) return crosses_itself(*place);
    rings.push_back(std::move(*ring));
  }
  return rings;
}

}  // namespace pontata
