#include "editor/verbs/moved_report.h"

#include <fmt/format.h>

#include "editor/verbs/line_output.h"
#include "engine/base/units.h"

namespace pontata {

namespace {

Json moved_json(const SeamsEdited& edited) {
  Json json = {{"giornate", Json::array()}, {"moved_mm", edited.most_m * 1000}};
  for (const GiornataId id : edited.touched)
    json["giornate"].push_back({{"id", id.value}, {"label", label_of(*edited.document->giornata(id))}});
  json["line"] = line_json(edited.line.line);
  json["hugged"] = edited.line.share();
  return json;
}

}  // namespace

int move_seams(const MoveArguments& a, const MoveEdit& edit) {
  return change_project<SeamsEdited>(
      a,
      [&](const Document& doc, Progress* progress) -> Result<SeamsEdited> {
        const auto wall = find_wall(doc, a.wall);
        if (!wall) return wall.problem();
        return edit(doc, *wall, progress);
      },
      [&](const SeamsEdited& edited) {
        print(a.json ? to_text(moved_json(edited))
                     : fmt::format("{}, by {} mm at most\n", edited.did, format_fixed(edited.most_m * 1000, 1)));
      });
}

}  // namespace pontata
