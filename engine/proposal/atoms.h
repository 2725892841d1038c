// Small pieces of a wall whose rims follow the picture's contours, and what it costs to part them.
#pragma once

#include <cstdint>
#include <vector>

#include "engine/proposal/proposal.h"

namespace pontata {

// A border between two atoms.
struct AtomBorder {
  std::uint32_t a = 0, b = 0;  // a < b
  double length_m = 0;         // on the surface
  double cost = 0;             // metres of smooth ground that a seam there is worth: its length where nothing hides it
};

struct Atom {
  double area_m2 = 0;
  double hours = 0;
  double low_m = 0, high_m = 0, middle_m = 0;  // heights
  Vec2 place{0, 0};                            // chart, near its middle
  int deck_low = 0, deck_high = 0;             // decks that it may be painted from
};

struct AtomGraph {
  std::vector<Atom> atoms;
  std::vector<AtomBorder> borders;  // by a, then b; each pair once
};

}  // namespace pontata
