// How entries of the diary stand in the project file, and what other parts of the job have in common with them.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "engine/calendar/diary.h"
#include "engine/document/json_reader.h"

namespace pontata {

// What was not told is left out. The photograph's path is told from `folder`.
nlohmann::ordered_json entry_json(const DiaryEntry& entry, const std::string& folder);
DiaryEntry read_entry(const JsonReader& json, const std::string& folder);  // throws JsonFault

nlohmann::ordered_json air_json(const Air& air);
Air read_air(const JsonReader& json);    // throws JsonFault
Date read_date(const JsonReader& json);  // likewise
std::optional<Date> date_if_there(const JsonReader& json, const char* key);
std::string words_if_there(const JsonReader& json, const char* key);  // empty where there are none

}  // namespace pontata
