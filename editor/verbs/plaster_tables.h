// The plaster of the job as JSON and as tables; both tell the same numbers.
#pragma once

#include "editor/verbs/amounts.h"
#include "editor/verbs/table.h"
#include "engine/document/plaster_plan.h"

namespace pontata {

inline constexpr const char* kLimeCaution =
    "Lime burns eyes and skin: goggles, gloves, covered arms; rinse at once for 20 minutes, get medical help. Keep "
    "sand dust wet. Local code and licensed practice come first.";

// The columns of a CSV bear the keys of the JSON: giornate, batches, ground, per_pontata and per_week (in one table),
// purchase.
struct PlasterTables {
  Table giornate, batches, ground, sums, purchase;
};
// Precondition of both: every giornata of the flow can be plastered, as plaster_plan made sure.
PlasterTables plaster_tables(const Document& doc, Flow& flow, const PlasterPlan& plan);
nlohmann::ordered_json plaster_json(const Document& doc, Flow& flow, const PlasterPlan& plan);

}  // namespace pontata
