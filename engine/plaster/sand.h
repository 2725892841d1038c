// Damp sand: a film of water holds the grains apart, so that it takes more room than dry sand and weighs more.
#pragma once

#include "engine/plaster/mortar.h"

namespace pontata {

// How much more room loose sand takes, % of its dry volume, with so much water, % of its dry weight. 25 % at 4 % is
// quoted from IS 2386 part 3 (civilread.com, "Bulking of sand"), which also says that sand under water takes the room
// of dry sand; the most at 4 to 6 % and less beyond: laboratory text "Bulking of fine aggregate", Dayalbagh Educational
// Institute. The values between are from memory of a table in common use: 15, 20, 25, 30 % at 2, 3, 4, 5 %. Fine sand
// bulks more than coarse: a measurement of one's own is better.
double usual_bulking_pct(double moisture_pct);

// As measured by the user, else from the moisture.
double bulking_pct(const SupplySettings& supply);

}  // namespace pontata
