// Proposals for a wall of the project, and taking one over as an edit.
#pragma once

#include "engine/document/edits.h"
#include "engine/document/flow.h"
#include "engine/proposal/proposal.h"
#include "engine/review/layout_figures.h"

namespace pontata {

struct ProposeOptions {
  ProposalSettings settings;
  std::optional<double> hours;   // of painting a giornata
  std::vector<GiornataId> keep;  // stay as they are, besides those that are painted, being painted or printed
};

struct ProposedLayout {
  Edited edit;  // the document with it, one undo step; new giornate are numbered after those that are there
  Proposal proposal;
  LayoutFigures figures;
};

// One layout. Refuses what propose_layout refuses, and ids to keep that are not of this wall.
Result<ProposedLayout> propose(const Document& doc, WallId wall, const ProposeOptions& options,
                               Progress* progress = nullptr);
// Several: larger and smaller giornate, stricter and looser along contours; those that came out the same only once.
// The best first: the fewest giornate over hours, then the fewest in pieces, then the fewest open findings to decide,
// then the cost of seam. `flow`: what it knows of the document's pictures and contours is not made again.
Result<std::vector<ProposedLayout>> propose_several(const Document& doc, WallId wall, const ProposeOptions& options,
                                                    int count, Flow& flow, Progress* progress = nullptr);

// Every seam between giornate, or a giornata and the rest, straight piece by straight piece: to be drawn before a
// layout is taken.
std::vector<std::vector<ChartPoint>> seam_lines(const Network& network);

}  // namespace pontata
