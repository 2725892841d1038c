// The review sheet: what was found wrong with the seams, where and what to do, and how they look from the floor; to be
// handed to the plasterer and to the client before the first giornata is laid.
//
// Lies left of document/: it takes plain inputs, which document/review_sheet_input fills.
#pragma once

#include <string>
#include <vector>

#include "engine/base/progress.h"
#include "engine/base/result.h"
#include "engine/picture/eye_view.h"
#include "engine/review/heat_line.h"

namespace pontata {

struct ReviewedPatch {
  std::string label;
  std::vector<Ring> rings;
  ChartPoint inside;  // for its number
};
struct ReviewedFinding {
  Finding finding;
  std::string code;  // that names it to the verbs
  std::string who;   // "giornate 3 and 5"; may be empty
};
// A wall's seams from one eye point.
struct ReviewedView {
  struct Worst {
    WorstStretch stretch;
    std::string who;  // "between giornate 3 and 5"
  };
  EyePoint eye;
  std::vector<HeatLine> heat;  // empty: nothing of its seams is seen from there
  std::vector<Worst> worst;
};
struct ReviewedWall {
  std::string name;
  WallRef wall;
  DrapedRef draped;  // may be null
  std::vector<ReviewedPatch> patches;
  std::vector<ReviewedFinding> findings;  // in the order of the review
  std::vector<ReviewedView> views;        // by eye point
};
struct ReviewSheetInput {
  std::string project;  // file name without folder
  ReviewSettings settings;
  std::vector<ReviewedWall> walls;
  std::vector<SeenWall> others{};  // walls that only stand in the views
};

// A3 pages (landscape): a summary with the cautions; for each wall its plan with a numbered mark at each finding and
// the list of findings, over as many pages as it takes, those that were accepted last; and a page for each eye point
// and wall that it sees seams of, with the heat line and the worst stretches numbered; where they lie all round the eye
// it looks at the worst. The same input gives the same bytes. Refuses when the file cannot be made; cancelled: Problem
// "stopped", no file.
Outcome write_review_sheet(const ReviewSheetInput& input, const std::string& pdf_path, Progress* progress = nullptr);

}  // namespace pontata
