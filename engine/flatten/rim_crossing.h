// Where the rims of a flattened patch meet: an overlap, or a place without width.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "engine/base/lattice.h"
#include "engine/base/vec.h"

namespace pontata {

struct RimSegment {
  LatticePoint a, b;
};

enum class Meeting {
  crossing,  // in a point inside both
  touching,  // in any point other than an end of both
};
struct RimMeeting {
  std::size_t first = 0, second = 0;  // segments
};
// The first two segments that meet so; O(n) expected, by a grid.
std::optional<RimMeeting> find_meeting(std::span<const RimSegment> segments, Meeting meeting);

// Two segments of the rims (closed lines over `flat`, m) cross in a point inside both.
bool rims_cross(std::span<const std::vector<std::uint32_t>> rims, std::span<const Vec2> flat);

}  // namespace pontata
