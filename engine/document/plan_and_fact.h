// What was planned of each giornata and what was really done, side by side; and the record of it.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "engine/cartoon/record_sheet.h"
#include "engine/document/flow.h"

namespace pontata {

// One attempt, of the entries that no later one corrects.
struct AttemptFact {
  int attempt = 1;
  Date from, to;  // first and last day of it
  std::optional<double> hours, lay_hours;
  double area_m2 = 0;              // painted
  double laid_m2 = 0;              // plastered: what was planned that morning
  std::optional<double> litres;    // of mortar for that by the coats of the project; not measured
  std::optional<Date> planned_on;  // as the plan had it that morning
  std::optional<double> planned_hours;
  bool failed = false;
  std::vector<std::uint32_t> entries;
};

struct PlanAndFact {
  GiornataId id;
  WallId wall;
  // As the plan has it now; of one that is painted, as it had it before its last attempt.
  std::optional<Date> date;
  std::optional<double> hours, litres;
  double area_m2 = 0;
  std::vector<AttemptFact> facts;  // by attempt
};

// Of every giornata that is, by wall and number. O(diary log diary), and the plan where it is not known yet.
std::vector<PlanAndFact> plan_and_facts(const Document& doc, Flow& flow);

// Which of two neighbours that are painted lies under the other, by the days of their standing attempts.
struct Overlap {
  GiornataId earlier, later;
  double length_m = 0;    // of their seams on the surface
  bool same_day = false;  // then `earlier` is the one of the lesser id
};
std::vector<Overlap> overlaps(const Document& doc, WallId wall);

// For the drawing (record_sheet.h); keeps pointers into `doc`. Seams along a cut of the chart, which lie in two places
// of the drawing, have no arrow; `overlaps` tells them.
std::vector<RecordWall> record_walls(const Document& doc);

// Said where someone is sent to cut a giornata out.
std::string_view cutting_out_caution();

}  // namespace pontata
