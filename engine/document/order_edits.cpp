// Edits of order and days: pairs of giornate, days set by hand, days without work.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "engine/document/edit_parts.h"
#include "engine/document/job_checks.h"
#include "engine/document/job_edits.h"
#include "engine/document/job_parts.h"

namespace pontata {

namespace {

constexpr std::size_t kMostPairs = 5000;

std::string number_of(const Document& doc, GiornataId id) { return label_of(doc.giornate[id.value - 1]); }

// "3 before 7", "3 and 7 apart".
std::string pair_words(const Document& doc, const PairRule& rule) {
  const std::string first = number_of(doc, rule.first), second = number_of(doc, rule.second);
  if (rule.kind == PairKind::before) return first + " before " + second;
  return first + " and " + second + " " + std::string(pair_name(rule.kind));
}

// The way from one giornata to another over pairs that say before, fewest steps; empty where there is none.
std::vector<GiornataId> way(const std::vector<PairRule>& pairs, GiornataId from, GiornataId to) {
  std::map<GiornataId, GiornataId> came{{from, from}};
  std::vector<GiornataId> reached{from};
  for (std::size_t i = 0; i < reached.size() && !came.contains(to); ++i)
    for (const PairRule& rule : pairs)
      if (rule.kind == PairKind::before && rule.first == reached[i] && came.emplace(rule.second, reached[i]).second)
        reached.push_back(rule.second);
  std::vector<GiornataId> found;
  if (!came.contains(to)) return found;
  for (GiornataId at = to; at != from; at = came.at(at)) found.push_back(at);
  found.push_back(from);
  std::ranges::reverse(found);
  return found;
}

Outcome check_circle(const Document& doc, const PairRule& rule) {
  if (rule.kind != PairKind::before) return Done{};
  const auto back = way(doc.job().pairs, rule.second, rule.first);
  if (back.empty()) return Done{};
  std::string circle = number_of(doc, rule.first);
  for (const GiornataId id : back) circle += " before " + number_of(doc, id);
  return Problem{"no order can keep to this: " + circle, "", "Take one of these pairs away first."};
}

// Apart and together contradict each other.
Outcome check_other_kind(const Document& doc, const PairRule& rule) {
  if (rule.kind == PairKind::before) return Done{};
  PairRule other = rule;
  other.kind = rule.kind == PairKind::apart ? PairKind::together : PairKind::apart;
  for (const PairRule& told : doc.job().pairs)
    if (same_pair(told, other))
      return Problem{"it is already laid down: " + pair_words(doc, told), "", "Take that away first."};
  return Done{};
}

bool holds_day(const DaysOff& off, Date day) { return off.from <= day && day <= off.to; }

std::string days_words(const DaysOff& off) {
  return off.from == off.to ? format_date(off.from) : format_date(off.from) + " to " + format_date(off.to);
}

}  // namespace

Result<Edited> add_pair(const Document& doc, const PairRule& rule) {
  if (const auto good = check_pair(doc, rule); !good) return good.problem();
  Job job = doc.job();
  for (const PairRule& told : job.pairs)
    if (same_pair(told, rule))
      return Problem{"it is already laid down: " + pair_words(doc, told), "", "Nothing is to do."};
  if (const auto good = check_other_kind(doc, rule); !good) return good.problem();
  if (const auto good = check_circle(doc, rule); !good) return good.problem();
  if (job.pairs.size() >= kMostPairs)
    return Problem{fmt::format("more than {} pairs", kMostPairs), "", "Take some away first."};
  job.pairs.push_back(rule);
  return Edited{with_job(doc, std::move(job)), "Giornate " + pair_words(doc, rule)};
}

Result<Edited> remove_pair(const Document& doc, const PairRule& rule) {
  if (const auto good = check_pair(doc, rule); !good) return good.problem();
  Job job = doc.job();
  if (std::erase_if(job.pairs, [&](const PairRule& told) { return same_pair(told, rule); }) == 0)
    return Problem{"no such pair is laid down: " + pair_words(doc, rule), "", "pontata order PROJECT lists them."};
  return Edited{with_job(doc, std::move(job)), "No longer " + pair_words(doc, rule)};
}

Result<Edited> move_to_day(const Document& doc, GiornataId id, std::optional<Date> day) {
  const auto found = giornata_of(doc, id);
  if (!found) return found.problem();
  if (day)
    if (const auto good = check_day(*day, "day of a giornata"); !good) return good.problem();
  if (day && (*found)->state == GiornataState::done)
    return Problem{giornata_name(doc, id) + " is painted", "",
                   "Its day stands in the diary; correct the entry if it is another."};
  Job job = doc.job();
  told_of(job, id).day = day;
  drop_untold(job);
  return Edited{with_job(doc, std::move(job)),
                giornata_name(doc, id) + (day ? " moved to " + format_date(*day) : " left to the plan")};
}

Result<Edited> set_behind_scaffold(const Document& doc, GiornataId id, bool behind) {
  if (const auto found = giornata_of(doc, id); !found) return found.problem();
  Job job = doc.job();
  told_of(job, id).behind_scaffold = behind;
  drop_untold(job);
  return Edited{with_job(doc, std::move(job)),
                giornata_name(doc, id) + (behind ? " kept for the strike" : " not behind the scaffold")};
}

Result<Edited> add_days_off(const Document& doc, const DaysOff& off) {
  if (const auto good = check_days_off(off); !good) return good.problem();
  Job job = doc.job();
  if (std::ranges::find(job.days_off, off) != job.days_off.end())
    return Problem{days_words(off) + " is already without work", "", "Nothing is to do."};
  job.days_off.insert(std::ranges::upper_bound(job.days_off, off.from, {}, &DaysOff::from), off);
  return Edited{with_job(doc, std::move(job)), "No work " + days_words(off)};
}

Result<Edited> remove_days_off(const Document& doc, Date day) {
  Job job = doc.job();
  auto shortest = job.days_off.end();
  for (auto it = job.days_off.begin(); it != job.days_off.end(); ++it)
    if (holds_day(*it, day) &&
        (shortest == job.days_off.end() || days_between(it->from, it->to) < days_between(shortest->from, shortest->to)))
      shortest = it;
  if (shortest == job.days_off.end())
    return Problem{format_date(day) + " is not told as a day without work", "",
                   "pontata days PROJECT lists the days off."};
  const std::string words = days_words(*shortest);
  job.days_off.erase(shortest);
  return Edited{with_job(doc, std::move(job)), "Work again " + words};
}

}  // namespace pontata
