// On which days there is work.
#pragma once

#include <span>
#include <vector>

#include "engine/calendar/arrangements.h"

namespace pontata {

class WorkingDays {
 public:
  // At least one weekday must be worked.
  WorkingDays(const Workdays& weekdays, std::span<const DaysOff> off);
  bool painted(Date d) const;       // a weekday that is worked, and no day off
  bool built(Date d) const;         // the same for the scaffold, on which dust and its own days off do not count
  Date next_painted(Date d) const;  // d or the first such day after it
  Date next_built(Date d) const;
  // Why there is no work on a day; for one without an entry that holds it, nullptr.
  const DaysOff* off(Date d) const;

 private:
  // Spans by first day, each with the last day of all up to it.
  struct Span {
    Date from, last;
  };
  static bool holds(const std::vector<Span>& spans, Date d);
  static void add(std::vector<Span>& spans, const DaysOff& off);

  Workdays weekdays_;
  std::span<const DaysOff> all_;
  std::vector<Span> no_paint_, no_build_;
};

}  // namespace pontata
