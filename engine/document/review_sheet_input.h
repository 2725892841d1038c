// What the review sheet needs of a document.
#pragma once

#include <string>

#include "engine/cartoon/review_sheet.h"
#include "engine/document/flow.h"

namespace pontata {

// Every wall that has giornate, their findings, and what is seen from every eye point that is set, with so many of the
// worst stretches of each. Refuses a project without giornate, saying so. Cancelled: Problem "stopped". Costs the
// review, and a look at every stretch of seam from every eye point.
Result<ReviewSheetInput> review_sheet_input(const Document& doc, Flow& flow, const std::string& project_path,
                                            std::size_t worst, Progress* progress = nullptr);

inline constexpr std::size_t kWorstOnSheet = 8;

// The sheet of a document, written. A Problem without a file is the document's. Costs review_sheet_input and
// write_review_sheet.
Outcome write_review_sheet(const Document& doc, Flow& flow, const std::string& project_path, std::size_t worst,
                           const std::string& pdf_path, Progress* progress = nullptr);

}  // namespace pontata
