// Edits that draw on the wall: outlines and divisions.
#include <fmt/format.h>

#include "engine/document/drawn_line.h"
#include "engine/document/edit_parts.h"
#include "engine/document/edits.h"
#include "engine/document/giornata_records.h"

namespace pontata {

namespace {

Result<OutlineEdited> insert_line(const Document& doc, const WallItem& item, const HuggedLine& line,
                                  const std::string& name) {
  if (const auto good = check_giornata_name(name); !good) return good.problem();
  if (line.line.size() < 3) return Problem{"an outline needs at least 3 points", item.name, "Give more points."};
  const auto rings = enclosed(item, line.line);
  if (!rings) return rings.problem();
  const GiornataId id = next_giornata(doc);
  auto inserted = insert_outlines(item.network, *rings, id, item.wall->metric->meter(), item.wall->chart.get());
  if (!inserted) return inserted.problem();
  OutlineEdited edited;
  edited.id = id;
  edited.area_m2 = inserted->area_m2;
  edited.dropped = std::move(inserted->dropped);
  edited.overlap_given_up = inserted->overlap_given_up;
  edited.line = line;
  auto next = with_network(doc, item, std::move(inserted->network));
  const Giornata& made = add_giornata(*next, item.id, name);
  edited.number = made.number;
  edited.document = std::move(next);
  edited.did = "Outline of giornata " + label_of(made);
  return edited;
}

}  // namespace

Result<HuggedLine> hug_line(const Document& doc, WallId wall, const std::vector<ChartPoint>& points, bool closed,
                            Progress* progress) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  const std::size_t least = closed ? 3 : 2;
  if (points.size() < least)
    return Problem{fmt::format("a line to hug needs at least {} points", least), (*item)->name, "Give more points."};
  const auto pieces = led(**item, points, closed);
  if (!pieces) return pieces.problem();
  return hug_on(doc, **item, *pieces, closed, progress);
}

Result<OutlineEdited> draw_outline(const Document& doc, WallId wall, const std::vector<ChartPoint>& points, bool hugged,
                                   const std::string& name, Progress* progress) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  if (!hugged) return insert_line(doc, **item, straight_line(**item, points, true), name);
  if (points.size() < 3) return Problem{"an outline needs at least 3 points", (*item)->name, "Give more points."};
  const auto line = hug_line(doc, wall, points, true, progress);
  if (!line) return line.problem();
  return insert_line(doc, **item, *line, name);
}

Result<OutlineEdited> commit_outline(const Document& doc, WallId wall, const HuggedLine& line,
                                     const std::string& name) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  return insert_line(doc, **item, line, name);
}

Result<DivideEdited> divide(const Document& doc, GiornataId id, const std::vector<ChartPoint>& points, bool hugged,
                            Progress* progress) {
  const auto found = giornata_of(doc, id);
  if (!found) return found.problem();
  if (const auto free = check_free(doc, id); !free) return free.problem();
  const WallItem& item = *doc.wall((*found)->wall);
  if (points.size() < 2) return Problem{"a seam needs at least 2 points", item.name, "Give more points."};
  auto line = led(item, points, false);
  if (!line) return line.problem();
  HuggedLine drawn = straight_line(item, points, false);
  if (hugged) {
    auto along = hug_on(doc, item, *line, false, progress);
    if (!along) return along.problem();
    drawn = std::move(*along);
    line = led(item, drawn.line, false);
    if (!line) return line.problem();
  }
  const GiornataId made = next_giornata(doc);
  auto network = divide_giornata(item.network, id, *line, made, item.wall->metric->meter(), item.wall->chart.get());
  if (!network) return network.problem();
  DivideEdited edited;
  edited.new_id = made;
  auto next = with_network(doc, item, std::move(*network));
  edited.new_number = add_part(*next, id).number;
  edited.line = std::move(drawn);
  edited.document = std::move(next);
  edited.did = fmt::format("Giornata {} divided", label_of(**found));
  return edited;
}

}  // namespace pontata
