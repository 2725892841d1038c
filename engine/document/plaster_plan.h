// The plaster of the whole job: batches by giornata, ground by wall and deck, sums by deck and week, what is bought,
// and what a plasterer should hear.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "engine/base/iso_week.h"
#include "engine/document/flow.h"
#include "engine/plaster/batches.h"
#include "engine/plaster/levelling.h"
#include "engine/plaster/purchase.h"

namespace pontata {

// Levelling coats that are known (level_report.h, level_coat), by wall.
using LevelCoats = std::map<WallId, std::shared_ptr<const LevelCoat>>;
// Scanned walls whose arriccio is their levelling coat: where surface.is says bare wall and there is an arriccio.
std::vector<WallId> walls_to_level(const Document& doc);

// Rinzaffo and arriccio of what is painted from one deck of a wall, or of the rest of it.
struct GroundRow {
  WallId wall;
  std::optional<int> pontata;  // none: where no giornata is drawn
  double area_m2 = 0;          // of the measured surface
  GroundNeed need;
  bool levelled = false;     // its arriccio is the levelling coat
  std::optional<Date> laid;  // as it was told (job.h, ground)
  bool signed_for = false;   // and found sound, free of salts and damp
};

struct PontataSum : MortarSum {
  int pontata = 0;
};
struct WeekSum : MortarSum {
  std::optional<IsoWeek> week;  // none: done before, without a date
};

struct PlasterPlan {
  std::vector<GroundRow> ground;  // by wall, then deck from the highest; the rest last
  MortarSum ground_sum, intonaco_sum;
  std::vector<PontataSum> per_pontata;  // of intonaco; from the highest deck
  std::vector<WeekSum> per_week;        // of intonaco; by week
  Purchase purchase;                    // ground and intonaco of the whole job
  Purchase to_come;                     // without giornate that are done and ground that is signed for
  std::vector<PuttyBatch> putty;        // as noted on the job
  Date first_day;                       // of plastering giornate that are still to come
  std::optional<Date> slake_by;         // putty slaked on this day is ripe then; where one slakes one's own
  std::vector<std::string> warnings;
};

// Refuses, with the giornata's number, where the coats of one cannot be laid. A wall of walls_to_level that `levels`
// lacks is counted with an even arriccio, and that is said. O(triangles) for each wall.
Result<PlasterPlan> plaster_plan(const Document& doc, Flow& flow, const LevelCoats& levels = {});

}  // namespace pontata
