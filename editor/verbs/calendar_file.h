// The plan as an iCalendar file: one all-day event per giornata, and one for each other thing with a day.
//
// Based on: RFC 5545, "Internet Calendaring and Scheduling Core Object Specification", 2009, sections 3.1 (folding),
// 3.3.11 (escaping) and 3.6.1 (events).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/calendar/calendar.h"

namespace pontata {

struct CalendarEvent {
  std::string uid;  // the same giornata of the same project keeps it
  Date date;
  std::string summary, description;
  std::optional<Date> last{};  // of more than one day
};

// CRLF lines of at most 75 octets, folded between characters. The time stamp is the first event's date, so that the
// same plan gives the same bytes.
std::string icalendar_text(const std::vector<CalendarEvent>& events);

}  // namespace pontata
