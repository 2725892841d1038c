// Every invariant of a document.
#pragma once

#include <vector>

#include "engine/document/flow.h"

namespace pontata {

// Each fault with its place; empty when sound. Checks each wall's network (network.h), that giornate and rest sum to
// the wall exactly, that records and patches agree, and that every patch measured again by clipping the surface's
// triangles has the area its seams sum to, within 1e-9 m^2 per metre of its rim and a pitch per metre of wall border.
// Of each picture, that its id and name are its own, that crop, mask, fade and lay are what the edits would take, and
// that some of it falls on the wall. Of what was written down on the job, what the edits would take (job_checks.h).
std::vector<Problem> document_faults(const Document& doc, Flow& flow, Progress* progress = nullptr);

}  // namespace pontata
