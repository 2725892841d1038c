// Openings as they are typed.
#pragma once

#include <string>

#include "editor/verbs/console.h"

namespace pontata {

// Says why `text` is no opening: a file that cannot be used is a failure, anything else wrong usage. The exit status.
int refuse_opening(const std::string& verb, const std::string& text, const Problem& problem);

}  // namespace pontata
