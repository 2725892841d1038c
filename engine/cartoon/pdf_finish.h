// The last hand on a PDF: no print scaling, no dates, ids made from the contents.
#pragma once

#include <string>

#include "engine/base/result.h"

namespace pontata {

// Reads `from`, writes `to` (ISO 32000-1, 12.2: /ViewerPreferences << /PrintScaling /None >>).
Outcome finish_pdf(const std::string& from, const std::string& to);

}  // namespace pontata
