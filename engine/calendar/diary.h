// What was really done: one entry for each day that a giornata was worked on. Entries are never erased; a correction is
// a new entry that names the one it corrects.
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/base/dates.h"
#include "engine/calendar/weather.h"
#include "engine/giornate/giornata.h"

namespace pontata {

using SubjectAreas = std::array<double, kSubjects>;  // m2 by Subject; what no zone tells of stands under `none`

struct DiaryEntry {
  std::uint32_t id = 0;        // counts from 1
  std::uint32_t corrects = 0;  // id of the entry that this one stands for; 0: none
  GiornataId giornata;
  int attempt = 1;  // 2 and more: cut out and done again
  Date date;
  std::optional<double> hours;      // of painting
  std::optional<double> lay_hours;  // of plastering
  std::optional<double> window_h;   // from the last coat until the plaster took no more colour
  std::optional<Air> air;
  std::string light, mix, putty, remarks;
  std::string photo;                    // path, relative in the project file
  std::string photo_sha256;             // of the file when it was noted
  double area_m2 = 0;                   // painted that day, on the true surface
  SubjectAreas areas{};                 // the same by subject
  std::optional<Date> planned_on;       // as the plan had it that morning
  std::optional<double> planned_hours;  // likewise, for the outline as planned
  std::vector<Ring> planned;            // the outline as it was planned that morning, on the wall's lattice
  std::vector<Ring> cut;                // as it was cut that evening; empty: as planned
  GiornataId rest;      // what was laid but cut away unpainted, a giornata of its own; none where nothing was
  bool failed = false;  // found bad: cut out along its seams to the arriccio, to be done again
  std::string failed_why;
  std::optional<Date> failed_on;  // the day it was found
  bool operator==(const DiaryEntry&) const = default;
};
using DiaryRef = std::shared_ptr<const DiaryEntry>;

// Entries that no later one corrects, in order of date, then id. O(n log n).
std::vector<DiaryRef> standing_entries(std::span<const DiaryRef> diary);
// Those of one giornata.
std::vector<DiaryRef> standing_entries(std::span<const DiaryRef> diary, GiornataId id);
// The attempt that the next work on it is: 1, and one more for each attempt that failed.
int next_attempt(std::span<const DiaryRef> diary, GiornataId id);

// --- What the days teach -------------------------------------------------------------------------------------------

struct RateEstimate {
  Subject subject = Subject::none;
  double m2_per_h = 0;
  double least = 0, most = 0;  // 95 % of what the days allow, by their scatter
  int days = 0;                // with some of this subject
};
struct WindowEstimate {
  double base_h = 0;  // at the reference air
  double least = 0, most = 0;
  int days = 0;
};
struct Estimates {
  int days = 0;                     // entries with hours, failed ones too
  std::vector<RateEstimate> rates;  // subjects that the days can tell apart, by Subject
  std::optional<RateEstimate> laying;
  std::optional<WindowEstimate> window;
  std::vector<std::string> notes;  // plain words: what cannot be told yet, and why
};
// Hours of a day are the sum over subjects of area over rate: non-negative least squares of the hours an m2 takes, each
// day weighed by its size so that long days do not rule; days far off (more than 3 robust deviations) are weighed down.
// Entries of one attempt count as one piece of work. The fit is least_squares.h; a subject needs two days more than
// there are subjects. The base window is the median of the windows met, each over the weather's factor of its day.
Estimates estimate(std::span<const DiaryRef> diary, const Air& reference);

}  // namespace pontata
