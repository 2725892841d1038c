// The line really cut of an evening: what was painted keeps the giornata, the rest becomes giornate of its own.
#pragma once

#include <optional>
#include <vector>

#include "engine/document/document.h"

namespace pontata {

// Ends of a cut, and stretches of an outline, this near to the giornata's rim lie on it, m on the surface.
inline constexpr double kCutReach = 0.05;

struct EveningCut {
  Network network;
  std::vector<GiornataId> rests;  // largest first; ids that follow those given out
};

// Divides the giornata, whose seams may be held, along a line from rim to rim, or along that part of a closed outline
// (its last place is its first again) which does not run along the rim. What lies inside an outline was painted; of a
// line the side of `painted`, by default the larger. Refuses lines that do not reach the rim (with the place and how
// far it is), an outline in the middle of the giornata, one that leaves nothing to cut away or paints in several
// places, `painted` outside the giornata or on the line, and what divide_giornata refuses.
Result<EveningCut> cut_in_evening(const Document& doc, const Giornata& giornata, const std::vector<ChartPoint>& cut,
                                  std::optional<ChartPoint> painted);

}  // namespace pontata
