// What the diary holds, as tables and JSON.
#pragma once

#include "editor/verbs/job_report.h"
#include "engine/document/plan_and_fact.h"

namespace pontata {

// Every entry as written, corrected ones too, or those of one giornata.
Table diary_table(const Document& doc, std::optional<GiornataId> only = std::nullopt);
Json diary_json(const Document& doc, std::optional<GiornataId> only = std::nullopt);

// Plan and fact side by side: a row an attempt.
Table plan_and_fact_table(const Document& doc, std::span<const PlanAndFact> rows);
Json plan_and_fact_json(const Document& doc, std::span<const PlanAndFact> rows);

// What the days teach, with the commands that take it over.
Json estimates_json(const Estimates& found);
std::string estimates_text(const Estimates& found, const std::string& project);

// The whole record as files beside each other: CSV of entries, plan and fact, overlaps, weather, putty, pigments and
// finishes. The drawing is record_walls' affair.
std::vector<FileToWrite> record_files(const Document& doc, Flow& flow, const std::string& folder);

}  // namespace pontata
