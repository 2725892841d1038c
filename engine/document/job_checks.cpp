#include "engine/document/job_checks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/units.h"
#include "engine/document/edit_parts.h"
#include "engine/document/plain_text.h"

namespace pontata {

namespace {

Outcome check_number(std::string_view what, double value, double least, double most, std::string_view unit) {
  if (std::isfinite(value) && value >= least && value <= most) return Done{};
  const std::string of = unit.empty() ? "" : " " + std::string(unit);
  return Problem{
      fmt::format("{} of {}{} cannot be", what, std::isfinite(value) ? format_number(value) : "no number", of), "",
      fmt::format("Give a number from {} to {}{}.", format_number(least), format_number(most), of)};
}

Outcome check_number(std::string_view what, const std::optional<double>& value, double least, double most,
                     std::string_view unit) {
  return value ? check_number(what, *value, least, most, unit) : Outcome(Done{});
}

// The first that is refused.
Outcome all_of(std::initializer_list<Outcome> checks) {
  for (const Outcome& good : checks)
    if (!good) return good.problem();
  return Done{};
}

Outcome check_alive(const Document& doc, GiornataId id) {
  const auto found = giornata_of(doc, id);
  return found ? Outcome(Done{}) : found.problem();
}

bool is_blank(const std::string& text) { return text.find_first_not_of(' ') == std::string::npos; }

}  // namespace

Outcome check_day(Date date, std::string_view what) {
  if (date.year >= kFirstYear && date.year <= kLastYear && parse_date(format_date(date))) return Done{};
  return Problem{fmt::format("{} cannot be the {}", format_date(date), what), "",
                 fmt::format("Give a day of the years {} to {}, like 2027-05-04.", kFirstYear, kLastYear)};
}

Outcome check_words(std::string_view what, const std::string& text) {
  if (text.size() > kLongestNote)
    return Problem{fmt::format("the {} is longer than {} bytes", what, kLongestNote), "", "Write less."};
  if (!is_plain_text(text))
    return Problem{fmt::format("the {} holds characters that cannot be written", what), "",
                   "Use one line of letters, digits and spaces."};
  return Done{};
}

bool same_pair(const PairRule& a, const PairRule& b) {
  if (a.kind != b.kind) return false;
  if (a.first == b.first && a.second == b.second) return true;
  return a.kind != PairKind::before && a.first == b.second && a.second == b.first;
}

Outcome check_pair(const Document& doc, const PairRule& rule) {
  for (const GiornataId id : {rule.first, rule.second})
    if (const auto good = check_alive(doc, id); !good) return good;
  if (rule.first == rule.second) return Problem{"a giornata makes no pair with itself", "", "Name two giornate."};
  return Done{};
}

Outcome check_days_off(const DaysOff& off) {
  if (const auto good =
          all_of({check_day(off.from, "first day"), check_day(off.to, "last day"), check_words("remark", off.remark)});
      !good)
    return good;
  if (off.to < off.from)
    return Problem{fmt::format("{} lies before {}", format_date(off.to), format_date(off.from)), "",
                   "Name the first day first."};
  if (days_between(off.from, off.to) >= kMostDaysOff)
    return Problem{"more than three years without work", "", "Name shorter times, one after the other."};
  return Done{};
}

Outcome check_ground(const Document& doc, const GroundWork& work) {
  if (const auto wall = item_of(doc, work.wall); !wall) return wall.problem();
  if (const auto good = all_of({check_number("a pontata", work.pontata, 0, 1000, ""),
                                check_day(work.laid, "day the arriccio was laid"),
                                check_words("name of who signed", work.signed_by), check_words("remark", work.remark)});
      !good)
    return good;
  if (!work.signed_on) {
    if (work.signed_by.empty()) return Done{};
    return Problem{"who signed is told, but not the day", "", "Give the day it was signed for."};
  }
  if (const auto good = check_day(*work.signed_on, "day it was signed for"); !good) return good;
  if (*work.signed_on < work.laid)
    return Problem{"it was signed for before it was laid", "", "Give a day after " + format_date(work.laid) + "."};
  return Done{};
}

Outcome check_weather(const DayWeather& day) {
  return all_of({check_day(day.date, "day of the weather"),
                 check_number("a temperature", day.air.temperature_c, -60, 60, "\u00b0C"),
                 check_number("a humidity", day.air.humidity_pct, 0, 100, "%"),
                 check_number("air", day.air.movement_km_h, 0, 200, "km/h"),
                 check_number("a night", day.night_low_c, -60, 60, "\u00b0C")});
}

Outcome check_putty(const PuttyBatch& batch) {
  if (is_blank(batch.name)) return Problem{"a batch of putty needs a name", "", "Give what stands on its tub."};
  return all_of({check_giornata_name(batch.name), check_day(batch.slaked, "day of slaking"),
                 check_number("putty", batch.litres, 0, 1e6, "L"), check_words("remark", batch.remark)});
}

Outcome check_giornata_job(const Document& doc, const GiornataJob& told) {
  if (const auto good = check_alive(doc, told.id); !good) return good;
  if (!told.day && !told.behind_scaffold && told.palette.empty())
    return Problem{"nothing is told of the giornata", "", "Leave it out."};
  if (told.day)
    if (const auto good = check_day(*told.day, "day of a giornata"); !good) return good;
  if (told.palette.size() > kMostPigments)
    return Problem{fmt::format("a palette of more than {} pigments", kMostPigments), "", "List the ones used."};
  for (const std::string& pigment : told.palette) {
    if (is_blank(pigment)) return Problem{"a pigment without a name", "", "Name each, like PR 101."};
    if (const auto good = check_giornata_name(pigment); !good) return good;
  }
  return Done{};
}

Outcome check_secco(const Document& doc, const SeccoWork& work) {
  if (const auto good = check_alive(doc, work.giornata); !good) return good;
  if (is_blank(work.what))
    return Problem{"what is finished dry is not told", "", "Say what it is, like the blue of the mantle."};
  if (work.date)
    if (const auto good = check_day(*work.date, "day of a finish"); !good) return good;
  return all_of({check_words("finish", work.what), check_words("binder", work.binder),
                 check_number("an area", work.area_m2, 0, 1e5, "m2"),
                 check_number("hours", work.hours, 0, 10000, "h")});
}

namespace {

bool is_printable(const std::string& text) {
  return std::ranges::all_of(text, [](char c) { return c >= ' ' && c <= '~'; });
}

}  // namespace

Outcome check_accepted(const Document& doc, const AcceptedFinding& accepted) {
  if (const auto wall = item_of(doc, accepted.wall); !wall) return wall.problem();
  for (const GiornataId id : accepted.giornate)
    if (const auto good = check_alive(doc, id); !good) return good;
  if (is_blank(accepted.reason))
    return Problem{"a finding is accepted for a reason", "", "Say why it may stay, like hidden behind the cornice."};
  const bool rule = !accepted.rule.empty() && accepted.rule.size() <= kLongestRule &&
                    std::ranges::all_of(accepted.rule, [](char c) { return (c >= 'a' && c <= 'z') || c == '-'; });
  const bool cause =
      !is_blank(accepted.cause) && accepted.cause.size() <= kLongestCause && is_printable(accepted.cause);
  if (!rule || !cause)
    return Problem{"it cannot be told which finding is accepted", "", "Review the wall again and accept it there."};
  return check_words("reason", accepted.reason);
}

namespace {

Outcome check_entry_words(const DiaryEntry& entry) {
  return all_of({check_words("light", entry.light), check_words("mix", entry.mix),
                 check_words("putty batch", entry.putty), check_words("remarks", entry.remarks),
                 check_words("reason", entry.failed_why)});
}

Outcome check_entry_numbers(const DiaryEntry& entry) {
  for (const double area : entry.areas)
    if (const auto good = check_number("an area", area, 0, 1e7, "m2"); !good) return good;
  if (entry.air)
    if (const auto good = check_weather({entry.date, *entry.air, std::nullopt}); !good) return good;
  return all_of(
      {check_number("hours", entry.hours, 0, 24, "h"), check_number("hours of laying", entry.lay_hours, 0, 24, "h"),
       check_number("a window", entry.window_h, 0, 200, "h"), check_number("an area", entry.area_m2, 0, 1e7, "m2"),
       check_number("planned hours", entry.planned_hours, 0, 1e6, "h"),
       check_number("an attempt", entry.attempt, 1, 1000, "")});
}

}  // namespace

Outcome check_entry(const Document& doc, const DiaryEntry& entry) {
  for (const GiornataId id : {entry.giornata, entry.rest})
    if (id.value > doc.giornate.size() || (id == entry.giornata && !id))
      return Problem{fmt::format("there never was a giornata with the id {}", id.value), "",
                     "measure --json lists the ids."};
  if (const auto good = check_day(entry.date, "day of an entry"); !good) return good;
  if (!entry.failed && (entry.failed_on || !entry.failed_why.empty()))
    return Problem{"why it failed is told, but not that it did", "", "Mark it as failed."};
  if (entry.planned_on)
    if (const auto good = check_day(*entry.planned_on, "day that was planned"); !good) return good;
  if (entry.failed_on) {
    if (const auto good = check_day(*entry.failed_on, "day it was found"); !good) return good;
    if (*entry.failed_on < entry.date)
      return Problem{"it was found bad before it was painted", "", "Give a day after " + format_date(entry.date) + "."};
  }
  return all_of({check_entry_words(entry), check_entry_numbers(entry)});
}

}  // namespace pontata
