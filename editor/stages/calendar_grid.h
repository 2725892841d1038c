// The calendar itself: weeks as rows, days as columns, a chip for each giornata, to be dragged to another day.
#pragma once

#include <optional>

#include "editor/stages/calendar_weeks.h"
#include "editor/window/workbench.h"

namespace pontata {

class CalendarGrid {
 public:
  void draw(Workbench& bench, const CalendarWeeks& weeks, float height);
  std::optional<Date> chosen_day;  // clicked last

 private:
  struct Shape;  // widths and heights on screen
  void heads(const CalendarWeeks& weeks, const Shape& shape);
  void week(Workbench& bench, const CalendarWeek& week, const Shape& shape, float top);
  void day(Workbench& bench, const CalendarDay& day, bool weather, const Shape& shape, int column);
  void chip(Workbench& bench, const CalendarChip& chip, const Shape& shape);
  void band(Workbench& bench, const CalendarBand& band, const Shape& shape, float top);
  void scroll(Workbench& bench, const CalendarWeeks& weeks, const Shape& shape);

  const CalendarWeeks* weeks_ = nullptr;
  bool shown_ = false;   // scrolled to the work once
  GiornataId followed_;  // the chosen one that was scrolled to last
  bool clicked_ = false;
};

}  // namespace pontata
