// Edits of what is written down on the job (job.h), each one undo step. All texts are one line of readable characters,
// at most 1000 bytes; dates lie within 1900 to 2200. Numbers are refused outside their range, with the range.
#pragma once

#include "engine/document/edits.h"

namespace pontata {

// --- Order and days ------------------------------------------------------------------------------------------------
// Refuses a giornata with itself, a pair that stands already, and a `before` that closes a circle with others, naming
// the circle by the giornate's numbers.
Result<Edited> add_pair(const Document& doc, const PairRule& rule);
Result<Edited> remove_pair(const Document& doc, const PairRule& rule);
// Moves a giornata to a day, or leaves it to the plan again (none). Painted ones are refused.
Result<Edited> move_to_day(const Document& doc, GiornataId id, std::optional<Date> day);
Result<Edited> set_behind_scaffold(const Document& doc, GiornataId id, bool behind);
Result<Edited> add_days_off(const Document& doc, const DaysOff& off);  // refuses `to` before `from`, more than 3 years
Result<Edited> remove_days_off(const Document& doc, Date day);         // the entry that holds this day
// Lays down, or changes, the arriccio of a wall or of one pontata of it.
Result<Edited> set_ground(const Document& doc, const GroundWork& work);
Result<Edited> remove_ground(const Document& doc, WallId wall, int pontata);

// --- Weather and supplies ------------------------------------------------------------------------------------------
// Days told before stay, days told again are replaced.
Result<Edited> add_weather(const Document& doc, std::span<const DayWeather> days);
Result<Edited> remove_weather(const Document& doc, Date from, Date to);
Result<Edited> set_putty(const Document& doc, const PuttyBatch& batch);  // new, or of this name
Result<Edited> remove_putty(const Document& doc, const std::string& name);

// --- Palette -------------------------------------------------------------------------------------------------------
Result<Edited> set_palette(const Document& doc, GiornataId id, std::vector<std::string> colour_index_names);
Result<Edited> set_secco(const Document& doc, SeccoWork work);  // id 0: new
Result<Edited> remove_secco(const Document& doc, std::uint32_t id);

// --- Review --------------------------------------------------------------------------------------------------------
AcceptedFinding acceptance_of(WallId wall, const Finding& finding, std::string reason);
// Six hexadecimal digits that name a finding to people, the same as long as its cause is; of two different ones they
// are hardly ever the same, and who reads them must look.
std::string finding_code(const AcceptedFinding& finding);
std::string finding_code(WallId wall, const Finding& finding);
// A finding of the wall may stay, for this reason (not empty); one that is accepted already gets the new reason.
Result<Edited> accept_finding(const Document& doc, WallId wall, const Finding& finding, const std::string& reason);
// It is open again, or what was said of it is dropped where it is outdated. Refuses one that is not accepted.
Result<Edited> reopen_finding(const Document& doc, const AcceptedFinding& accepted);
// Acceptances of the wall that fit none of its findings: their cause changed, or is gone.
std::vector<AcceptedFinding> outdated_acceptances(const Document& doc, WallId wall, std::span<const Finding> findings);

// --- Diary ---------------------------------------------------------------------------------------------------------
struct DiaryEdited : Edited {
  std::uint32_t entry = 0;
  GiornataId rest;  // what was laid but not painted and goes to a later day: a giornata of its own; none where nothing
                    // was cut away
  std::vector<GiornataId> rests;  // all of them, largest first, where the cut leaves several
};
// Writes an entry; id, attempt, areas, what was planned and the photograph's SHA-256 are filled in here. With a `cut`
// of at least two chart places, the line really cut that evening (both ends on the giornata's rim, or the closed
// outline of what was painted, whose last place is its first again; brought to the rim within 50 mm): the giornata is
// divided there (diary_cut.h), `painted` (a place) says which side was painted, by default the larger; it keeps id,
// number and diary, the other becomes a later giornata, planned. The giornata is done, unless it failed: then it is to
// be done again
// (`redo`). Refuses a giornata that is painted and stands in the diary, a date before an entry of an earlier attempt,
// hours outside 0 to 24, a photograph that cannot be read.
// With `corrects` the entry stands for that one from now on, which is kept; where and what was painted is taken over
// from it. Of another giornata, what was painted is measured anew and the wrong one is planned again. Refuses what was
// corrected already, another line than the one cut, and taking back a failure once the giornata was done again.
Result<DiaryEdited> write_diary(const Document& doc, DiaryEntry entry, const std::vector<ChartPoint>& cut = {},
                                std::optional<ChartPoint> painted = std::nullopt, Progress* progress = nullptr);
// A giornata painted before is found bad: its standing entry is marked as failed by a correction, the giornata is to be
// done again; entries of the attempt stay.
Result<Edited> fail_giornata(const Document& doc, GiornataId id, Date found_on, const std::string& why);

}  // namespace pontata
