// Findings that were looked at and may stay, with the reason; each stays accepted until its cause changes.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "engine/review/findings.h"

namespace pontata {

struct AcceptedFinding {
  WallId wall;
  std::string rule;
  std::vector<GiornataId> giornate;
  std::string cause;   // cause_of the finding when it was accepted
  std::string reason;  // plain words, not empty
  bool operator==(const AcceptedFinding&) const = default;
};

// What a finding rests on, as text: rule, giornate, limit, value to three digits, and its place and stretches to 5 mm
// of chart. The same as long as nothing changes that the finding tells of; an edit elsewhere leaves it alone.
std::string cause_of(const Finding& finding);

// Sets Finding::accepted of those findings of `wall` that are accepted. A finding whose cause changed stays open.
void mark_accepted(std::vector<Finding>& findings, WallId wall, std::span<const AcceptedFinding> accepted);

}  // namespace pontata
