// Apart from the pages: the records' header and the pictures' each have an Align of their own.
#include "editor/stages/cautions.h"

#include "engine/document/plan_and_fact.h"

namespace pontata {

std::string cutting_out_words() { return std::string(cutting_out_caution()); }

}  // namespace pontata
