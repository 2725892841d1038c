// The calendar itself: weeks as rows, days as columns, a chip for each giornata, to be dragged to another day.
#pragma once

#include <imgui.h>

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
  void week(Workbench& bench, const CalendarWeek& week, const Shape& shape, std::size_t n);
  void ground(const CalendarDay& day, bool weather, const Shape& shape, ImVec2 low, ImVec2 high);
  void day(Workbench& bench, const CalendarDay& day);
  void chip(Workbench& bench, const CalendarChip& chip, const Shape& shape, float width);
  void band(Workbench& bench, const CalendarBand& band, const Shape& shape, float top);
  void scroll(Workbench& bench, const CalendarWeeks& weeks, const Shape& shape);

  bool shown_ = false;   // scrolled to the work once
  GiornataId followed_;  // the chosen one that was scrolled to last
  bool clicked_ = false;
};

}  // namespace pontata
