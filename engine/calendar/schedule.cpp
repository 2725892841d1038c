#include "engine/calendar/schedule.h"

#include <algorithm>
#include <map>
#include <numeric>

namespace pontata {

namespace {

bool holds(const std::vector<std::size_t>& rising, std::size_t i) { return std::ranges::binary_search(rising, i); }

class Scheduler {
 public:
  Scheduler(PlanRows& plan, const CalendarSettings& settings, const WorkingDays& days);
  std::vector<PontataDays> run();

 private:
  void set_last_days();
  Date begin(std::vector<PontataDays>& done, std::size_t deck);
  void finish(PontataDays& pontata, std::size_t first, std::size_t end);
  void paint(std::size_t first, std::size_t end);
  bool take_day(std::vector<std::size_t>& open, Date d);
  template <class Kind>
  void take_those(std::vector<std::size_t>& open, Date d, std::vector<std::size_t>& day, Kind&& kind);
  std::optional<Date> rush(const std::vector<std::size_t>& open, Date d) const;
  bool may_start(const PlanRow& row, Date d) const;
  bool fits_in(std::size_t i, const std::vector<std::size_t>& day) const;
  Date next_chance(const std::vector<std::size_t>& open, Date d) const;
  std::pair<Date, Date> building(Date from, int count) const;

  PlanRows& plan_;
  const CalendarSettings& settings_;
  const WorkingDays& days_;
  std::size_t painters_;
  std::map<Date, std::vector<std::size_t>> by_hand_;
  std::vector<std::optional<Date>> last_day_;  // before it a row must be painted, for what was set by hand
  Date next_;                                  // the first day that is free
};

Scheduler::Scheduler(PlanRows& plan, const CalendarSettings& settings, const WorkingDays& days)
    : plan_(plan),
      settings_(settings),
      days_(days),
      painters_(static_cast<std::size_t>(std::max(1, settings.painters))),
      last_day_(plan.open.size()),
      next_(settings.start) {
  for (std::size_t i = 0; i < plan.open.size(); ++i) {
    plan.open[i].date = plan.open[i].input->day;
    if (plan.open[i].date) by_hand_[*plan.open[i].date].push_back(i);
  }
  set_last_days();
}

// Rows come after all that they wait for, so from the last row on each is complete when it is reached.
void Scheduler::set_last_days() {
  for (std::size_t i = plan_.open.size(); i-- > 0;) {
    const PlanRow& row = plan_.open[i];
    const std::optional<Date> own = row.date ? row.date : last_day_[i];
    if (!own) continue;
    for (const auto& wait : row.waits) {
      auto& last = last_day_[wait.row];
      const Date before = row.date ? *own : add_days(*own, -1);
      if (!last || before < *last) last = before;
    }
  }
}

// `count` days of building from the first possible one on.
std::pair<Date, Date> Scheduler::building(Date from, int count) const {
  const Date first = days_.next_built(from);
  Date last = first;
  for (int k = 1; k < count; ++k) last = days_.next_built(add_days(last, 1));
  return {first, last};
}

// The first day on a deck, after the scaffold was set where it stood at another.
Date Scheduler::begin(std::vector<PontataDays>& done, std::size_t deck) {
  PontataDays pontata;
  pontata.deck = deck;
  std::optional<std::size_t> before;
  if (!done.empty()) {
    before = done.back().deck;
  } else if (!plan_.done.empty() && plan_.done.back().input->painted) {
    before = plan_.done.back().deck;
    next_ = add_days(*plan_.done.back().input->painted, 1);
  }
  if (before && *before != deck && settings_.move_days > 0) {
    const auto [from, to] = building(next_, settings_.move_days);
    pontata.move_from = from, pontata.move_to = to;
    next_ = add_days(to, 1);
  }
  next_ = days_.next_painted(std::max(next_, settings_.start));
  pontata.from = next_;
  done.push_back(pontata);
  return next_;
}

void Scheduler::finish(PontataDays& pontata, std::size_t first, std::size_t end) {
  for (std::size_t i = first; i < end; ++i) {
    const PlanRow& row = plan_.open[i];
    next_ = std::max(next_, add_days(*row.date, 1));
    if (!row.input->behind_scaffold) continue;
    pontata.strike_from = std::min(pontata.strike_from.value_or(*row.date), *row.date);
    pontata.strike_to = std::max(pontata.strike_to.value_or(*row.date), *row.date);
  }
  if (settings_.strike_days <= 0) return;
  const auto [from, to] = building(next_, settings_.strike_days);
  if (!pontata.strike_from) pontata.strike_from = from;
  pontata.strike_to = to;
  next_ = add_days(to, 1);
}

std::vector<PontataDays> Scheduler::run() {
  std::vector<PontataDays> pontate;
  const auto& open = plan_.open;
  for (std::size_t first = 0; first < open.size();) {
    std::size_t end = first;
    begin(pontate, open[first].deck);
    for (std::size_t stage = first; end < open.size() && open[end].deck == open[first].deck; stage = end) {
      while (end < open.size() && open[end].stage == open[stage].stage) ++end;
      paint(stage, end);
    }
    finish(pontate.back(), first, end);
    first = end;
  }
  return pontate;
}

// Days of the rows [first, end), one stage.
void Scheduler::paint(std::size_t first, std::size_t end) {
  std::vector<std::size_t> open;
  for (std::size_t i = first; i < end; ++i)
    if (!plan_.open[i].date) open.push_back(i);
  for (Date d = days_.next_painted(next_); !open.empty(); d = days_.next_painted(d)) {
    const bool taken = take_day(open, d);
    next_ = add_days(d, 1);
    d = taken ? next_ : next_chance(open, d);
  }
  for (std::size_t i = first; i < end; ++i) next_ = std::max(next_, add_days(*plan_.open[i].date, 1));
}

bool Scheduler::may_start(const PlanRow& row, Date d) const {
  if (row.ready && d < *row.ready) return false;
  return std::ranges::all_of(row.waits, [&](const PlanRow::Wait& wait) {
    const auto& first = plan_.open[wait.row].date;
    return first && (wait.one_day ? *first <= d : *first < d);
  });
}

// Beside those of the day.
bool Scheduler::fits_in(std::size_t i, const std::vector<std::size_t>& day) const {
  if (day.empty()) return true;
  if (day.size() >= painters_) return false;
  const PlanRow& row = plan_.open[i];
  std::vector<const PlanRow*> on_deck{&row};
  double area = row.input->measure.area_m2;
  for (const std::size_t k : day) {
    if (holds(row.beside, k) || holds(row.apart, k)) return false;
    area += plan_.open[k].input->measure.area_m2;
    if (plan_.open[k].deck == row.deck) on_deck.push_back(&plan_.open[k]);
  }
  if (settings_.plasterer_m2 && area > *settings_.plasterer_m2) return false;
  const auto carries = of_deck(settings_.load_kg, row.deck);
  return !carries || deck_load_kg(on_deck) <= *carries;
}

// The latest of the last days that leave no working day to spare for the rows due before them.
std::optional<Date> Scheduler::rush(const std::vector<std::size_t>& open, Date d) const {
  if (by_hand_.empty()) return std::nullopt;
  std::vector<Date> due;
  for (const std::size_t i : open)
    if (last_day_[i]) due.push_back(*last_day_[i]);
  std::sort(due.begin(), due.end());
  std::optional<Date> found;
  Date at = d;
  std::size_t left = 0;  // days of painting from d to before `at`
  for (std::size_t k = 0; k < due.size(); ++k) {
    for (; at < due[k] && left <= k + 1; at = add_days(at, 1)) left += days_.painted(at);
    if (left <= k + 1) found = due[k];
  }
  return found;
}

// Moves from `open` to the day of d those of a kind that may be painted beside the others.
template <class Kind>
void Scheduler::take_those(std::vector<std::size_t>& open, Date d, std::vector<std::size_t>& day, Kind&& kind) {
  for (std::size_t k = 0; k < open.size() && day.size() < painters_;) {
    const std::size_t i = open[k];
    if (!kind(i) || !may_start(plan_.open[i], d) || !fits_in(i, day)) {
      ++k;
      continue;
    }
    plan_.open[i].date = d;
    day.push_back(i);
    open.erase(open.begin() + static_cast<std::ptrdiff_t>(k));
  }
}

// Takes what is painted on day d out of `open`; false when it is nothing.
bool Scheduler::take_day(std::vector<std::size_t>& open, Date d) {
  std::vector<std::size_t> day;
  if (const auto set = by_hand_.find(d); set != by_hand_.end()) day = set->second;
  const std::size_t before = day.size();
  if (const auto late = rush(open, d))
    take_those(open, d, day, [&](std::size_t i) { return last_day_[i] && *last_day_[i] <= *late; });
  take_those(open, d, day, [](std::size_t) { return true; });
  return day.size() > before;
}

// The first day after d on which one of these may start, as far as that is known.
Date Scheduler::next_chance(const std::vector<std::size_t>& open, Date d) const {
  const Date next = add_days(d, 1);
  std::optional<Date> best;
  for (const std::size_t i : open) {
    const PlanRow& row = plan_.open[i];
    Date at = row.ready.value_or(next);
    bool known = true;
    for (const auto& wait : row.waits) {
      const auto& first = plan_.open[wait.row].date;
      known = known && first.has_value();
      if (first) at = std::max(at, add_days(*first, wait.one_day ? 0 : 1));
    }
    if (known && (!best || at < *best)) best = at;
  }
  return std::max(next, best.value_or(next));
}

}  // namespace

std::vector<PontataDays> schedule(PlanRows& plan, const CalendarSettings& settings, const WorkingDays& days) {
  return Scheduler(plan, settings, days).run();
}

double deck_load_kg(std::span<const PlanRow* const> on_day) {
  return std::accumulate(on_day.begin(), on_day.end(), kPersonKg,
                         [](double kg, const PlanRow* row) { return kg + row->input->mortar_kg + kPersonKg; });
}

}  // namespace pontata
