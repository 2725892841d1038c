// Cautions for work that a page sends someone to do.
#pragma once

#include <string>

namespace pontata {

std::string cutting_out_words();  // a giornata that failed

}  // namespace pontata
