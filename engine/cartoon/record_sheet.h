// The record for whoever cares for the wall later: each wall laid flat with its giornate as they were really cut, their
// numbers and days, and which edge lies over which.
#pragma once

#include <string>
#include <vector>

#include "engine/cartoon/page.h"
#include "engine/chart/charted_wall.h"

namespace pontata {

struct RecordPatch {
  std::string label, name;
  std::vector<Ring> rings;         // as it lies now
  std::vector<Ring> planned;       // as it was planned that morning, where it was cut otherwise; else empty
  std::vector<std::string> dates;  // as written, one a painted attempt: "2027-05-04", "2027-05-12 again"
  std::string words;               // for the list: what else is told, in one line
  bool painted = false;            // else planned, or to be done again
  double area_m2 = 0;
  ChartPoint inside;  // for its label
};

// A stretch of seam between two painted giornate. The edge of the earlier was cut at a slant in the evening, and the
// plaster of the later was pressed against it.
struct RecordSeam {
  std::vector<ChartPoint> course;  // the earlier giornata lies on its left
  bool same_day = false;           // or not known which came first: no arrow
};

struct RecordWall {
  std::string name;
  const ChartedWall* wall = nullptr;
  std::vector<RecordPatch> patches;  // in the order of their labels
  std::vector<RecordSeam> seams;
};

// A3 pages: the plan at a round scale, then lists. Precondition: no dates that are not plain text.
void draw_record(Pages& pages, const std::string& project, const RecordWall& wall);
// All walls in one file.
Outcome write_record(const std::string& project, const std::vector<RecordWall>& walls, const std::string& pdf_path);

// The scale of such a plan, 1 : this; the least of 1, 2, 2.5, 5 times a power of ten at which the box fits, mm.
double record_scale(ChartBox box, Vec2 room_mm);

}  // namespace pontata
