#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "engine/document/edit_parts.h"
#include "engine/document/job_checks.h"

namespace pontata {

namespace {

class Faults {
 public:
  // `where` counts from 1.
  void add(const Outcome& good, std::string_view list, std::size_t where) {
    if (good) return;
    Problem fault = good.problem();
    fault.where = fmt::format("{} {}", list, where);
    found_.push_back(std::move(fault));
  }
  void add(const std::string& what, std::string_view list, std::size_t where) {
    found_.push_back({what, fmt::format("{} {}", list, where), ""});
  }
  std::vector<Problem> take() { return std::move(found_); }

 private:
  std::vector<Problem> found_;
};

// Each after the one before it, by `key`.
template <class List, class Key>
void check_rising(const List& list, std::string_view name, Key key, Faults& faults) {
  for (std::size_t i = 1; i < list.size(); ++i)
    if (!(key(list[i - 1]) < key(list[i]))) faults.add("is out of order, or told twice", name, i + 1);
}

void check_diary(const Document& doc, Faults& faults) {
  const auto& diary = doc.job().diary;
  std::set<std::uint32_t> corrected;
  for (std::size_t i = 0; i < diary.size(); ++i) {
    const DiaryEntry& entry = *diary[i];
    faults.add(check_entry(doc, entry), "diary entry", i + 1);
    if (entry.id != i + 1) faults.add("its number does not follow the one before", "diary entry", i + 1);
    if (entry.corrects >= entry.id && entry.corrects != 0)
      faults.add("corrects an entry that was not there yet", "diary entry", i + 1);
    if (entry.corrects != 0 && !corrected.insert(entry.corrects).second)
      faults.add("corrects an entry that another corrects already", "diary entry", i + 1);
  }
}

void check_pairs(const Document& doc, Faults& faults) {
  const auto& pairs = doc.job().pairs;
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    faults.add(check_pair(doc, pairs[i]), "pair", i + 1);
    const auto before = pairs.begin() + static_cast<std::ptrdiff_t>(i);
    if (std::any_of(pairs.begin(), before, [&](const PairRule& r) { return same_pair(r, pairs[i]); }))
      faults.add("is told twice", "pair", i + 1);
  }
}

void check_putty_names(const std::vector<PuttyBatch>& batches, Faults& faults) {
  std::set<std::string> names;
  for (std::size_t i = 0; i < batches.size(); ++i) {
    if (!names.insert(batches[i].name).second) faults.add("its name is borne twice", "putty batch", i + 1);
    if (i > 0 && batches[i].slaked < batches[i - 1].slaked) faults.add("is out of order", "putty batch", i + 1);
  }
}

void check_accepted_once(const std::vector<AcceptedFinding>& accepted, Faults& faults) {
  std::set<std::pair<std::uint32_t, std::string>> seen;
  for (std::size_t i = 0; i < accepted.size(); ++i)
    if (!seen.insert({accepted[i].wall.value, accepted[i].cause}).second)
      faults.add("is accepted twice", "finding accepted", i + 1);
}

// What one list of the job must obey: each item by itself.
template <class List, class Check>
void check_each(const List& list, std::string_view name, Check check, Faults& faults) {
  for (std::size_t i = 0; i < list.size(); ++i) faults.add(check(list[i]), name, i + 1);
}

}  // namespace

std::vector<Problem> job_faults(const Document& doc) {
  const Job& job = doc.job();
  Faults faults;
  check_diary(doc, faults);
  check_pairs(doc, faults);
  check_each(job.weather, "weather", check_weather, faults);
  check_rising(
      job.weather, "weather", [](const DayWeather& d) { return d.date; }, faults);
  check_each(job.days_off, "days off", check_days_off, faults);
  for (std::size_t i = 1; i < job.days_off.size(); ++i)
    if (job.days_off[i].from < job.days_off[i - 1].from) faults.add("is out of order", "days off", i + 1);
  check_each(
      job.ground, "arriccio", [&](const GroundWork& w) { return check_ground(doc, w); }, faults);
  check_rising(
      job.ground, "arriccio", [](const GroundWork& w) { return std::pair(w.wall, w.pontata); }, faults);
  check_each(job.putty, "putty batch", check_putty, faults);
  check_putty_names(job.putty, faults);
  check_each(
      job.giornate, "job of a giornata", [&](const GiornataJob& g) { return check_giornata_job(doc, g); }, faults);
  check_rising(
      job.giornate, "job of a giornata", [](const GiornataJob& g) { return g.id; }, faults);
  check_each(
      job.secco, "finish", [&](const SeccoWork& s) { return check_secco(doc, s); }, faults);
  check_rising(
      job.secco, "finish", [](const SeccoWork& s) { return s.id; }, faults);
  if (!job.secco.empty() && (job.secco.front().id == 0 || job.secco.back().id >= job.next_secco))
    faults.add("its number is not below the next", "finish", job.secco.size());
  check_each(
      job.accepted, "finding accepted", [&](const AcceptedFinding& a) { return check_accepted(doc, a); }, faults);
  check_accepted_once(job.accepted, faults);
  return faults.take();
}

}  // namespace pontata
