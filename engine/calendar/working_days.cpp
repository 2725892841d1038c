#include "engine/calendar/working_days.h"

#include <algorithm>

namespace pontata {

WorkingDays::WorkingDays(const Workdays& weekdays, std::span<const DaysOff> off) : weekdays_(weekdays), all_(off) {
  std::vector<DaysOff> sorted(off.begin(), off.end());
  std::stable_sort(sorted.begin(), sorted.end(), [](const auto& a, const auto& b) { return a.from < b.from; });
  for (const DaysOff& days : sorted) {
    add(no_paint_, days);
    if (days.why == DayOffWhy::rest || days.why == DayOffWhy::other) add(no_build_, days);
  }
}

void WorkingDays::add(std::vector<Span>& spans, const DaysOff& off) {
  spans.push_back({off.from, spans.empty() ? off.to : std::max(off.to, spans.back().last)});
}

bool WorkingDays::holds(const std::vector<Span>& spans, Date d) {
  const auto after = std::ranges::upper_bound(spans, d, {}, &Span::from);
  return after != spans.begin() && std::prev(after)->last >= d;
}

bool WorkingDays::painted(Date d) const {
  return weekdays_[static_cast<std::size_t>(weekday(d))] && !holds(no_paint_, d);
}

bool WorkingDays::built(Date d) const {
  return weekdays_[static_cast<std::size_t>(weekday(d))] && !holds(no_build_, d);
}

Date WorkingDays::next_painted(Date d) const {
  while (!painted(d)) d = add_days(d, 1);
  return d;
}

Date WorkingDays::next_built(Date d) const {
  while (!built(d)) d = add_days(d, 1);
  return d;
}

const DaysOff* WorkingDays::off(Date d) const {
  const auto it = std::ranges::find_if(all_, [&](const DaysOff& days) { return days.from <= d && d <= days.to; });
  return it == all_.end() ? nullptr : &*it;
}

}  // namespace pontata
