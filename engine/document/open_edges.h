// Which edges of a giornata meet finished work on its day, which stay open, and which side of each seam is cut first.
#pragma once

#include <map>
#include <span>
#include <vector>

#include "engine/document/flow.h"
#include "engine/seams/outline_edit.h"

namespace pontata {

struct EdgeDay {
  std::vector<GiornataId> meets_finished;  // neighbours painted on an earlier day, by id
  std::vector<GiornataId> stays_open;      // neighbours painted later, by id
  std::vector<GiornataId> one_wet;         // neighbours painted the same day, by id
  bool open_to_rest = false;               // meets wall that no giornata covers
  double open_edge_m = 0;                  // length of the edges that are open on the day
  std::vector<Lap> laps;                   // one for each neighbour and one for the rest, by id, the rest last
};

// Edges of every giornata that plan and seams hold. `seams` as from shared_seams, `plan` of the whole project. Among
// painted ones those whose days are told go by them in `laps`; edges of all of them count as met. O(n log n) for n
// seams and days.
std::map<GiornataId, EdgeDay> edges_of_plan(std::span<const SharedSeam> seams, const Plan& plan);

// Those of one giornata. One the plan does not hold has no edges.
EdgeDay edges_on_day(GiornataId id, std::span<const SharedSeam> seams, const Plan& plan);

}  // namespace pontata
