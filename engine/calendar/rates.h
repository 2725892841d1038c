// At what rate a place is painted.
#pragma once

#include <optional>

#include "engine/calendar/calendar.h"

namespace pontata {

// m2/h of what no zone tells of; nullopt without a rate.
std::optional<double> plain_rate(const CalendarSettings& settings);
// m2/h inside a detail zone: its own, else its subject's, else the painter's; nullopt without any.
std::optional<double> zone_rate(const Zone& zone, const CalendarSettings& settings);
// The zone changes the rate: a detail zone with a rate of its own or a subject.
bool tells_rate(const Zone& zone);

}  // namespace pontata
