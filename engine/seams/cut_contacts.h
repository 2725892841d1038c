// Which seams of the border are one stretch of surface, where a wall that closes round itself was cut open.
#pragma once

#include <map>
#include <span>
#include <vector>

#include "engine/chart/chart.h"
#include "engine/seams/network.h"

namespace pontata {

// Faces touch across a cut where they share more than this; less is rounding of vertices to the lattice.
inline constexpr double kLeastContact = 1e-7;  // m

// A stretch where two half-edges along the border, both of faces of the wall, lie on each other across a cut, running
// opposite ways. Shares are fractions of each half-edge from its origin.
struct CutContact {
  HalfEdgeId here, there;
  double from_here = 0, to_here = 1;
  double from_there = 0, to_there = 1;
  double length_m = 0;  // on the surface: the mean of the two sides
};

// All contacts of a network over this chart, each once, in the order of the border; empty without cuts. O(border seams
// + border edges).
std::vector<CutContact> cut_contacts(const Network& network, const Chart& chart);
// The same seen from the other side.
CutContact turned(const CutContact& contact);

// Contacts by the half-edge they are seen from: each appears twice, once from either side.
std::multimap<HalfEdgeId, CutContact> contacts_by_half_edge(std::span<const CutContact> contacts);

// Groups of the given faces that touch each other across cuts; groups and faces in rising order of id.
std::vector<std::vector<FaceId>> joined_across(const Network& network, std::span<const FaceId> faces,
                                               std::span<const CutContact> contacts);

}  // namespace pontata
