#include "engine/document/seam_edits.h"

#include <fmt/format.h>

#include "engine/document/drawn_line.h"
#include "engine/document/edit_parts.h"
#include "engine/document/giornata_records.h"
#include "engine/seams/seam_moves.h"

namespace pontata {

namespace {

SeamNames names_of(const Document& doc) {
  return [giornate = doc.giornate](GiornataId id) { return "giornata " + label_of(giornate[id.value - 1]); };
}

// "Seam of giornata 3", "Seam between giornate 3 and 5", "Seams of giornate 3, 5 and 7".
std::string seam_words(const Document& doc, const std::vector<GiornataId>& touched) {
  std::string list;
  for (std::size_t i = 0; i < touched.size(); ++i)
    list += (i == 0 ? "" : i + 1 == touched.size() ? " and " : ", ") + label_of(doc.giornate[touched[i].value - 1]);
  if (touched.size() < 2) return "Seam of giornata " + list;
  return (touched.size() == 2 ? "Seam between giornate " : "Seams of giornate ") + list;
}

HuggedLine drawn(const WallItem& item, const std::vector<ChartPoint>& course) {
  return straight_line(item, course, false);
}

Result<SeamsEdited> edited(const Document& doc, const WallItem& item, Result<MovedSeams> moved, const char* did,
                           std::optional<HuggedLine> line = std::nullopt) {
  if (!moved) return moved.problem();
  SeamsEdited made;
  made.did = seam_words(doc, moved->touched) + did;
  made.touched = std::move(moved->touched);
  made.most_m = moved->most_m;
  made.line = line ? std::move(*line) : drawn(item, moved->course);
  made.document = with_network(doc, item, std::move(moved->network));
  return made;
}

}  // namespace

Result<SeamsEdited> nudge(const Document& doc, WallId wall, ChartPoint from, Vec2 by, double reach_m) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  const WallItem& w = **item;
  return edited(doc, w, nudge_seam(*w.wall, w.network, from, by, reach_m, held_seams(doc), names_of(doc)), " moved");
}

Result<SeamsEdited> redraw(const Document& doc, WallId wall, const std::vector<ChartPoint>& points, bool hugged,
                           Progress* progress) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  if (points.size() < 2) return Problem{"a seam needs at least 2 points", (*item)->name, "Give more points."};
  if (!hugged) return commit_redraw(doc, wall, straight_line(**item, points, false));
  // The stretch that goes draws the line no more; all else does.
  WallItem open = **item;
  if (auto without = without_stretch(*open.wall, open.network, points)) open.network = std::move(*without);
  const auto pieces = led(open, points, false);
  if (!pieces) return pieces.problem();
  const auto line = hug_on(doc, open, *pieces, false, progress);
  if (!line) return line.problem();
  return commit_redraw(doc, wall, *line);
}

Result<SeamsEdited> commit_redraw(const Document& doc, WallId wall, const HuggedLine& line) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  const WallItem& w = **item;
  auto moved = redraw_seam(*w.wall, w.network, line.line, held_seams(doc), names_of(doc));
  std::optional<HuggedLine> kept;
  if (line.hugged_m > 0) kept = line;
  return edited(doc, w, std::move(moved), " redrawn", std::move(kept));
}

Result<SeamsEdited> move_node(const Document& doc, WallId wall, ChartPoint at, ChartPoint to) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  const WallItem& w = **item;
  return edited(doc, w, move_node(*w.wall, w.network, at, to, held_seams(doc), names_of(doc)), ": node moved");
}

Result<SeamsEdited> add_node(const Document& doc, WallId wall, ChartPoint at) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  const WallItem& w = **item;
  return edited(doc, w, add_node(*w.wall, w.network, at, held_seams(doc), names_of(doc)), ": node added");
}

Result<SeamsEdited> remove_node(const Document& doc, WallId wall, ChartPoint at) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  const WallItem& w = **item;
  return edited(doc, w, remove_node(*w.wall, w.network, at, held_seams(doc), names_of(doc)), ": node taken away");
}

}  // namespace pontata
