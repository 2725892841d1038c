// How a wall's picture stands in the project file: its file, how it lies, what of it shows, and the points it was set
// by.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "engine/document/document.h"
#include "engine/document/json_reader.h"

namespace pontata {

// What is not there (no crop, no mask, shown fully, no points, no thin plate) is left out. The path is told from
// `folder`.
nlohmann::ordered_json picture_json(const PlacedPicture& picture, const std::string& folder);

// Throws JsonFault: what is missing or not known, numbers out of range, directions that are not square to each other, a
// crop or mask that change_picture would refuse. Without pixels; the path is taken from `folder`.
PlacedPicture read_picture_record(const JsonReader& json, const std::string& folder);

// The record of format 1, where a wall had at most one picture, laid by size and place: the same without an id. A name
// that is empty or blank becomes "picture".
PlacedPicture read_only_picture_record(const JsonReader& json, const std::string& folder);

}  // namespace pontata
