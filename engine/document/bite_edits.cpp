// Outlines over giornate that are there already.
#include <fmt/format.h>

#include "engine/document/drawn_line.h"
#include "engine/document/edit_parts.h"
#include "engine/document/giornata_records.h"
#include "engine/document/seam_edits.h"
#include "engine/seams/bite.h"

namespace pontata {

namespace {

// The giornata it is added to, or the one to be made.
Result<GiornataId> taker(const Document& doc, const WallItem& item, const BiteChoice& choice) {
  if (!choice.into) {
    if (const auto good = check_giornata_name(choice.name); !good) return good.problem();
    return next_giornata(doc);
  }
  const auto into = giornata_of(doc, *choice.into);
  if (!into) return into.problem();
  if ((*into)->wall != item.id)
    return Problem{fmt::format("giornata {} lies on another wall", label_of(**into)), item.name,
                   "Name a giornata of this wall."};
  if (const auto free = check_free(doc, *choice.into); !free) return free.problem();
  return *choice.into;
}

Result<Bite> bite_of(const Document& doc, const WallItem& item, const std::vector<Ring>& rings, GiornataId id,
                     bool is_new) {
  std::uint32_t last = next_giornata(doc).value - (is_new ? 0 : 1);
  const auto next_id = [&] { return GiornataId{++last}; };
  const auto name = [&](GiornataId g) { return "giornata " + label_of(*doc.giornata(g)); };
  return take_bite(item.network, rings, id, next_id, item.wall->metric->meter(), item.wall->chart.get(),
                   held_seams(doc), name);
}

Result<BiteEdited> bite_line(const Document& doc, const WallItem& item, const HuggedLine& line,
                             const BiteChoice& choice) {
  const auto id = taker(doc, item, choice);
  if (!id) return id.problem();
  if (line.line.size() < 3) return Problem{"an outline needs at least 3 points", item.name, "Give more points."};
  const auto rings = enclosed(item, line.line);
  if (!rings) return rings.problem();
  auto bite = bite_of(doc, item, *rings, *id, !choice.into);
  if (!bite) return bite.problem();
  auto next = with_network(doc, item, std::move(bite->network));
  if (!choice.into) add_giornata(*next, item.id, choice.name);
  BiteEdited edited;
  for (const Bite::Part& part : bite->parts) edited.parts.push_back(add_part(*next, part.of).id);
  const Giornata& g = *next->giornata(*id);
  edited.id = *id;
  edited.number = g.number;
  edited.area_m2 = bite->area_m2;
  edited.dropped = std::move(bite->dropped);
  edited.overlap_given_up = bite->overlap_given_up;
  edited.line = line;
  for (const Bite::Taken& t : bite->taken) edited.taken.push_back({t.from, t.area_m2});
  edited.did = choice.into ? fmt::format("Giornata {} enlarged", label_of(g))
                           : fmt::format("Outline of giornata {}", label_of(g));
  edited.document = std::move(next);
  return edited;
}

}  // namespace

Result<BiteEdited> draw_over(const Document& doc, WallId wall, const std::vector<ChartPoint>& points, bool hugged,
                             const BiteChoice& choice, Progress* progress) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  if (const auto id = taker(doc, **item, choice); !id) return id.problem();  // before a long search
  if (!hugged) return bite_line(doc, **item, straight_line(**item, points, true), choice);
  if (points.size() < 3) return Problem{"an outline needs at least 3 points", (*item)->name, "Give more points."};
  const auto line = hug_line(doc, wall, points, true, progress);
  if (!line) return line.problem();
  return bite_line(doc, **item, *line, choice);
}

Result<BiteEdited> commit_over(const Document& doc, WallId wall, const HuggedLine& line, const BiteChoice& choice) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  return bite_line(doc, **item, line, choice);
}

}  // namespace pontata
