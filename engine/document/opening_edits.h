// Edits that cut openings into a wall later, or close them again.
#pragma once

#include "engine/document/edits.h"

namespace pontata {

struct OpeningEdited : Edited {
  double wall_m2 = 0;  // of the wall as it is now
  struct Changed {
    GiornataId id;
    int number = 0;
    std::string part;
    double before_m2 = 0, after_m2 = 0;
  };
  std::vector<Changed> changed;  // giornate that lost a part to the opening, by id
};

// Cuts one more opening. Giornate that reach into it end on its edge from now on; all others keep their seams and their
// area to 1e-10 m^2. Refuses what cut_openings refuses, and an opening that would change a giornata painted today or
// done, part one in two, leave less than 1 cm^2 of one, or cut the outline of a zone.
Result<OpeningEdited> add_opening(const Document& doc, WallId wall, const Opening& opening);

// Closes opening `index` (from 0) again: its place becomes wall that no giornata covers. A scan is read again for it.
Result<OpeningEdited> remove_opening(const Document& doc, WallId wall, std::size_t index, Progress* progress = nullptr);

// "arched opening at 1.2,0, 1 m wide, 2 m high"
std::string opening_words(const Opening& opening);

}  // namespace pontata
