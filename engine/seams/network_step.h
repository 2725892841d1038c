// What turns one network into another, in few bytes: what undo keeps of a wall.
//
// Written are the slots that differ, each told by a guess from what is known by then: a rim's `prev` follows from the
// `next`s, an origin from the turn about its vertex, a face's label from the cycle, a place from its neighbours, and a
// seam's measure from measuring it again; the search tree of seams is made again. A guess that is wrong costs bytes,
// never exactness. Comparing and applying cost what the two networks do not share.
#pragma once

#include "engine/base/adaptive_coder.h"
#include "engine/seams/network.h"

namespace pontata {

struct NetworkStep {
  // Writes what makes `to` of `from`. `meter` measures seams like those of `to` (null: nothing is guessed of them).
  static void write(PackWriter& out, const Network& from, const Network& to, const EdgeMeter& meter);
  // The network `to`, equal slot for slot. Precondition: written for an equal `from`, with an equal meter.
  static Network read(PackReader& in, const Network& from, const EdgeMeter& meter);

  // True when both have the same slots. Costs what they do not share.
  static bool same(const Network& a, const Network& b);

  // Seams (slots of either network) that lie elsewhere, are only in one of the two, or have another giornata on a side.
  static std::vector<SeamId> changed_seams(const Network& a, const Network& b);
};

}  // namespace pontata
