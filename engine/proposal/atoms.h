// Small pieces of a wall whose rims follow the picture's contours, and what it costs to part them.
//
// Based on: Beucher and Lantuejoul, "Use of watersheds in contour detection", 1979 (pieces grow until they meet on the
// ridges); Dijkstra, "A note on two problems in connexion with graphs", 1959 (how they grow: to cross a contour is as
// long as a way of many cells).
#pragma once

#include <cstdint>
#include <vector>

#include "engine/proposal/ground.h"

namespace pontata {

// A border between two atoms.
struct AtomBorder {
  std::uint32_t a = 0, b = 0;  // a < b
  double length_m = 0;         // on the surface, along the sides of cells
  double cost = 0;             // metres of smooth ground that a seam there is worth: its length where nothing hides it
  double falls_m = 0;          // of it, measured across the fall, over which water runs from a onto b,
  double rises_m = 0;          // and from b onto a; where the wall is steep enough to tell
};

struct Atom {
  double area_m2 = 0;
  double hours = 0;
  double low_m = 0, high_m = 0, middle_m = 0;  // heights
  Vec2 place{0, 0};                            // chart, its middle; may lie outside it
  int deck_low = 0, deck_high = 0;             // decks that it may be painted from
  std::uint32_t whole = kNoAtom;               // keep-whole zone (index) that it holds
};

struct AtomGraph {
  std::vector<Atom> atoms;
  std::vector<AtomBorder> borders;  // by a, then b; each pair once
};

struct Atoms {
  std::vector<std::uint32_t> of_cell;  // kNoAtom where the ground is not free
  AtomGraph graph;
  std::vector<double> decks;  // m, rising
};

// About so many atoms, each in one piece (cells side by side); a keep-whole zone with what touches it is one of them.
// O(cells log cells).
Atoms grow_atoms(const ProposalGround& ground, const ProposalInput& input, const ProposalSettings& settings);

// The atoms that propose_layout would begin with.
Result<AtomGraph> atoms_of(const ProposalInput& input, const ProposalSettings& settings = {});

}  // namespace pontata
