#include "engine/document/giornata_records.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "engine/document/edit_parts.h"
#include "engine/document/job_parts.h"

namespace pontata {

Giornata& add_giornata(Document& next, WallId wall, const std::string& name) {
  Giornata made;
  made.id = next_giornata(next);
  made.wall = wall;
  made.number = next_number(next);
  made.name = name;
  next.giornate.push_back(std::move(made));
  return next.giornate.back();
}

namespace {

// The least letter that no living part of this number bears.
std::string free_letter(const Document& doc, int number) {
  for (int n = 0;; ++n) {
    std::string letter = n < 26 ? "" : std::string(1, static_cast<char>('a' + n / 26 - 1));
    letter += static_cast<char>('a' + n % 26);
    const auto bears = [&](const Giornata& g) { return g.alive && g.number == number && g.part == letter; };
    if (std::none_of(doc.giornate.begin(), doc.giornate.end(), bears)) return letter;
  }
}

}  // namespace

Giornata& add_part(Document& next, GiornataId of) {
  const std::size_t at = of.value - 1;
  Giornata& made = add_giornata(next, next.giornate[at].wall, "");
  Giornata& whole = next.giornate[at];
  made.intonaco_mm = whole.intonaco_mm;
  made.state = whole.state;
  made.printed = made.changed = whole.printed;
  split_job(next, of, made.id);
  if (!next.numbers_frozen) return made;
  if (whole.part.empty()) whole.part = free_letter(next, whole.number);
  made.part = free_letter(next, whole.number);
  made.number = whole.number;
  return made;
}

void retire_giornata(Document& next, GiornataId id) {
  next.giornate[id.value - 1].alive = false;
  drop_job(next, id);
}

SeamHold held_seams(const Document& doc) {
  return [giornate = doc.giornate](GiornataId id) -> std::string {
    const Giornata& g = giornate[id.value - 1];
    if (g.state == GiornataState::done) return fmt::format("giornata {} is painted", label_of(g));
    if (g.state == GiornataState::today) return fmt::format("giornata {} is being painted today", label_of(g));
    return "";
  };
}

Outcome check_free(const Document& doc, GiornataId id) {
  const std::string why = held_seams(doc)(id);
  if (why.empty()) return Done{};
  return Problem{why, "", "Its seams stay where they are; mark it as to be done again first."};
}

namespace {

// Paint was laid on it: the number it had then is the one the painter knows it by.
bool keeps_number(const Giornata& g) {
  return g.alive &&
         (g.state == GiornataState::today || g.state == GiornataState::done || g.state == GiornataState::redo);
}

}  // namespace

DocumentRef renumbered(const DocumentRef& doc, std::span<const GiornataId> order) {
  if (doc->numbers_frozen) return doc;
  std::vector<int> numbers(doc->giornate.size(), 0);
  std::set<int> kept;
  for (const Giornata& g : doc->giornate)
    if (keeps_number(g)) kept.insert(numbers[g.id.value - 1] = g.number);
  int next = 1;
  const auto count = [&](const Giornata* g) {
    if (!g || !g->alive || numbers[g->id.value - 1] != 0) return;
    while (kept.contains(next)) ++next;
    numbers[g->id.value - 1] = next++;
  };
  for (const GiornataId id : order) count(doc->giornata(id));
  for (const Giornata& g : doc->giornate) count(&g);
  const auto as_it_is = [&](const Giornata& g) { return !g.alive || g.number == numbers[g.id.value - 1]; };
  if (std::all_of(doc->giornate.begin(), doc->giornate.end(), as_it_is)) return doc;
  auto changed = std::make_shared<Document>(*doc);
  for (Giornata& g : changed->giornate)
    if (g.alive) g.number = numbers[g.id.value - 1];
  return changed;
}

Result<Edited> cartoon_printed(const Document& doc, std::span<const GiornataId> printed) {
  if (printed.empty()) return Problem{"no giornata was printed", "", "Name one."};
  auto next = std::make_shared<Document>(doc);
  next->numbers_frozen = true;
  for (const GiornataId id : printed) {
    if (const auto found = giornata_of(doc, id); !found) return found.problem();
    Giornata& g = next->giornate[id.value - 1];
    g.printed = true, g.changed = false;
  }
  const std::string what = printed.size() == 1 ? "giornata " + label_of(*doc.giornata(printed[0]))
                                               : fmt::format("{} giornate", printed.size());
  return Edited{std::move(next), "Cartoon printed of " + what};
}

void flag_changed(Document& next, const Network& before, const Network& after) {
  if (std::none_of(next.giornate.begin(), next.giornate.end(), [](const Giornata& g) { return g.alive && g.printed; }))
    return;
  for (const GiornataId id : rims_changed(before, after)) {
    if (id.value > next.giornate.size()) continue;  // its record is still to be made
    Giornata& g = next.giornate[id.value - 1];
    g.changed = g.changed || g.printed;
  }
}

const Giornata* giornata_labelled(const Document& doc, std::string_view label) {
  for (const auto& g : doc.giornate)
    if (g.alive && label_of(g) == label) return &g;
  return nullptr;
}

}  // namespace pontata
