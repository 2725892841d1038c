// The first step of intake: a file's triangles in metres, in the building frame, each with its painted side.
#pragma once

#include <string>

#include "engine/wall/scan.h"
#include "engine/wall/scan_gltf.h"
#include "engine/wall/scan_soup.h"

namespace pontata {

// Unit, scale, axes and placement of the options applied. Refuses no triangles, coordinates that are no numbers,
// corners that do not exist, and a unit or scale that is no length. `name` is used in messages.
Result<Soup> make_soup(RawScan raw, const std::string& name, const ScanOptions& options);

// Extent (m) over the points that triangles use.
Vec3 extent_of(const Soup& soup);

// Refuses extents below 1 cm and above 500 m, naming the likely unit.
Outcome check_extent(const Soup& soup, const std::string& name, const ScanOptions& options);

// Numbers so far from the file's origin that they tell places apart by more than a millimetre are refused; by more
// than a tenth, said (empty: nothing to say).
Result<std::string> check_fineness(const RawScan& raw, const std::string& name, const ScanOptions& options);

}  // namespace pontata
