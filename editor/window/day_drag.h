// Giornate dragged from day to day, on the Calendar page and in the week at the bottom alike.
#pragma once

#include "editor/window/workbench.h"

namespace pontata {

// Makes the item drawn last a handle of the giornata. Painted ones cannot be dragged.
void day_source(Workbench& bench, GiornataId id);
// Makes the item drawn last a day to let a giornata go on: it is moved there, one undo step.
void day_target(Workbench& bench, Date date);
bool dragging_day();  // a giornata is being dragged

// Moves it, or leaves its day to the plan again (none). True when it was moved.
bool move_day(Workbench& bench, GiornataId id, std::optional<Date> date);

}  // namespace pontata
