// What is written down of giornate, for one or several at once.
#include <fmt/format.h>

#include "engine/base/units.h"
#include "engine/document/edit_parts.h"
#include "engine/document/record_names.h"
#include "engine/document/seam_edits.h"

namespace pontata {

namespace {

Outcome check_thickness(std::optional<double> mm) {
  if (mm && !(*mm >= 0.5 && *mm <= 50))
    return Problem{fmt::format("an intonaco of {} mm cannot be laid", format_number(*mm)), "",
                   "Give a thickness from 0.5 to 50 mm."};
  return Done{};
}

// A copy of the document in which `change` was made to each record.
template <class Change>
Result<std::shared_ptr<Document>> with_records(const Document& doc, std::span<const GiornataId> ids, Change change) {
  if (ids.empty()) return Problem{"no giornata is named", "", "Name one or several."};
  auto next = std::make_shared<Document>(doc);
  for (const GiornataId id : ids) {
    if (const auto found = giornata_of(doc, id); !found) return found.problem();
    change(next->giornate[id.value - 1]);
  }
  return next;
}

std::string named(const Document& doc, std::span<const GiornataId> ids) {
  if (ids.size() == 1) return "giornata " + label_of(*doc.giornata(ids[0]));
  return fmt::format("{} giornate", ids.size());
}

}  // namespace

Result<Edited> set_intonaco(const Document& doc, std::span<const GiornataId> ids, std::optional<double> thickness_mm) {
  if (const auto good = check_thickness(thickness_mm); !good) return good.problem();
  auto next = with_records(doc, ids, [&](Giornata& g) { g.intonaco_mm = thickness_mm; });
  if (!next) return next.problem();
  return Edited{std::move(*next), "Intonaco of " + named(doc, ids)};
}

Result<Edited> set_intonaco(const Document& doc, GiornataId id, std::optional<double> thickness_mm) {
  return set_intonaco(doc, std::vector<GiornataId>{id}, thickness_mm);
}

Result<Edited> set_state(const Document& doc, std::span<const GiornataId> ids, GiornataState state) {
  auto next = with_records(doc, ids, [&](Giornata& g) { g.state = state; });
  if (!next) return next.problem();
  return Edited{std::move(*next), fmt::format("State of {}: {}", named(doc, ids), state_name(state))};
}

Result<Edited> set_note(const Document& doc, GiornataId id, const std::string& note) {
  if (const auto good = check_note(note); !good) return good.problem();
  const std::vector<GiornataId> ids{id};
  auto next = with_records(doc, ids, [&](Giornata& g) { g.note = note; });
  if (!next) return next.problem();
  return Edited{std::move(*next), "Note of " + named(doc, ids)};
}

}  // namespace pontata
