// What is seen of the seams from an eye point, as `review --from` tells it.
#pragma once

#include "editor/verbs/project.h"

namespace pontata {

// An eye point by its name, or the place "X,Y,Z"; refused with the names that there are.
Result<EyePoint> eye_of(const Document& doc, const std::string& text);

// The worst stretches, at most so many a wall, and the caveat: `from_floor` in the JSON, lines of text.
void add_from_floor(const Document& doc, const EyePoint& eye, std::size_t worst, Flow& flow, Progress* progress,
                    Json& json, std::string& text);

}  // namespace pontata
