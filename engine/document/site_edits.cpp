// Edits of what is found on the site: arriccio, weather, batches of putty.
#include <fmt/format.h>

#include <algorithm>

#include "engine/document/edit_parts.h"
#include "engine/document/job_checks.h"
#include "engine/document/job_edits.h"
#include "engine/document/job_parts.h"

namespace pontata {

namespace {

std::string ground_words(const Document& doc, WallId wall, int pontata) {
  const std::string of = "Arriccio of " + doc.wall(wall)->name;
  return pontata == 0 ? of : fmt::format("{}, pontata {}", of, pontata);
}

auto place_of(const GroundWork& work) { return std::pair(work.wall, work.pontata); }

}  // namespace

Result<Edited> set_ground(const Document& doc, const GroundWork& work) {
  if (const auto good = check_ground(doc, work); !good) return good.problem();
  Job job = doc.job();
  const auto there = std::ranges::lower_bound(job.ground, place_of(work), {}, place_of);
  if (there != job.ground.end() && place_of(*there) == place_of(work))
    *there = work;
  else
    job.ground.insert(there, work);
  return Edited{with_job(doc, std::move(job)), ground_words(doc, work.wall, work.pontata)};
}

Result<Edited> remove_ground(const Document& doc, WallId wall, int pontata) {
  if (const auto item = item_of(doc, wall); !item) return item.problem();
  Job job = doc.job();
  if (std::erase_if(job.ground, [&](const GroundWork& w) { return w.wall == wall && w.pontata == pontata; }) == 0)
    return Problem{ground_words(doc, wall, pontata) + ": nothing is written down", "",
                   "pontata ground PROJECT lists what is."};
  return Edited{with_job(doc, std::move(job)), ground_words(doc, wall, pontata) + " taken out"};
}

Result<Edited> add_weather(const Document& doc, std::span<const DayWeather> days) {
  if (days.empty()) return Problem{"no day's weather is told", "", "Give one or several days."};
  Job job = doc.job();
  std::vector<DayWeather> told(days.begin(), days.end());
  for (const DayWeather& day : told)
    if (const auto good = check_weather(day); !good) return good.problem();
  std::ranges::stable_sort(told, {}, &DayWeather::date);
  for (std::size_t i = 1; i < told.size(); ++i)
    if (told[i].date == told[i - 1].date)
      return Problem{"the weather of " + format_date(told[i].date) + " is told twice", "", "Tell each day once."};
  std::erase_if(job.weather, [&](const DayWeather& d) { return weather_on(told, d.date); });
  job.weather.insert(job.weather.end(), told.begin(), told.end());
  std::ranges::sort(job.weather, {}, &DayWeather::date);
  if (job.weather.size() > kMostWeatherDays)
    return Problem{fmt::format("the weather of more than {} days", kMostWeatherDays), "", "Take old days out first."};
  const std::string did =
      told.size() == 1 ? "Weather of " + format_date(told[0].date) : fmt::format("Weather of {} days", told.size());
  return Edited{with_job(doc, std::move(job)), did};
}

Result<Edited> remove_weather(const Document& doc, Date from, Date to) {
  if (to < from)
    return Problem{fmt::format("{} lies before {}", format_date(to), format_date(from)), "",
                   "Name the first day first."};
  Job job = doc.job();
  const auto gone = std::erase_if(job.weather, [&](const DayWeather& d) { return from <= d.date && d.date <= to; });
  if (gone == 0)
    return Problem{fmt::format("no weather is told from {} to {}", format_date(from), format_date(to)), "",
                   "pontata weather PROJECT lists the days."};
  return Edited{with_job(doc, std::move(job)), fmt::format("Weather of {} days taken out", gone)};
}

Result<Edited> set_putty(const Document& doc, const PuttyBatch& batch) {
  if (const auto good = check_putty(batch); !good) return good.problem();
  Job job = doc.job();
  std::erase_if(job.putty, [&](const PuttyBatch& b) { return b.name == batch.name; });
  job.putty.insert(std::ranges::upper_bound(job.putty, batch.slaked, {}, &PuttyBatch::slaked), batch);
  return Edited{with_job(doc, std::move(job)), "Putty " + batch.name};
}

Result<Edited> remove_putty(const Document& doc, const std::string& name) {
  Job job = doc.job();
  if (std::erase_if(job.putty, [&](const PuttyBatch& b) { return b.name == name; }) == 0)
    return Problem{"there is no putty named " + name, "", "pontata putty PROJECT lists the batches."};
  return Edited{with_job(doc, std::move(job)), "Putty " + name + " taken out"};
}

}  // namespace pontata
