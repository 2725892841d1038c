// What the cartoon needs of a document.
#pragma once

#include <string>
#include <vector>

#include "engine/cartoon/cartoon.h"
#include "engine/document/flow.h"

namespace pontata {

// Rows of each wall in working order. `only` empty: all giornate. Keeps pointers into `doc`, which must outlive it.
// The contours of the pictures are made where `flow` does not hold them yet: seconds for a large one.
// Refuses a project without giornate, unknown ids, a wall whose picture cannot be read, and a giornata whose
// plaster cannot be laid (with its number).
Result<CartoonInput> cartoon_input(const Document& doc, Flow& flow, const std::string& project_path,
                                   const std::vector<GiornataId>& only, Progress* progress = nullptr);

}  // namespace pontata
