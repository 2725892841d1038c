#include "engine/document/cartoon_input.h"

#include <fmt/format.h>

#include <filesystem>

#include "engine/document/edit_parts.h"
#include "engine/document/meeting_names.h"
#include "engine/document/wall_lines.h"
#include "engine/picture/contour_lines.h"

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
  out.one_wet = row.one_wet;
  for (const FaceId face : item.network.faces_of(row.id))
    for (auto& ring : item.network.rings(face)) out.rings.push_back(std::move(ring));
  return out;
}

// Height of the springing of a wall whose shape has one.
std::optional<double> springing_of(const WallItem& item) {
  if (!item.shape) return std::nullopt;
  const ChartBox box = item.wall->chart->box();
  const auto line = wall_line(item, WallLineKind::springing, {0.5 * box.width, 0.5 * box.height}, {0, -1});
  if (!line) return std::nullopt;
  const auto place = item.wall->position(item.wall->chart->clamp(line->at));
  return place ? std::optional(place->z) : std::nullopt;
}

std::shared_ptr<const std::vector<std::vector<ChartPoint>>> lines_of(const ContourField* field, Progress* progress) {
  if (!field) return nullptr;
  return std::make_shared<const std::vector<std::vector<ChartPoint>>>(contour_lines(*field, {}, progress));
}

Result<CartoonWall> wall_of(const Document& doc, Flow& flow, const WallItem& item, Progress* progress) {
  if (const auto there = check_pictures(item); !there) return there.problem();
  CartoonWall out;
  out.name = item.name;
  out.old_plaster = item.scan && item.scan->old_plaster.value_or(false);
  out.wall = item.wall;
  out.network = &item.network;
  out.draped = flow.draped(doc, item.id);
  out.squaring_m = doc.settings.squaring.step_m;
  out.contours = lines_of(flow.contours(doc, item.id, progress).get(), progress);
  if (is_cancelled(progress)) return Problem{"stopped", "", ""};
  out.zones = item.zones;
  out.lines_step_m = doc.settings.cartoon.lines_step_m;
  out.springing_m = springing_of(item);
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
                                   const std::vector<GiornataId>& only, Progress* progress) {
  if (flow.giornate(doc)->empty()) return Problem{"there are no giornate to print", "", "Draw an outline first."};
  for (const GiornataId id : only)
    if (!doc.giornata(id))
      return Problem{fmt::format("there is no giornata with the id {}", id.value), "", "measure --json lists the ids."};
  CartoonInput input;
  input.project = std::filesystem::path(project_path).filename().string();
  input.calendar = doc.settings.calendar;
  input.plaster = doc.settings.plaster;
  input.putty = doc.job().putty;
  input.only = only;
  input.plan = doc.settings.cartoon.plan;
  for (const auto& item : doc.walls) {
    report(progress, 0, "looking for the contours of " + item->name);
    auto wall = wall_of(doc, flow, *item, progress);
    if (!wall) return wall.problem();
    input.walls.push_back(std::move(*wall));
  }
  return input;
}

}  // namespace pontata
