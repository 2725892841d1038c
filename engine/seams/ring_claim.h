// What an outline covers, found and given to a giornata: the steps that the edits of whole giornate are made of.
// Internal to engine/seams.
#pragma once

#include <functional>
#include <optional>
#include <set>
#include <span>
#include <vector>

#include "engine/chart/chart.h"
#include "engine/seams/network_cut.h"
#include "engine/seams/network_editor.h"

namespace pontata {

// Of a line that cannot be told apart from seams beside it.
Problem too_close();
Problem outside_wall();
// Of `area` (in kAreaUnit, below kLeastUnits) left of an outline; `overlap`: beside giornate that keep theirs.
Problem too_small(std::int64_t area, bool overlap);

struct ClaimRule {
  std::function<bool(GiornataId)> takes_from;     // of which owners (none: the rest) ground is taken
  std::function<GiornataId(GiornataId)> becomes;  // whose it is then, by whose it was; no owner that is taken from
};

// Cuts one ring in and gives what it covers to others, by the rule. The owners inside it that keep their ground come
// back. Expected O(k log n) for k seams near the ring, plus the rims of the faces it touches.
Result<std::set<GiornataId>> claim(Network& network, const Ring& ring, const ClaimRule& rule, const EdgeMeter& meter);

// Faces that are one piece.
struct Piece {
  std::int64_t area = 0;  // kAreaUnit
  std::vector<FaceId> faces;
};
// What these faces form where they share seams or touch across cuts of the chart, largest first.
std::vector<Piece> pieces_of(const Network& network, std::span<const FaceId> faces, const Chart* chart);

// Seams on the rims of these faces with one owner (or the rest) on both sides.
std::set<SeamId> idle_seams(const Network& network, std::span<const FaceId> faces);
// Takes seams away; the faces beside them become one. False on a contradiction.
bool open_seams(NetworkEditor& editor, const std::set<SeamId>& seams);

// Rest beside the face that only rounding left between it and its neighbours goes to it, so that they share their
// seam. False on a contradiction.
bool absorb_slivers(NetworkEditor& editor, FaceId made);
// Where seams that take these courses were led together at a neck thinner than a pitch, what lies beyond it came off
// its giornata as a face of its own. A sliver goes to its neighbour; more than that must not come off: false, as on a
// contradiction. `before`: the network without the courses; `spared`: faces that may come off. Precondition: the editor
// is settled and measured. O(k) for the stretches of the courses, plus the rims of the faces they part.
bool shed_tips(NetworkEditor& editor, const Network& before, const Courses& courses,
               const std::function<bool(FaceId)>& spared);

// The owner (the rest too) beside a face that shares most of its rim; nullopt where only the wall's end does.
std::optional<GiornataId> nearest_owner(const Network& network, FaceId f);
// The face is no wider on the whole than what rounding leaves (kSliverWidth).
bool is_sliver(const FaceSums& sums);

double area_m2(const Network& network, std::span<const FaceId> faces);

}  // namespace pontata
