#include <fmt/format.h>

#include <cmath>
#include <map>

#include "engine/calendar/diary.h"
#include "engine/calendar/least_squares.h"

namespace pontata {

namespace {

constexpr double kNothing = 1e-4;  // m2 of a subject that a day does not count for: 1 cm2

// What was done of a giornata at one attempt, on however many days.
struct Worked {
  SubjectAreas areas{};
  double area_m2 = 0, hours = 0, lay_hours = 0;
};

std::vector<Worked> worked_days(std::span<const DiaryRef> standing) {
  std::map<std::pair<GiornataId, int>, Worked> of;
  for (const DiaryRef& entry : standing) {
    Worked& w = of[{entry->giornata, entry->attempt}];
    if (entry->area_m2 > w.area_m2) w.areas = entry->areas, w.area_m2 = entry->area_m2;
    w.hours += entry->hours.value_or(0);
    w.lay_hours += entry->lay_hours.value_or(0);
  }
  std::vector<Worked> days;
  for (const auto& [key, w] : of)
    if (w.area_m2 > kNothing) days.push_back(w);
  return days;
}

std::string_view words_of(Subject subject) {
  switch (subject) {
    case Subject::faces:
      return "faces and hands";
    case Subject::drapery:
      return "drapery";
    case Subject::architecture:
      return "architecture";
    case Subject::background:
      return "background";
    case Subject::none:
      break;
  }
  return "what no zone tells of";
}

std::string listed(const std::vector<Subject>& subjects) {
  std::string words;
  for (std::size_t i = 0; i < subjects.size(); ++i)
    words += (i == 0 ? "" : i + 1 == subjects.size() ? " and " : ", ") + std::string(words_of(subjects[i]));
  return words;
}

// Areas over columns and hours, one row a day.
struct Rows {
  Eigen::MatrixXd areas;
  Eigen::VectorXd hours;
};

std::vector<Subject> subjects_of(const std::vector<Worked>& days) {
  std::vector<Subject> found;
  for (std::size_t s = 0; s < kSubjects; ++s)
    for (const Worked& day : days)
      if (day.areas[s] > kNothing) {
        found.push_back(static_cast<Subject>(s));
        break;
      }
  return found;
}

Rows rows_of(const std::vector<Worked>& days, const std::vector<Subject>& subjects) {
  Rows rows{Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(days.size()), static_cast<Eigen::Index>(subjects.size())),
            Eigen::VectorXd::Zero(static_cast<Eigen::Index>(days.size()))};
  for (Eigen::Index d = 0; d < rows.hours.size(); ++d) {
    const Worked& day = days[static_cast<std::size_t>(d)];
    rows.hours[d] = day.hours;
    for (Eigen::Index k = 0; k < rows.areas.cols(); ++k) {
      const double area = day.areas[static_cast<std::size_t>(subjects[static_cast<std::size_t>(k)])];
      rows.areas(d, k) = area > kNothing ? area : 0;
    }
  }
  return rows;
}

int days_with(const Rows& rows, Eigen::Index column) {
  return static_cast<int>((rows.areas.col(column).array() > 0).count());
}

RateEstimate rate_of(double hours_per_m2, double error, Subject subject, int days) {
  return {subject, 1 / hours_per_m2, 1 / (hours_per_m2 + error), 1 / (hours_per_m2 - error), days};
}

void note_tied(const RelativeFit& fit, const std::vector<Subject>& subjects, Estimates& found) {
  for (const auto& columns : fit.tied) {
    std::vector<Subject> tied;
    for (const int k : columns) tied.push_back(subjects[static_cast<std::size_t>(k)]);
    found.notes.push_back(listed(tied) +
                          " were always painted in the same proportion: their rates cannot be told apart");
  }
}

void take_rates(const RelativeFit& fit, const Rows& rows, const std::vector<Subject>& subjects, Estimates& found) {
  note_tied(fit, subjects, found);
  for (int k = 0; k < fit.x.size(); ++k) {
    const Subject subject = subjects[static_cast<std::size_t>(k)];
    bool tied = false;
    for (const auto& columns : fit.tied) tied = tied || std::ranges::find(columns, k) != columns.end();
    if (tied) continue;
    if (!fit.determined[static_cast<std::size_t>(k)])
      found.notes.push_back(
          fmt::format("the days leave no hours for {}: look whether its zones are right", words_of(subject)));
    else if (fit.error[k] >= fit.x[k])
      found.notes.push_back(
          fmt::format("{}: the days differ too much, or too little apart from other subjects, to tell "
                      "a rate yet",
                      words_of(subject)));
    else
      found.rates.push_back(rate_of(fit.x[k], fit.error[k], subject, days_with(rows, k)));
  }
}

void estimate_rates(std::vector<Worked> days, Estimates& found) {
  std::erase_if(days, [](const Worked& day) { return day.hours <= 0; });
  found.days = static_cast<int>(days.size());
  const auto subjects = subjects_of(days);
  if (days.empty()) {
    found.notes.emplace_back("no day with hours of painting stands in the diary yet");
    return;
  }
  const std::size_t needed = subjects.size() + 2;
  if (days.size() < needed) {
    found.notes.push_back(fmt::format("{} {} with hours: {} of them are needed to tell the rate of {}", days.size(),
                                      days.size() == 1 ? "day" : "days", needed, listed(subjects)));
    return;
  }
  const Rows rows = rows_of(days, subjects);
  take_rates(fit_relative(rows.areas, rows.hours), rows, subjects, found);
}

void estimate_laying(std::vector<Worked> days, Estimates& found) {
  std::erase_if(days, [](const Worked& day) { return day.lay_hours <= 0; });
  if (days.size() < 3) {
    if (!days.empty())
      found.notes.emplace_back("fewer than 3 days with hours of plastering: its rate cannot be told yet");
    return;
  }
  const auto n = static_cast<Eigen::Index>(days.size());
  Rows rows{Eigen::MatrixXd(n, 1), Eigen::VectorXd(n)};
  for (Eigen::Index d = 0; d < n; ++d) {
    rows.areas(d, 0) = days[static_cast<std::size_t>(d)].area_m2;
    rows.hours[d] = days[static_cast<std::size_t>(d)].lay_hours;
  }
  const auto fit = fit_relative(rows.areas, rows.hours);
  if (fit.determined[0] && fit.error[0] < fit.x[0])
    found.laying = rate_of(fit.x[0], fit.error[0], Subject::none, static_cast<int>(days.size()));
  else
    found.notes.emplace_back("hours of plastering differ too much to tell a rate yet");
}

void estimate_window(std::span<const DiaryRef> standing, const Air& reference, Estimates& found) {
  std::vector<double> bases;
  int without_air = 0;
  for (const DiaryRef& entry : standing) {
    if (!entry->window_h || *entry->window_h <= 0) continue;
    if (!entry->air) ++without_air;
    bases.push_back(*entry->window_h / (entry->air ? weather_factor(*entry->air, reference) : 1));
  }
  if (bases.empty()) return;
  if (without_air > 0)
    found.notes.push_back(fmt::format("{} of {} windows were noted without the air: taken as at the reference",
                                      without_air, bases.size()));
  if (bases.size() < 6)
    found.notes.emplace_back("fewer than 6 windows: the base window may well lie outside the least and greatest met");
  const int days = static_cast<int>(bases.size());
  const auto fit = fit_median(std::move(bases));
  found.window = WindowEstimate{fit.median, fit.least, fit.most, days};
}

}  // namespace

Estimates estimate(std::span<const DiaryRef> diary, const Air& reference) {
  Estimates found;
  const auto standing = standing_entries(diary);
  const auto days = worked_days(standing);
  estimate_rates(days, found);
  estimate_laying(days, found);
  estimate_window(standing, reference, found);
  if (found.window && found.window->days < kDiaryDaysForWeather)
    found.notes.push_back(fmt::format("{} windows noted: the weather's factor only advises before {}",
                                      found.window->days, kDiaryDaysForWeather));
  return found;
}

}  // namespace pontata
