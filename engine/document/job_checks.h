// What may be written down on the job: the rules that edits, the project file's reader and the check share. Each
// refusal says what is wrong and what to do.
#pragma once

#include <string_view>
#include <vector>

#include "engine/document/document.h"

namespace pontata {

inline constexpr int kFirstYear = 1900, kLastYear = 2200;  // dates of the job lie within
inline constexpr int kMostDaysOff = 1096;                  // three years in one entry
inline constexpr std::size_t kMostPigments = 100;          // of one giornata
inline constexpr std::size_t kMostWeatherDays = 40000;
inline constexpr std::size_t kLongestRule = 40, kLongestCause = 4000;  // bytes

Outcome check_day(Date date, std::string_view what);
// One line of readable characters, at most kLongestNote bytes; may be empty.
Outcome check_words(std::string_view what, const std::string& text);

Outcome check_pair(const Document& doc, const PairRule& rule);  // both alive, not the same
Outcome check_days_off(const DaysOff& off);
Outcome check_ground(const Document& doc, const GroundWork& work);
Outcome check_weather(const DayWeather& day);
Outcome check_putty(const PuttyBatch& batch);
Outcome check_giornata_job(const Document& doc, const GiornataJob& told);  // alive, something told
Outcome check_secco(const Document& doc, const SeccoWork& work);
// Of a wall and giornate that are there; a rule's name, a cause of printable ASCII, a reason.
Outcome check_accepted(const Document& doc, const AcceptedFinding& accepted);
// Of a giornata that is, or was once; its numbers and words. What it corrects and its id are job_faults' affair.
Outcome check_entry(const Document& doc, const DiaryEntry& entry);

// Two rules that say the same; apart and together hold either way round.
bool same_pair(const PairRule& a, const PairRule& b);

// Every invariant of a document's job, each fault with its place; empty when sound. O(n log n) but for the pairs,
// O(n^2).
std::vector<Problem> job_faults(const Document& doc);

}  // namespace pontata
