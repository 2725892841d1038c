// Edits of a wall that stands already: taking its scan in again otherwise.
#pragma once

#include "engine/document/edits.h"

namespace pontata {

// Takes the wall's scan in again with other choices (scale, crop, part, filling, the place of a cut). The old surface
// is replaced and laid flat anew, so nothing may stand on it yet: refuses while the wall has giornate, zones or
// openings (their chart places would be other places of the wall), a wall that is no scan, and a scan file that is
// missing or no longer the one it was. A picture keeps its place in the chart.
Result<Edited> change_scan(const Document& doc, WallId wall, const ScanOptions& options, Progress* progress = nullptr);

}  // namespace pontata
