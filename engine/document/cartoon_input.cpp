#include "engine/document/cartoon_input.h"

#include <fmt/format.h>

#include <filesystem>

#include "engine/document/edit_parts.h"
#include "engine/document/meeting_names.h"

namespace pontata {

namespace {

Result<CartoonGiornata> row_of(const Document& doc, const WallItem& item, const WallFigures& figures,
                               const GiornataPlan& row) {
  const Giornata& record = *doc.giornata(row.id);
  if (!row.need) {
    Problem problem = row.need.problem();
    problem.where = "giornata " + label_of(record);
    return problem;
  }
  CartoonGiornata out;
  out.id = row.id;
  out.number = record.number;
  out.part = record.part;
  out.note = record.note;
  out.name = record.name;
  for (const auto& measure : figures.measure.giornate)
    if (measure.id == row.id) out.measure = measure;
  out.day = row.day;
  out.need = *row.need;
  out.meets_finished = row.meets_finished;
  out.stays_open = row.stays_open;
  out.open_to_rest = row.open_to_rest;
  for (const FaceId face : item.network.faces_of(row.id))
    for (auto& ring : item.network.rings(face)) out.rings.push_back(std::move(ring));
  return out;
}

Result<CartoonWall> wall_of(const Document& doc, Flow& flow, const WallItem& item) {
  if (const auto there = check_pictures(item); !there) return there.problem();
  CartoonWall out;
  out.name = item.name;
  out.old_plaster = item.scan && item.scan->old_plaster.value_or(false);
  out.wall = item.wall;
  out.network = &item.network;
  out.draped = flow.draped(doc, item.id);
  out.squaring_m = doc.settings.squaring.step_m;
  const auto figures = flow.figures(doc, item.id);
  for (const auto& row : *flow.giornate(doc)) {
    if (row.wall != item.id) continue;
    auto giornata = row_of(doc, item, *figures, row);
    if (!giornata) return giornata.problem();
    giornata->meets_walls = meeting_lines(doc, flow, row.id);
    out.giornate.push_back(std::move(*giornata));
  }
  return out;
}

}  // namespace

Result<CartoonInput> cartoon_input(const Document& doc, Flow& flow, const std::string& project_path,
                                   const std::vector<GiornataId>& only) {
  if (flow.giornate(doc)->empty()) return Problem{"there are no giornate to print", "", "Draw an outline first."};
  for (const GiornataId id : only)
    if (!doc.giornata(id))
      return Problem{fmt::format("there is no giornata with the id {}", id.value), "", "measure --json lists the ids."};
  CartoonInput input;
  input.project = std::filesystem::path(project_path).filename().string();
  input.calendar = doc.settings.calendar;
  input.plaster = doc.settings.plaster;
  input.only = only;
  for (const auto& item : doc.walls) {
    auto wall = wall_of(doc, flow, *item);
    if (!wall) return wall.problem();
    input.walls.push_back(std::move(*wall));
  }
  return input;
}

}  // namespace pontata
