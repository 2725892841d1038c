// What the verbs that move seams have in common.
#pragma once

#include <functional>

#include "editor/verbs/project.h"
#include "engine/document/seam_edits.h"

namespace pontata {

struct MoveArguments : ReportArguments {
  std::string wall;
};

using MoveEdit = std::function<Result<SeamsEdited>(const Document&, WallId, Progress*)>;

// Makes the edit, saves and reports it: which giornate, how far a place moved at most, the course as it lies now.
int move_seams(const MoveArguments& arguments, const MoveEdit& edit);

}  // namespace pontata
