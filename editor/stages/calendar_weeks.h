// The plan of the job laid out in weeks, as the Calendar page shows it.
#pragma once

#include <array>
#include <memory>
#include <string>
#include <vector>

#include "engine/document/document.h"

namespace pontata {

// What stands in one day for one giornata: planned for it, or written of it in the diary.
struct CalendarChip {
  GiornataId id;
  const PlannedDay* planned = nullptr;  // null for what was done
  DiaryRef entry;                       // null for what is planned
  std::string number;                   // "14a"
  std::string hours;                    // "6.5 h", or ""
  std::vector<std::string> marks;       // short words, each on a row of its own: "too long", "moved", "attempt 2"
  std::string all;                      // everything in words, for the tooltip
  GiornataState state = GiornataState::planned;
  bool over_full = false;
};

struct CalendarDay {
  Date date;
  bool worked = true;
  const DaysOff* off = nullptr;
  const DayWeather* weather = nullptr;
  std::string alert;               // "frost", "cold", "hot" or ""
  std::vector<std::string> words;  // of the weather and of days off, in full
  std::vector<CalendarChip> chips;
};

// An event over some days of one week.
struct CalendarBand {
  const PlanEvent* event = nullptr;
  int first = 0, last = 0;  // column, 0 Monday
  int lane = 0;             // bands of one lane do not overlap
};

struct CalendarWeek {
  std::array<CalendarDay, 7> days;
  std::vector<CalendarBand> bands;
  int lanes = 0;
  bool weather = false;  // some day tells of it
};

struct CalendarWeeks {
  DocumentRef of;
  std::shared_ptr<const Plan> plan;  // pointers above point into these two
  std::vector<CalendarWeek> weeks;   // without a gap, from the first that holds something to the last
  std::size_t first_work = 0;        // the week of the first giornata still to be painted
  std::array<bool, 7> used{};        // weekdays that are worked, or hold a giornata
};
// At most 600 weeks.
CalendarWeeks calendar_weeks(DocumentRef document, std::shared_ptr<const Plan> plan);

Date monday_of(Date d);
const char* weekday_word(Date d);   // "Mon"
const char* month_word(int month);  // "May", 1 to 12

}  // namespace pontata
