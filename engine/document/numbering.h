// Numbers that follow the working order, after an edit: what the window and the verbs do with every edit before they
// keep it. Until numbers are frozen (giornata_records.h).
#pragma once

#include "engine/document/edits.h"
#include "engine/document/flow.h"

namespace pontata {

// True when giornate of `after` may come in another order than those of `before`: a wall's surface or seams, records or
// the settings of the day differ. False where numbers are frozen.
bool order_may_differ(const Document& before, const Document& after);

// Numbers the giornate of an edit's document by `flow`'s plan where their order may differ; a new giornata's number in
// `did` follows. Costs a plan then, which `flow` keeps.
void number_in_order(const Document& before, Edited& edit, Flow& flow);

// The document with its numbers in working order, whatever they were before; the same one where they are.
DocumentRef numbered_in_order(const DocumentRef& doc, Flow& flow);

}  // namespace pontata
