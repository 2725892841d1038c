// What the verbs on the job (order, days, ground, weather, putty, palette, secco, diary) have in common.
#pragma once

#include <string>

#include "editor/verbs/project.h"
#include "engine/document/job_edits.h"

namespace pontata {

// One edit of the job, told as {"did": …} or in words.
int change_job(const ReportArguments& arguments, const std::function<Result<Edited>(const Document&)>& edit);

// "7", "14a": also of one taken away.
std::string label_by_id(const Document& doc, GiornataId id);
// Refuses more than one of these, by name; empty where at most one was given.
std::string more_than_one(const std::vector<std::pair<const char*, bool>>& given);

Json date_json(const std::optional<Date>& date);
Cell date_cell(const std::optional<Date>& date);
Json number_json(const std::optional<double>& value);
Cell truth_cell(bool truth);  // "yes", "no"

}  // namespace pontata
