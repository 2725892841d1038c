// What a proposal lays out, on a grid of cells over the chart: which places are free, what they hold and cost.
#pragma once

#include <cstdint>
#include <vector>

#include "engine/proposal/proposal.h"

namespace pontata {

inline constexpr std::uint32_t kNoAtom = 0xffffffffu;

struct ProposalGround {
  int columns = 0, rows = 0;
  double cell = 1;    // chart m
  Vec2 origin{0, 0};  // chart place of the lower left corner of cell (0, 0)
  // Per cell, row by row from the lowest:
  std::vector<std::uint8_t> free;    // on the wall, and no giornata that stays lies there
  std::vector<float> across, up;     // surface metres of its side along u and along v
  std::vector<float> area;           // m2
  std::vector<float> hours;          // of painting
  std::vector<float> height;         // m above the building's zero
  std::vector<float> hides;          // 0 .. 1: how well a contour or rib here hides a seam
  std::vector<std::uint32_t> whole;  // which keep-whole zone holds it (index into the zones), kNoAtom: none
  std::size_t index(int i, int j) const {
    return static_cast<std::size_t>(j) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(i);
  }
  Vec2 middle(int i, int j) const { return origin + Vec2(i + 0.5, j + 0.5) * cell; }
  Vec2 corner(int i, int j) const { return origin + Vec2(i, j) * cell; }
  bool is_free(int i, int j) const { return i >= 0 && j >= 0 && i < columns && j < rows && free[index(i, j)]; }
};

// `network`: of the wall with only the giornate that stay; cells of about `cells` in all. O(cells + contours).
ProposalGround proposal_ground(const ProposalInput& input, const Network& network, std::size_t cells,
                               Progress* progress = nullptr);

}  // namespace pontata
