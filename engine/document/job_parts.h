// What edits of the job have in common: the copy that carries one change, and what becomes of it when giornate are
// split or taken away.
#pragma once

#include <memory>
#include <string>

#include "engine/document/edits.h"

namespace pontata {

bool is_empty(const Job& job);  // nothing was ever written
// All is the same but what was accepted of the review: plans and figures rest on nothing of that. Entries of the diary
// are compared by identity.
bool same_work(const Job& a, const Job& b);
// Null for an empty one.
JobRef shared_job(Job job);
std::shared_ptr<Document> with_job(const Document& doc, Job job);

// What is told of a giornata, made where there is nothing yet. The reference holds until `job` changes.
GiornataJob& told_of(Job& job, GiornataId id);
// Drops records of giornate that tell nothing any more.
void drop_untold(Job& job);

// What is told of a whole giornata is told of a part split off it too: palette, place behind the scaffold, pairs. Its
// day and its finishes stay with the larger part.
void split_job(Document& next, GiornataId whole, GiornataId part);
// Pairs, day, palette, finishes and accepted findings of a giornata taken away go with it; the diary stays.
void drop_job(Document& next, GiornataId gone);
// Of one that became part of `keep`: its palette and its finishes are that one's now, the rest goes.
void join_job(Document& next, GiornataId keep, GiornataId gone);

// "giornata 7", "7" for the undo list and messages; also of one taken away.
std::string giornata_name(const Document& doc, GiornataId id);

}  // namespace pontata
