// Which edges of a giornata meet finished work on its day, and which stay open.
#pragma once

#include <span>
#include <vector>

#include "engine/document/flow.h"
#include "engine/seams/outline_edit.h"

namespace pontata {

struct EdgeDay {
  std::vector<GiornataId> meets_finished;  // neighbours painted on an earlier day, by id
  std::vector<GiornataId> stays_open;      // neighbours painted later, by id
  bool open_to_rest = false;               // meets wall that no giornata covers
  double open_edge_m = 0;                  // length of the edges that are open on the day
};

// `seams` as from shared_seams, `plan` of the whole project. A giornata the plan does not hold has no edges.
EdgeDay edges_on_day(GiornataId id, std::span<const SharedSeam> seams, const Plan& plan);

}  // namespace pontata
