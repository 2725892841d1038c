// Edits of the diary: entries, corrections, the line really cut, giornate found bad.
#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "engine/document/diary_cut.h"
#include "engine/document/edit_parts.h"
#include "engine/document/flow.h"
#include "engine/document/giornata_records.h"
#include "engine/document/job_checks.h"
#include "engine/document/job_edits.h"
#include "engine/document/job_parts.h"
#include "engine/document/sha256.h"

namespace pontata {

namespace {

std::string entry_name(const DiaryEntry& entry) { return fmt::format("entry {}", entry.id); }

// The entry that `entry` corrects; none for a new one.
Result<DiaryRef> corrected_by(const Document& doc, const DiaryEntry& entry) {
  if (entry.corrects == 0) return DiaryRef();
  const auto& diary = doc.job().diary;
  if (entry.corrects > diary.size())
    return Problem{fmt::format("the diary has no entry {}", entry.corrects), "", "pontata diary PROJECT lists them."};
  for (const DiaryRef& later : diary)
    if (later->corrects == entry.corrects)
      return Problem{fmt::format("entry {} was corrected already, by entry {}", entry.corrects, later->id), "",
                     "Correct that one."};
  return diary[entry.corrects - 1];
}

Outcome check_not_painted(const Document& doc, const DiaryEntry& entry) {
  if (entry.corrects != 0 || doc.giornata(entry.giornata)->state != GiornataState::done) return Done{};
  const auto standing = standing_entries(doc.job().diary, entry.giornata);
  if (standing.empty()) return Done{};
  return Problem{
      giornata_name(doc, entry.giornata) + " is painted: it is " + entry_name(*standing.back()) + " of the diary", "",
      "Correct that entry, or mark the giornata as to be done again."};
}

// Attempts follow each other.
Outcome check_dates(const Document& doc, const DiaryEntry& entry) {
  for (const DiaryRef& other : standing_entries(doc.job().diary, entry.giornata)) {
    if (other->id == entry.corrects) continue;
    const bool early = other->attempt < entry.attempt && entry.date < other->date;
    const bool late = other->attempt > entry.attempt && other->date < entry.date;
    if (early || late)
      return Problem{fmt::format("{} was worked on at attempt {} on {}", giornata_name(doc, entry.giornata),
                                 other->attempt, format_date(other->date)),
                     "",
                     fmt::format("Give a day {} that one for attempt {}.", early ? "after" : "before", entry.attempt)};
  }
  return Done{};
}

Outcome read_photo(DiaryEntry& entry, const DiaryRef& corrected) {
  if (entry.photo.empty()) return Done{};
  entry.photo = absolute_path(entry.photo);
  if (corrected && corrected->photo == entry.photo && corrected->photo_sha256 == entry.photo_sha256) return Done{};
  const auto hash = sha256_of_file(entry.photo);
  if (!hash) return hash.problem();
  entry.photo_sha256 = *hash;
  return Done{};
}

std::vector<Ring> rings_of(const Network& network, GiornataId id) {
  std::vector<Ring> rings;
  for (const FaceId f : network.faces_of(id))
    for (Ring& ring : network.rings(f)) rings.push_back(std::move(ring));
  return rings;
}

struct Now {
  double area_m2 = 0;
  GiornataHours hours;
};
Now now_of(const Document& doc, GiornataId id) {
  const Giornata& g = *doc.giornata(id);
  const WallItem& item = *doc.wall(g.wall);
  const auto measured = measure_wall(*item.wall, item.network, std::span(&g, 1));
  const auto& own = measured.giornate.front();
  return {own.area_m2, painting_hours(*item.wall, item.network, own, item.zones, doc.settings.calendar)};
}

void measure(const Document& doc, DiaryEntry& entry) {
  const Now now = now_of(doc, entry.giornata);
  entry.area_m2 = now.area_m2;
  entry.areas = now.hours.areas_m2;
}

// What the plan has of it before anything is written down.
void note_plan(const Document& doc, DiaryEntry& entry) {
  entry.planned_hours = now_of(doc, entry.giornata).hours.hours;
  Flow flow;
  for (const PlannedDay& day : flow.plan(doc)->days)
    if (day.id == entry.giornata && day.dated) entry.planned_on = day.date;
}

// Marked as to be done again without a word in the diary: the attempt that stands there failed.
void note_failed(Job& job, const Document& doc, GiornataId id) {
  if (doc.giornata(id)->state != GiornataState::redo) return;
  const auto standing = standing_entries(job.diary, id);
  if (standing.empty() || standing.back()->attempt != next_attempt(job.diary, id)) return;
  DiaryEntry failed = *standing.back();
  failed.corrects = failed.id;
  failed.id = static_cast<std::uint32_t>(job.diary.size()) + 1;
  failed.failed = true;
  failed.failed_why = "marked as to be done again";
  job.diary.push_back(std::make_shared<const DiaryEntry>(std::move(failed)));
}

// What the correction of an entry of the same giornata takes over from it: where and what was painted.
void take_over(DiaryEntry& entry, const DiaryEntry& corrected) {
  entry.attempt = corrected.attempt;
  entry.area_m2 = corrected.area_m2;
  entry.areas = corrected.areas;
  entry.planned_on = corrected.planned_on;
  entry.planned_hours = corrected.planned_hours;
  entry.planned = corrected.planned;
  entry.cut = corrected.cut;
  entry.rest = corrected.rest;
}

// Whether the giornata's state is what this entry says of it: its latest attempt.
bool is_latest(const Job& job, const DiaryEntry& entry) {
  const auto standing = standing_entries(job.diary, entry.giornata);
  return std::ranges::none_of(standing, [&](const DiaryRef& e) { return e->attempt > entry.attempt; });
}

Outcome check_correction(const Document& doc, const DiaryEntry& entry, const DiaryEntry& was, bool cut) {
  const bool moved = was.giornata != entry.giornata;
  if ((cut || moved) && !was.cut.empty())
    return Problem{entry_name(was) + " tells where the plaster was cut, and the seams lie there now", "",
                   "Keep the line; redraw the seam once the giornata is set to ready."};
  if (was.failed && !entry.failed && !is_latest(doc.job(), was))
    return Problem{fmt::format("attempt {} failed, and the giornata was done again since", was.attempt), "",
                   "Keep it marked as failed."};
  return Done{};
}

struct Writing {
  std::shared_ptr<Document> next;
  DiaryEntry entry;
  Job job;
  std::vector<GiornataId> rests;
};

// Divides the giornata along the line cut.
Outcome cut_now(Writing& now, const std::vector<ChartPoint>& cut, std::optional<ChartPoint> painted) {
  const GiornataId id = now.entry.giornata;
  const Giornata g = *now.next->giornata(id);
  const WallItem& item = *now.next->wall(g.wall);
  now.entry.planned = rings_of(item.network, id);
  if (cut.empty()) return Done{};
  auto made = cut_in_evening(*now.next, g, cut, painted);
  if (!made) return made.problem();
  now.entry.cut = rings_of(made->network, id);
  now.next->written = shared_job(std::move(now.job));
  auto cut_up = with_network(*now.next, item, std::move(made->network));
  std::vector<GiornataId> in_order = made->rests;
  std::ranges::sort(in_order);
  for (const GiornataId rest : in_order) {
    if (add_part(*cut_up, id).id != rest) throw std::logic_error("parts out of order");
    cut_up->giornate[rest.value - 1].state = GiornataState::planned;
  }
  now.rests = std::move(made->rests);
  now.entry.rest = now.rests.front();
  now.next = std::move(cut_up);
  now.job = now.next->job();
  return Done{};
}

void set_states(Writing& now, const DiaryRef& corrected) {
  auto& giornate = now.next->giornate;
  if (is_latest(now.job, now.entry) && now.next->giornata(now.entry.giornata))
    giornate[now.entry.giornata.value - 1].state = now.entry.failed ? GiornataState::redo : GiornataState::done;
  if (!corrected || corrected->giornata == now.entry.giornata || !now.next->giornata(corrected->giornata)) return;
  const auto left = standing_entries(now.job.diary, corrected->giornata);
  if (left.empty()) giornate[corrected->giornata.value - 1].state = GiornataState::planned;
}

std::string did_words(const Writing& now) {
  const std::string name = giornata_name(*now.next, now.entry.giornata);
  return fmt::format("Diary: {} {}{}", name, format_date(now.entry.date), now.entry.corrects != 0 ? ", corrected" : "");
}

// Checks what can be told before anything is changed.
Result<DiaryRef> check_writing(const Document& doc, const DiaryEntry& entry, bool cut) {
  const auto corrected = corrected_by(doc, entry);
  if (!corrected) return corrected.problem();
  const bool same = *corrected && (*corrected)->giornata == entry.giornata;
  if (!same || cut)
    if (const auto found = giornata_of(doc, entry.giornata); !found) return found.problem();
  if (*corrected)
    if (const auto good = check_correction(doc, entry, **corrected, cut); !good) return good.problem();
  if (!same)
    if (const auto good = check_not_painted(doc, entry); !good) return good.problem();
  return corrected;
}

}  // namespace

Result<DiaryEdited> write_diary(const Document& doc, DiaryEntry entry, const std::vector<ChartPoint>& cut,
                                std::optional<ChartPoint> painted, Progress*) {
  const auto corrected = check_writing(doc, entry, !cut.empty());
  if (!corrected) return corrected.problem();
  Writing now{std::make_shared<Document>(doc), std::move(entry), doc.job(), {}};
  const bool same = *corrected && (*corrected)->giornata == now.entry.giornata;
  if (!same) note_failed(now.job, doc, now.entry.giornata);
  now.entry.id = static_cast<std::uint32_t>(now.job.diary.size()) + 1;
  now.entry.attempt = next_attempt(now.job.diary, now.entry.giornata);
  now.entry.rest = {};
  now.entry.planned_on.reset(), now.entry.planned_hours.reset();
  if (same)
    take_over(now.entry, **corrected);
  else
    note_plan(doc, now.entry);
  if (const auto good = check_entry(doc, now.entry); !good) return good.problem();
  now.next->written = shared_job(now.job);
  if (const auto good = check_dates(*now.next, now.entry); !good) return good.problem();
  if (const auto read = read_photo(now.entry, *corrected); !read) return read.problem();
  if (!same || !cut.empty()) {
    if (const auto done = cut_now(now, cut, painted); !done) return done.problem();
    measure(*now.next, now.entry);
  }
  now.job.diary.push_back(std::make_shared<const DiaryEntry>(now.entry));
  set_states(now, *corrected);
  DiaryEdited edited;
  edited.did = did_words(now);
  edited.entry = now.entry.id;
  edited.rests = now.rests;
  edited.rest = now.rests.empty() ? GiornataId{} : now.rests.front();
  now.next->written = shared_job(std::move(now.job));
  edited.document = std::move(now.next);
  return edited;
}

Result<Edited> fail_giornata(const Document& doc, GiornataId id, Date found_on, const std::string& why) {
  if (const auto found = giornata_of(doc, id); !found) return found.problem();
  const auto standing = standing_entries(doc.job().diary, id);
  if (standing.empty())
    return Problem{giornata_name(doc, id) + " does not stand in the diary", "",
                   "Write down when it was painted, or set its state to redo."};
  if (standing.back()->failed)
    return Problem{giornata_name(doc, id) + " is already to be done again", "", "Write down the next attempt."};
  DiaryEntry entry = *standing.back();
  entry.corrects = entry.id;
  entry.failed = true;
  entry.failed_on = found_on;
  entry.failed_why = why;
  auto written = write_diary(doc, std::move(entry));
  if (!written) return written.problem();
  return Edited{std::move(written->document), giornata_name(doc, id) + " to be done again"};
}

}  // namespace pontata
