#include "editor/stages/calendar_weeks.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "editor/view/state_colours.h"
#include "engine/base/units.h"

namespace pontata {
namespace {

constexpr std::array<const char*, 7> kWeekdays{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
constexpr std::array<const char*, 12> kMonths{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                              "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
constexpr int kMostWeeks = 600;

std::string hours_text(const std::optional<double>& hours) { return hours ? format_fixed(*hours, 1) + " h" : ""; }

std::string named(const Giornata& g) { return "Giornata " + label_of(g) + (g.name.empty() ? "" : " (" + g.name + ")"); }

CalendarChip planned_chip(const Giornata& g, const PlannedDay& day) {
  CalendarChip chip{g.id, &day, nullptr, label_of(g), hours_text(day.hours), {}, "", g.state, false};
  chip.over_full = day.fits && !*day.fits;
  chip.all = fmt::format("{}, {}, pontata {}", named(g), state_look(g.state).word, day.pontata);
  if (day.hours) chip.all += fmt::format("\n{} of {} h", format_fixed(*day.hours, 1), format_fixed(day.window_h, 1));
  if (day.weather_window_h)
    chip.all += fmt::format("\nBy that day's weather {} h", format_fixed(*day.weather_window_h, 1));
  const auto mark = [&](bool there, const std::string& word, const std::string& says) {
    if (!there) return;
    chip.marks.push_back(word);
    chip.all += "\n" + says;
  };
  if (g.state != GiornataState::planned) chip.marks.emplace_back(state_look(g.state).word);
  mark(chip.over_full, "too long", "Too long for the day");
  mark(day.moved, "moved", "Moved to this day by hand");
  mark(day.attempt > 1, fmt::format("time {}", day.attempt), fmt::format("To be painted for time {}", day.attempt));
  mark(day.for_strike, "strike", "Kept until its deck is taken away");
  return chip;
}

CalendarChip done_chip(const Giornata& g, const DiaryRef& entry) {
  CalendarChip chip{g.id, nullptr, entry, label_of(g), hours_text(entry->hours), {}, "", GiornataState::done, false};
  chip.state = entry->failed ? GiornataState::redo : GiornataState::done;
  chip.marks.emplace_back(entry->failed ? "failed" : "done");
  chip.all = named(g) + (entry->failed ? ", painted and failed" : ", painted");
  if (entry->attempt > 1) chip.marks.push_back(fmt::format("time {}", entry->attempt));
  if (!entry->remarks.empty()) chip.all += "\n" + entry->remarks;
  return chip;
}

class Weeks {
 public:
  Weeks(DocumentRef document, std::shared_ptr<const Plan> plan) {
    out_.of = std::move(document);
    out_.plan = std::move(plan);
  }

  CalendarWeeks make() {
    find_span();
    if (!first_) return std::move(out_);
    make_days();
    put_chips();
    put_bands();
    find_first_work();
    return std::move(out_);
  }

 private:
  void hold(Date from, Date to) {
    first_ = first_ ? std::min(*first_, from) : from;
    last_ = last_ ? std::max(*last_, to) : to;
  }
  void find_span();
  void make_days();
  void put_chips();
  void put_bands();
  void find_first_work();
  CalendarDay* day(Date d);
  void tell_weather(CalendarDay& day, bool& any);

  CalendarWeeks out_;
  std::optional<Date> first_, last_;
};

void Weeks::find_span() {
  for (const PlannedDay& d : out_.plan->days)
    if (d.dated) hold(d.date, d.date);
  for (const PlanEvent& e : out_.plan->events) hold(e.from, e.to);
  for (const DiaryRef& e : out_.of->job().diary) hold(e->date, e->date);
  if (!first_) return;
  first_ = monday_of(*first_);
  last_ = std::min(*last_, add_days(*first_, 7 * kMostWeeks - 1));
}

CalendarDay* Weeks::day(Date d) {
  const int at = days_between(*first_, d);
  if (at < 0 || at >= static_cast<int>(7 * out_.weeks.size())) return nullptr;
  return &out_.weeks[static_cast<std::size_t>(at / 7)].days[static_cast<std::size_t>(at % 7)];
}

void Weeks::tell_weather(CalendarDay& day, bool& any) {
  const auto& told = out_.of->job().weather;
  day.weather = weather_on(told, day.date);
  if (!day.weather) return;
  any = true;
  for (const WeatherWord& word : weather_words(*day.weather, told)) {
    day.words.push_back(word.says);
    if (!day.alert.empty()) continue;
    day.alert = !word.alert ? "hot" : word.says.find("frost") != std::string::npos ? "frost" : "cold";
  }
}

void Weeks::make_days() {
  const auto workdays = parse_workdays(out_.of->settings.calendar.workdays);
  for (int i = 0; i < 7; ++i)
    out_.used[static_cast<std::size_t>(i)] = !workdays || (*workdays)[static_cast<std::size_t>(i + 1)];
  for (Date monday = *first_; monday <= *last_; monday = add_days(monday, 7)) {
    CalendarWeek week;
    for (int i = 0; i < 7; ++i) {
      CalendarDay& d = week.days[static_cast<std::size_t>(i)];
      d.date = add_days(monday, i);
      d.worked = !workdays || (*workdays)[static_cast<std::size_t>(i + 1)];
      tell_weather(d, week.weather);
    }
    out_.weeks.push_back(std::move(week));
  }
  for (const DaysOff& off : out_.of->job().days_off)
    for (Date d = std::max(off.from, *first_); d <= std::min(off.to, *last_); d = add_days(d, 1)) {
      day(d)->off = &off;
      day(d)->words.push_back("No work: " + std::string(day_off_name(off.why)) +
                              (off.remark.empty() ? "" : ", " + off.remark));
    }
}

void Weeks::put_chips() {
  for (const PlannedDay& planned : out_.plan->days) {
    const Giornata* g = out_.of->giornata(planned.id);
    CalendarDay* at = planned.dated ? day(planned.date) : nullptr;
    if (g && at) at->chips.push_back(planned_chip(*g, planned));
  }
  for (const DiaryRef& entry : standing_entries(out_.of->job().diary)) {
    const Giornata* g = out_.of->giornata(entry->giornata);
    CalendarDay* at = day(entry->date);
    if (g && at) at->chips.push_back(done_chip(*g, entry));
  }
  for (const CalendarWeek& week : out_.weeks)
    for (std::size_t i = 0; i < 7; ++i) out_.used[i] = out_.used[i] || !week.days[i].chips.empty();
}

// Each event goes into the first lane that is free on its days.
void Weeks::put_bands() {
  for (const PlanEvent& event : out_.plan->events) {
    if (event.kind == PlanEventKind::day_off) continue;  // its days tell of it
    const int from = std::max(0, days_between(*first_, event.from));
    const int to = std::min(days_between(*first_, event.to), static_cast<int>(7 * out_.weeks.size()) - 1);
    for (int week = from / 7; week <= to / 7 && from <= to; ++week) {
      CalendarWeek& w = out_.weeks[static_cast<std::size_t>(week)];
      CalendarBand band{&event, std::max(from - 7 * week, 0), std::min(to - 7 * week, 6), 0};
      const auto meets = [&](const CalendarBand& b) {
        return b.lane == band.lane && b.first <= band.last && band.first <= b.last;
      };
      while (std::ranges::any_of(w.bands, meets)) ++band.lane;
      w.lanes = std::max(w.lanes, band.lane + 1);
      w.bands.push_back(band);
    }
  }
}

void Weeks::find_first_work() {
  const auto planned = [](const CalendarChip& c) { return c.planned != nullptr; };
  for (std::size_t i = 0; i < out_.weeks.size(); ++i)
    for (const CalendarDay& d : out_.weeks[i].days)
      if (std::ranges::any_of(d.chips, planned)) {
        out_.first_work = i;
        return;
      }
}

}  // namespace

CalendarWeeks calendar_weeks(DocumentRef document, std::shared_ptr<const Plan> plan) {
  return Weeks(std::move(document), std::move(plan)).make();
}

Date monday_of(Date d) { return add_days(d, 1 - weekday(d)); }
const char* weekday_word(Date d) { return kWeekdays[static_cast<std::size_t>(weekday(d) - 1)]; }
const char* month_word(int month) { return kMonths[static_cast<std::size_t>(std::clamp(month, 1, 12) - 1)]; }

}  // namespace pontata
