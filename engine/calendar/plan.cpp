#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <list>
#include <map>
#include <queue>

#include "engine/base/units.h"
#include "engine/calendar/calendar.h"

namespace pontata {

namespace {

constexpr double kDeckStep = 2.0;   // m between assumed decks
constexpr double kTie = 0.10;       // m, a hand's breadth
constexpr double kLeastRun = 0.05;  // m across the fall: less is a dab with a sponge
constexpr double kReachUp = 2.3;    // m above a deck that a painter reaches (common practice, no source)
constexpr double kReachDown = 0.3;  // m below it, through the gap along the wall (common practice, no source)

struct Row {
  const PlanInput* input = nullptr;
  std::size_t deck = 0;
  int place = 0;  // 1-based in the order
  std::string label() const { return input->number > 0 ? label_of(*input) : std::to_string(place); }
};

// Sorts [first, last) of one deck: rows of equal height from the top, each from the left.
void sort_deck(std::vector<Row>::iterator first, std::vector<Row>::iterator last) {
  const auto higher = [](const Row& a, const Row& b) {
    const auto& p = a.input->measure;
    const auto& q = b.input->measure;
    return std::tuple(-p.highest_m, -p.inside_m, p.inside.u, p.id) <
           std::tuple(-q.highest_m, -q.inside_m, q.inside.u, q.id);
  };
  const auto more_left = [](const Row& a, const Row& b) {
    return std::tuple(a.input->measure.inside.u, a.input->measure.id) <
           std::tuple(b.input->measure.inside.u, b.input->measure.id);
  };
  std::sort(first, last, higher);
  while (first != last) {
    const auto& top = first->input->measure;
    const auto end = std::find_if(first, last, [&](const Row& r) {
      return top.highest_m - r.input->measure.highest_m > kTie ||
             std::abs(top.inside_m - r.input->measure.inside_m) > kTie;
    });
    std::sort(first, end, more_left);
    first = end;
  }
}

// Water runs from a over their common seam onto b, more than comes back.
bool runs_onto(const Row& a, const Row& b) {
  return std::any_of(a.input->measure.runs_onto.begin(), a.input->measure.runs_onto.end(),
                     [&](const auto& r) { return r.id == b.input->measure.id && r.width_m > kLeastRun; });
}

// Brings forward what would wet a patch listed before it. In a circle the list's own order counts.
void put_wetter_first(std::vector<Row>::iterator first, std::vector<Row>::iterator last) {
  const std::vector<Row> list(first, last);
  std::map<GiornataId, std::size_t> place;
  for (std::size_t i = 0; i < list.size(); ++i) place[list[i].input->measure.id] = i;
  const auto for_each_wetted = [&](std::size_t i, auto&& f) {
    for (const auto& run : list[i].input->measure.runs_onto)
      if (const auto there = place.find(run.id); there != place.end() && run.width_m > kLeastRun) f(there->second);
  };
  std::vector<int> wetted_by(list.size(), 0);  // how many that are still to come wet it
  for (std::size_t i = 0; i < list.size(); ++i) for_each_wetted(i, [&](std::size_t k) { ++wetted_by[k]; });
  std::priority_queue<std::size_t, std::vector<std::size_t>, std::greater<>> dry;
  for (std::size_t i = 0; i < list.size(); ++i)
    if (wetted_by[i] == 0) dry.push(i);
  std::vector<bool> taken(list.size(), false);
  for (std::size_t in_turn = 0; first != last; ++first) {
    while (in_turn < list.size() && taken[in_turn]) ++in_turn;
    const std::size_t next = dry.empty() ? in_turn : dry.top();
    if (!dry.empty()) dry.pop();
    taken[next] = true;
    *first = list[next];
    for_each_wetted(next, [&](std::size_t k) {
      if (--wetted_by[k] == 0 && !taken[k]) dry.push(k);
    });
  }
}

std::vector<Row> working_order(std::span<const PlanInput> giornate, std::span<const double> levels) {
  std::vector<Row> rows;
  for (const PlanInput& input : giornate) rows.push_back({&input, deck_of(levels, input.measure.inside_m), 0});
  const auto finished = [](const Row& r) { return r.input->state == GiornataState::done; };
  const auto open = std::stable_partition(rows.begin(), rows.end(), finished);
  for (auto part : {std::pair(rows.begin(), open), std::pair(open, rows.end())}) {
    std::sort(part.first, part.second, [](const Row& a, const Row& b) {
      return a.deck != b.deck ? a.deck > b.deck : a.input->measure.id < b.input->measure.id;
    });
    while (part.first != part.second) {
      const auto end = std::find_if(part.first, part.second, [&](const Row& r) { return r.deck != part.first->deck; });
      sort_deck(part.first, end);
      put_wetter_first(part.first, end);
      part.first = end;
    }
  }
  return rows;
}

bool share_seam(const Row& a, const Row& b) {
  const auto& n = a.input->measure.neighbours;
  return std::find(n.begin(), n.end(), b.input->measure.id) != n.end();
}

// Takes the first open giornata and, for more painters, the next ones of its deck that share no seam with those taken.
std::vector<Row> take_day(std::list<Row>& open, int painters) {
  std::vector<Row> day;
  const auto can_join = [&](std::list<Row>::iterator it) {
    if (it->deck != day.front().deck) return false;
    const auto beside = [&](const Row& r) { return share_seam(r, *it) || share_seam(*it, r); };
    const auto wets = [&](const Row& r) { return runs_onto(r, *it); };
    return std::none_of(day.begin(), day.end(), beside) && std::none_of(open.begin(), it, wets);
  };
  for (auto it = open.begin(); it != open.end() && static_cast<int>(day.size()) < painters;) {
    if (!day.empty() && !can_join(it)) {
      ++it;
      continue;
    }
    day.push_back(*it);
    it = open.erase(it);
  }
  return day;
}

Date next_workday(Date d, const Workdays& workdays) {
  while (!workdays[static_cast<std::size_t>(weekday(d))]) d = add_days(d, 1);
  return d;
}

std::string tenth(double value) { return format_fixed(value, 1); }

void check_window(const std::vector<Row>& rows, const CalendarSettings& settings, std::vector<std::string>& problems) {
  const double window = painting_window_h(settings);
  if (!rows.empty() && window <= 0)
    problems.push_back(
        fmt::format("A window of {} h less {} h to wait and {} h before its end leaves no time to paint: "
                    "lengthen the window or shorten the waits.",
                    tenth(settings.window_h), tenth(settings.wait_h), tenth(settings.stop_h)));
  if (std::any_of(rows.begin(), rows.end(), [](const Row& r) { return !r.input->hours.hours; }))
    problems.push_back(
        "The painter's rate is not set, so hours are unknown: set how many square metres you paint in an hour.");
  for (const Row& r : rows) {
    const GiornataHours& h = r.input->hours;
    if (!h.hours || h.fits.value_or(true)) continue;
    problems.push_back(
        fmt::format("Giornata {} needs {} h of painting, but its plaster leaves {} h: divide it, or paint it "
                    "faster or with help.",
                    r.label(), tenth(*h.hours), tenth(h.window_h)));
  }
}

void check_reach(const std::vector<Row>& rows, const CalendarSettings& settings, std::span<const double> levels,
                 std::vector<std::string>& problems) {
  if (settings.levels_m.empty()) return;  // assumed decks are moved to suit
  for (const Row& r : rows) {
    const auto& m = r.input->measure;
    const double deck = levels[r.deck];
    if (m.highest_m <= deck + kReachUp && m.lowest_m >= deck - kReachDown) continue;
    problems.push_back(
        fmt::format("Giornata {} reaches from {} m to {} m, but from its deck at {} m a painter reaches {} m "
                    "to {} m: divide it between the decks, or set another deck level.",
                    r.label(), format_fixed(m.lowest_m, 2), format_fixed(m.highest_m, 2), format_fixed(deck, 2),
                    format_fixed(deck - kReachDown, 2), format_fixed(deck + kReachUp, 2)));
  }
}

// Pontate count from the highest deck that holds a giornata.
PlannedDay planned(const Row& r, std::size_t top_deck, Date date, bool dated) {
  const GiornataHours& h = r.input->hours;
  PlannedDay day;
  day.id = r.input->measure.id;
  day.pontata = static_cast<int>(top_deck - r.deck) + 1;
  day.date = date;
  day.hours = h.hours;
  day.window_h = h.window_h;
  day.fits = h.fits;
  day.dated = dated;
  day.lay_h = h.lay_h;
  day.attempt = r.input->attempt;
  return day;
}

}  // namespace

double painting_window_h(const CalendarSettings& settings) { return painting_window_h(settings, 1); }

double painting_window_h(const CalendarSettings& settings, double factor) {
  return std::max(0.0, std::min(settings.window_h * factor - settings.wait_h - settings.stop_h, settings.day_h));
}

std::vector<double> deck_levels(const CalendarSettings& settings, double foot_m, double top_m) {
  std::vector<double> levels = settings.levels_m;
  std::sort(levels.begin(), levels.end());
  if (!levels.empty()) return levels;
  levels.push_back(foot_m);
  for (int i = 1; foot_m + i * kDeckStep < top_m; ++i) levels.push_back(foot_m + i * kDeckStep);
  return levels;
}

std::size_t deck_of(std::span<const double> levels, double height_m) {
  const auto above = std::upper_bound(levels.begin(), levels.end(), height_m);
  return above == levels.begin() ? 0 : static_cast<std::size_t>(above - levels.begin()) - 1;
}

Plan make_plan(std::span<const PlanInput> giornate, const CalendarSettings& settings, const PlanFacts& facts) {
  Plan plan;
  if (giornate.empty()) return plan;
  double foot = giornate.front().measure.lowest_m;
  double top = giornate.front().measure.highest_m;
  for (const PlanInput& g : giornate) {
    foot = std::min(foot, g.measure.lowest_m);
    top = std::max(top, g.measure.highest_m);
  }
  const std::vector<double> levels = deck_levels(settings, facts.foot_m.value_or(foot), top);
  const auto parsed = parse_workdays(settings.workdays);
  if (!parsed) plan.problems.push_back(parsed.problem().message() + " Monday to Friday is assumed.");
  const Workdays workdays = parsed ? *parsed : Workdays{false, true, true, true, true, true, false, false};
  if (settings.painters < 1) plan.problems.push_back("There is no painter: the plan is made for one.");

  const std::vector<Row> order = working_order(giornate, levels);
  std::list<Row> open(order.begin(), order.end());
  std::vector<Row> rows;
  std::size_t top_deck = 0;
  for (const Row& r : open) top_deck = std::max(top_deck, r.deck);
  while (!open.empty() && open.front().input->state == GiornataState::done) {
    plan.days.push_back(planned(open.front(), top_deck, settings.start, false));
    open.pop_front();
  }
  Date date = next_workday(settings.start, workdays);
  while (!open.empty()) {
    for (Row& r : take_day(open, std::max(1, settings.painters))) {
      plan.days.push_back(planned(r, top_deck, date, true));
      r.place = static_cast<int>(plan.days.size());
      rows.push_back(r);
    }
    date = next_workday(add_days(date, 1), workdays);
  }
  check_window(rows, settings, plan.problems);
  check_reach(rows, settings, levels, plan.problems);
  return plan;
}

}  // namespace pontata
