// Lines kept from crossing themselves, with exact predicates on the lattice.
#pragma once

#include <optional>

#include "engine/seams/hug_path.h"

namespace pontata {

struct UncrossedPath {
  HugPath path;
  // A closed line was drawn past its own beginning: the path is the ring up to where it met itself, ends not repeated.
  bool ring = false;
  // An open line came back to itself over a long way; the place. Its loop was cut out all the same.
  std::optional<ChartPoint> long_loop;
};

// The path with its loops cut out where it meets itself, later points giving way to earlier ones. A loop longer than
// `long_loop_m` and than twice what comes before it is no slip of the hand: see UncrossedPath.
UncrossedPath cut_loops(const HugPath& path, double long_loop_m, bool closed);

// A place where `stroke`, which starts at the path's end and ends at its start, meets the path anywhere else.
std::optional<ChartPoint> meets(const HugPath& path, const HugPath& stroke);

}  // namespace pontata
