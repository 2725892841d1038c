// What a giornata meets on other walls, in words.
#pragma once

#include <string>
#include <vector>

#include "engine/document/flow.h"

namespace pontata {

// One line a wall: "meets wall apse here: 1.20 m (giornata 7)". Precondition: the giornata is one of the document.
std::vector<std::string> meeting_lines(const Document& doc, Flow& flow, GiornataId giornata);

// The index of a wall in the document. Precondition: it is there.
std::size_t wall_index(const Document& doc, WallId wall);

}  // namespace pontata
