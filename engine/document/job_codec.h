// How what is written down on the job stands in the project file.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "engine/document/document.h"
#include "engine/document/json_reader.h"

namespace pontata {

// Lists with nothing in them, and what was not told, are left out; an empty job gives an empty object. Paths of
// photographs are told from `folder`.
nlohmann::ordered_json job_json(const Job& job, const std::string& folder);

// Throws JsonFault: what is missing or not known, numbers out of range, words for what no version knows. Whether it
// agrees with walls and giornate is job_faults' affair (job_checks.h). Paths are taken from `folder`; null for a job
// that holds nothing.
JobRef read_job(const JsonReader& json, const std::string& folder);

}  // namespace pontata
