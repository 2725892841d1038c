// Hours against the working window, and the order and dates of the giornate.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/base/dates.h"
#include "engine/base/result.h"
#include "engine/calendar/arrangements.h"
#include "engine/calendar/order.h"
#include "engine/calendar/weather.h"
#include "engine/giornate/measures.h"

namespace pontata {

struct CalendarSettings {
  std::optional<double> rate_m2_per_h;  // the painter's own; without it hours are unknown
  double window_h = 10;                 // from the last coat to too dry; 8 to 12 by weather; common practice
  double wait_h = 1;                    // after the last coat before painting
  double stop_h = 2;                    // before the window's end
  double day_h = 10;                    // the painter's longest day of painting
  std::vector<double> levels_m;  // heights of the scaffold decks, rising; empty: one every 2 m from the wall's foot
  Date start{2027, 5, 3};
  std::string workdays = "1-5";  // ISO weekdays: "1-5", "1-6", "1,3,5"
  int painters = 1;
  // By Subject; `none` is unused (rate_m2_per_h). A subject without a rate of its own goes by rate_m2_per_h.
  std::array<std::optional<double>, kSubjects> subject_rates{};
  std::optional<double> lay_rate_m2_per_h;  // plastered in an hour, all coats together; without it laying takes no time
  double whole_day_h = 14;                  // from the first coat to the last clean-up; common practice, no source
  Air reference;                            // the air at which window_h holds
  bool window_by_weather = true;            // once the diary stands behind it
  bool left_handed = false;
  bool against_hand = false;           // work goes toward the painting hand instead of away from it
  std::vector<double> reach_m{2.3};    // above each deck, one for all or one a deck, rising; common practice, no source
  std::vector<double> load_kg;         // that each deck carries, by its tag, likewise; empty: not told
  int move_days = 1;                   // to set the scaffold for the next pontata; common practice, no source
  int strike_days = 0;                 // taking a deck away after its patches behind ties and standards were painted
  int curing_days = 30;                // of the arriccio before it is signed for; common practice, no source
  int secco_days = 60;                 // after painting; common practice, no source
  std::optional<double> plasterer_m2;  // that one plasterer lays of a morning; none: as many as there are painters
};

// Painting hours that one day leaves: window less wait and stop, at most the painter's day; never below 0.
double painting_window_h(const CalendarSettings& settings);
// The same with the window scaled by the day's weather factor (weather.h).
double painting_window_h(const CalendarSettings& settings, double factor);

// Cutting the open edges, cleaning splashes, tools and deck. Common practice, no source.
inline constexpr double kEveningHours = 1;

struct GiornataHours {
  GiornataId id;
  std::optional<double> hours;  // painting; unknown without a rate
  double window_h = 0;          // what the day leaves: min(window - wait - stop, day)
  std::optional<bool> fits;     // painting within window_h, and laying, waiting, painting and clean-up in the whole day
  double lay_h = 0;             // plastering; 0 without a rate of laying
  std::array<double, kSubjects> areas_m2{};                 // by Subject
  std::array<std::optional<double>, kSubjects> hours_of{};  // of painting, by Subject; 0 where there is none of it
};

// Painting hours of a giornata: each part of it that lies in a detail zone at the zone's rate, or its subject's (areas
// on the true surface), the rest at the painter's rate. Where detail zones overlap the one listed first counts. Unknown
// while some part of it has no rate.
GiornataHours painting_hours(const ChartedWall& wall, const Network& network, const GiornataMeasure& giornata,
                             std::span<const Zone> zones, const CalendarSettings& settings);

// Whether its hours, which are known, fit: painting within window_h, and laying, waiting, painting and the evening's
// work within the whole day.
bool fits_day(const GiornataHours& hours, const CalendarSettings& settings);

struct PlannedDay {
  GiornataId id;
  int pontata = 1;  // 1 is the highest deck
  Date date;
  std::optional<double> hours;
  double window_h = 0;
  std::optional<bool> fits;
  bool dated = true;  // false once done: finished work comes first in the order; then `date` tells nothing, except:
  std::optional<Date> painted;  // of a done one, where the diary tells; `date` is the same
  double lay_h = 0;             // plastering before it
  double deck_m = 0;            // height of its deck
  bool moved = false;           // its day was set by hand
  bool for_strike = false;      // painted when its deck is taken away
  int attempt = 1;
  std::optional<double> weather_window_h;  // window_h by that day's weather, where it is told; only advice until the
                                           // diary stands behind it (Plan::weather_counts), then window_h is the same
};

// A day, or days, that are no giornata's.
enum class PlanEventKind { scaffold_move, strike, day_off, arriccio, sign_off, secco };
struct PlanEvent {
  PlanEventKind kind = PlanEventKind::day_off;
  Date from, to;
  std::string says;     // plain words: "Scaffold to pontata 2 (deck at 4.00 m)"
  int pontata = 0;      // where it is one's
  WallId wall;          // likewise
  GiornataId giornata;  // likewise
};

// What the plan does not hold to, in plain words.
struct PlanIssue {
  std::string rule;  // "circle", "forced-pair", "drips", "wet-seam", "over-full", "reach", "deck-load", "no-rate",
                     // "no-window", "no-painter", "workdays", "ground-not-ready", "day-off", "moved-before",
                     // "plasterer", "frost", "cold", "heat", "secco-early"
  std::string says;
  std::vector<GiornataId> giornate;
  std::optional<Date> date;
  bool advice = false;  // a preference that gave way; no problem
};

struct Plan {
  std::vector<PlannedDay> days;       // in working order
  std::vector<std::string> problems;  // what `issues` say that is more than advice; empty when the plan holds together
  std::vector<PlanIssue> issues;
  std::vector<PlanEvent> events;                 // by first day
  std::vector<std::vector<GiornataId>> circles;  // pairs laid down that no order can keep to (order.h)
  bool weather_counts = false;                   // window_h is by the weather where that is told
};

struct PlanInput {
  GiornataMeasure measure;
  GiornataHours hours;
  GiornataState state = GiornataState::planned;
  int number = 0;  // used in messages; 0: its place in the order
  std::string part{};
  WallId wall{};
  std::optional<Date> day{};  // moved by hand
  bool behind_scaffold = false;
  int attempt = 1;
  double mortar_kg = 0;           // wet, carried onto its deck that morning
  std::optional<Date> painted{};  // of a done one, where the diary tells
};

// What else the plan rests on; spans and pointers may be empty.
struct PlanFacts {
  struct WallName {
    WallId wall;
    std::string name;
  };
  std::vector<WallName> walls{};   // named in what is said; others go by their id
  std::optional<double> foot_m{};  // height of the wall's foot for the decks assumed when no levels are set; by default
                                   // the lowest giornata's
  std::span<const PairRule> pairs{};
  std::span<const DaysOff> days_off{};
  std::span<const GroundWork> ground{};
  std::span<const DayWeather> weather{};  // by date
  int diary_days = 0;                     // that the weather's factor stands on
  std::span<const Precedence> drips{};    // found on the surface beyond what PlanInput::measure.runs_onto tells
  struct Secco {
    GiornataId giornata;
    std::string says;
    std::optional<Date> date;
  };
  std::vector<Secco> secco{};
};

// Order. What is done comes first. The rest top down: by pontata from the highest deck, those behind ties and standards
// last of theirs; within one from the highest patch down, in a row away from the painting hand (a right-handed painter
// from the left of the chart), or toward it where the settings say so. A giornata belongs to the highest deck that is
// not above its label place (to the lowest deck when it lies below all). Patches whose tops and label places are within
// a hand's breadth (100 mm) of the row's first are a tie. Of this list the order is the nearest (order_by) that keeps
// to the pairs laid down and to the water: a giornata from which more than a dab (50 mm of seam) runs onto another
// comes before it; near the crown that is a wish. Decks hold against both. Days. One giornata a working day per
// painter; on one day only of one deck, none that share a seam (unless `together`) or are `apart`, none that another
// still to come must precede, no more m2 than the plasterer lays of a morning, no more weight than the deck carries:
// wet mortar, and kPersonKg for each painter and one plasterer. A deck's last day is followed by the strike and the
// move. Arriccio that is told must be cured and signed for: where nobody has signed yet it is planned for when it is
// cured, and told. Days set by hand are kept whatever they break, which is told. Cost: O(n log n) for n giornate, and n
// times the giornate of a pontata that wait for something else.
inline constexpr double kPersonKg = 100;  // with clothes and tools; common practice, no source
Plan make_plan(std::span<const PlanInput> giornate, const CalendarSettings& settings, const PlanFacts& facts = {});

// The decks used: levels_m, or one every 2 m from `foot_m` to below `top_m`; rising.
std::vector<double> deck_levels(const CalendarSettings& settings, double foot_m, double top_m);
// Highest deck that is not above `height_m`; 0 is the lowest deck of the rising list.
std::size_t deck_of(std::span<const double> levels, double height_m);

// Clock times of one day, hours before (negative) or after the first paint at 0.
struct DayStep {
  double from_h = 0, to_h = 0;
  std::string what;
};
// From the evening before to the cleaning, in order, none overlapping. The last coat ends wait_h before the first
// paint; smoothing and the transfer of the cartoon lie inside that wait. Durations of the other steps: common practice,
// no source.
std::vector<DayStep> day_steps(const CalendarSettings& settings, double painting_h, int coats);

}  // namespace pontata
