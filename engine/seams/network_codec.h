// The network in the project file: exact, slot for slot, so that saving, loading and saving again gives the same bytes
// and every id stays what it was.
//
// An object of flat arrays, in slot order, -1 for none:
//   "vertices"    x, y, out          lattice place (pitches); a half-edge leaving it; a free slot: next free slot, 0,
//   -1 "half_edges"  origin, next, prev, face     half-edges 2k and 2k+1 are the two sides of seam k;
//                                              a free seam: -1, next free seam, -1, -1 and -1, 0, -1, -1
//   "seams"       area, bend, gauss, length    area in 1e-12 m^2 (integer), bend in m, gauss without unit, length in m
//   "faces"       arrays [owner, outer, inner...]; the first is the outside; a free slot: [-1, next free slot]
//   "free"        first free seam, vertex, face
// Doubles are written so that they read back to the same bits.
#pragma once

#include <nlohmann/json.hpp>

#include "engine/seams/network.h"

namespace pontata {

struct NetworkCodec {
  static nlohmann::json to_json(const Network& network);

  // Trusts nothing: every index, place and measure is checked, then every invariant of the network.
  static Result<Network> from_json(const nlohmann::json& json);
};

}  // namespace pontata
