// Findings of the review as verbs tell them.
#pragma once

#include "editor/verbs/project.h"

namespace pontata {

Json finding_json(const Finding& finding, const WallItem& wall);
Table findings_table();
std::vector<Cell> finding_cells(const Finding& finding, const WallItem& wall);
// Two lines: code, severity, where; what it says and the remedy.
std::string finding_text(const Document& doc, const Finding& finding, const WallItem& wall);
// What was accepted, without whether it holds.
Json accepted_json(const AcceptedFinding& accepted, const WallItem& wall);
// "7 remarks, 2 of them to decide first; 3 accepted"
std::string findings_sum(std::span<const Finding> findings);

}  // namespace pontata
