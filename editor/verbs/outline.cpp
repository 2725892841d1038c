#include <fmt/format.h>

#include "editor/verbs/line_output.h"
#include "editor/verbs/points_file.h"
#include "editor/verbs/project.h"
#include "engine/base/units.h"

namespace pontata {

namespace {

struct OutlineArguments : ReportArguments {
  std::string wall, points;
  std::optional<std::string> name;
  bool hug = false;
};

Json outline_json(const OutlineEdited& edited) {
  Json json = {{"id", edited.id.value}, {"number", edited.number}, {"area_m2", edited.area_m2}};
  json["line"] = line_json(edited.line.line);
  json["hugged"] = edited.line.share();
  json["follows"] = follows_json(edited.line);
  json["overlap_given_up"] = edited.overlap_given_up;
  json["dropped"] = Json::array();
  for (const auto& piece : edited.dropped)
    json["dropped"].push_back({{"area_m2", piece.area_m2}, {"at", {piece.at.u, piece.at.v}}});
  return json;
}

void tell(const OutlineArguments& a, const OutlineEdited& edited) {
  if (edited.overlap_given_up) note("part of the outline lies on giornate drawn before; it stays theirs");
  for (const auto& piece : edited.dropped)
    note(fmt::format("a piece of {} m² at {},{} was cut off by giornate drawn before and stays unassigned",
                     format_fixed(piece.area_m2, 4), format_fixed(piece.at.u, 3), format_fixed(piece.at.v, 3)));
  if (a.json) {
    print(to_text(outline_json(edited)));
    return;
  }
  print(fmt::format("giornata {} (id {}): {} m²", edited.number, edited.id.value, format_fixed(edited.area_m2, 4)));
  if (a.hug)
    print(fmt::format(", {} % of its outline on contours and seams", format_fixed(100 * edited.line.share(), 0)));
  print("\n");
}

int run(const OutlineArguments& a) {
  return change_project<OutlineEdited>(
      a,
      [&](const Document& doc, Progress* progress) -> Result<OutlineEdited> {
        const auto wall = find_wall(doc, a.wall);
        if (!wall) return wall.problem();
        const auto points = read_chart_points(a.points, *doc.wall(*wall)->wall);
        if (!points) return points.problem();
        return named(draw_outline(doc, *wall, *points, a.hug, a.name.value_or(""), progress), a.points);
      },
      [&](const OutlineEdited& edited) { tell(a, edited); });
}

}  // namespace

VerbTask outline_verb(Usage& usage) {
  const auto a = std::make_shared<OutlineArguments>();
  a->declare_json(usage);
  usage.needs(a->wall, "WALL", "the wall it is drawn on");
  usage.text_required(a->points, "--points", "FILE|-", "closed outline: lines of `u v` or `X Y Z` in metres");
  usage.flag(a->hug, "--hug", "let the line follow the picture's contours and existing seams");
  usage.text(a->name, "--name", "TEXT", "what the giornata is called");
  return [a] { return run(*a); };
}

}  // namespace pontata
