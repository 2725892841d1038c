// What lies beyond each chart step of a giornata's rim, and where along its seams that step lies.
#pragma once

#include <map>
#include <optional>
#include <unordered_map>
#include <vector>

#include "engine/cartoon/cartoon.h"
#include "engine/flatten/patch.h"
#include "engine/seams/cut_contacts.h"

namespace pontata {

// A directed chart step.
struct ChartStep {
  LatticePoint from, to;
  bool operator==(const ChartStep&) const = default;
};
struct ChartStepHash {
  std::size_t operator()(const ChartStep& s) const {
    return std::hash<LatticePoint>{}(s.from) * 31 + std::hash<LatticePoint>{}(s.to);
  }
};

enum class Beyond { border, rest, open, finished, neighbour };

struct OtherSide {
  Beyond beyond = Beyond::rest;
  GiornataId neighbour;
  bool operator==(const OtherSide&) const = default;
};

// A part of a half-edge, as fractions of it.
struct SeamPart {
  HalfEdgeId half_edge;
  double from = 0, to = 1;
};

class RimSides {
 public:
  RimSides(const CartoonWall& wall, const CartoonGiornata& giornata);
  // What lies beyond the step, which is a step of the giornata's rings or lies on one.
  OtherSide of(LatticePoint a, LatticePoint b) const;
  // The half-edge that the step a->b, part of the giornata's rim, lies on; nullopt where the wall has no network.
  std::optional<SeamPart> seam_of(LatticePoint a, LatticePoint b) const;

 private:
  struct Step {
    HalfEdgeId half_edge;
    OtherSide side;
  };
  // A stretch of cut and what lies over it.
  struct OverCut {
    LatticePoint from, to;
    OtherSide side;
  };
  const Network* network_ = nullptr;
  std::unordered_map<ChartStep, Step, ChartStepHash> steps_;
  std::vector<OverCut> cuts_;
  std::vector<HalfEdgeId> along_cuts_;  // half-edges of the rim along cuts
};

// Fraction (0 to 1) of from->to at which p lies, to the lattice's rounding; nullopt when it lies beside it.
std::optional<double> share_on(LatticePoint from, LatticePoint to, LatticePoint p);

// One step of a patch's rim.
struct RimStep {
  bool lip = false;  // of a slit: it has no other side
  OtherSide side;
  std::optional<SeamPart> seam;  // what it is of the network's seam
};
std::vector<RimStep> steps_of_rim(const Patch& patch, std::size_t rim, const RimSides& sides);

// Per rim and position, whether what lies beyond changes there: junctions, where the rim of a print may turn.
std::vector<std::vector<bool>> junctions_of(const Patch& patch, const RimSides& sides);

}  // namespace pontata
