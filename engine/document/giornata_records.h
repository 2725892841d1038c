// The records of giornate: made, split, taken away; their numbers, and what printing freezes.
//
// Numbers follow the working order until the first cartoon is printed (Document::numbers_frozen); only a giornata that is
// painted, begun or to be painted again keeps the one it has, under which it stands in the diary. Once frozen, a
// giornata keeps its number, new ones take the least number that no giornata bears and no printed one bore, and of a
// giornata that is split both parts carry its number with a letter: 14 becomes 14a (the larger part, which keeps id,
// name, note and diary) and 14b; 14b split again leaves 14b and 14c. A giornata whose outline changes after its cartoon
// was printed is flagged (Giornata::changed) until it is printed anew; so are both parts of one that is split.
#pragma once

#include <span>
#include <string>

#include "engine/document/edits.h"

namespace pontata {

// The record of a new giornata, with the next id and the least free number. The reference is valid until `next` grows.
Giornata& add_giornata(Document& next, WallId wall, const std::string& name);
// The record of the lesser part of a giornata just split; it takes over the wall, the coat, the state, what is told of
// it on the job (split_job), and that a cartoon was printed of it, as one that was changed since.
Giornata& add_part(Document& next, GiornataId of);
// Marks it removed; its id is never used again. What is told of it on the job goes, but for the diary.
void retire_giornata(Document& next, GiornataId id);

// Seams of painted giornate (today, done) are held.
SeamHold held_seams(const Document& doc);
// Refuses a held giornata, with what to do.
Outcome check_free(const Document& doc, GiornataId id);

// Numbers 1, 2, ... in the given working order; the same document where nothing changes, and where numbers are frozen.
// Giornate that the order does not name come last, by id. Those in the states today, done and redo keep their numbers,
// which the others pass over.
DocumentRef renumbered(const DocumentRef& doc, std::span<const GiornataId> order);

// A cartoon of these was printed: all numbers of the project freeze, these count as printed and no longer as changed
// since. One undo step.
Result<Edited> cartoon_printed(const Document& doc, std::span<const GiornataId> printed);

// Flags those printed giornate of `next` whose rim changed from one network of their wall to the next. Costs nothing
// before a cartoon was printed.
void flag_changed(Document& next, const Network& before, const Network& after);

// Giornate of both networks whose rim runs elsewhere now: some place of one rim lies more than 0.1 mm of chart from the
// other, or there is no such giornata in one of them. A rim that only gained vertices is the same.
std::vector<GiornataId> rims_changed(const Network& before, const Network& after);

// The giornata whose label this is ("14", "14a"); nullptr when there is none.
const Giornata* giornata_labelled(const Document& doc, std::string_view label);

}  // namespace pontata
