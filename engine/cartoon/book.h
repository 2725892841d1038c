// The book of a job: title, contents, key plans, the giornate in working order with their day sheets, cautions.
#pragma once

#include <string>

#include "engine/base/progress.h"
#include "engine/cartoon/cartoon.h"
#include "engine/cartoon/registration.h"

namespace pontata {

// A4 pages, each with its number at the foot; the contents give the page of every giornata. Only the giornate of
// `input.only`, when it names any.
Outcome write_book(const CartoonInput& input, Registers& registers, const std::string& path,
                   Progress* progress = nullptr);

}  // namespace pontata
