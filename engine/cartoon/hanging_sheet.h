// The back of a day sheet: how the giornata's sheet is hung.
#pragma once

#include "engine/cartoon/page.h"
#include "engine/cartoon/registration.h"
#include "engine/cartoon/working_order.h"

namespace pontata {

// One A4 page: the giornata as the painter stands before it, with its marks, the tapes from snapped lines to them, its
// neighbours (finished ones hatched), and the same in words with the lines to draw again in the fresh intonaco.
void draw_hanging_sheet(Pages& pages, const CartoonInput& input, const PrintJob& job, Registers& registers);

}  // namespace pontata
