// How a scan's source stands in the project file: the file, and everything that was decided when it was taken in.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "engine/document/document.h"
#include "engine/document/json_reader.h"

namespace pontata {

// Decisions that were not made (no crop, no part, ...) are left out; the places are those before openings were cut. The
// path is told from `folder`.
nlohmann::ordered_json scan_json(const ScanSource& scan, const ChartedWall& wall, const std::string& folder);

// Throws JsonFault. The path is taken from `folder`; the chart's places are read apart (see chart_codec.h).
ScanSource read_scan_source(const JsonReader& json, const Placement3& placement, const std::string& folder);

}  // namespace pontata
