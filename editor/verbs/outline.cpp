#include <fmt/format.h>

#include "editor/verbs/line_output.h"
#include "editor/verbs/points_file.h"
#include "editor/verbs/project.h"
#include "engine/base/units.h"
#include "engine/document/seam_edits.h"

namespace pontata {

namespace {

struct OutlineArguments : ReportArguments {
  std::string wall, points;
  std::optional<std::string> name;
  std::optional<std::uint32_t> into;
  bool hug = false, take = false;
};

Json outline_json(const BiteEdited& edited) {
  Json json = {{"id", edited.id.value}, {"number", edited.number}, {"area_m2", edited.area_m2}};
  json["label"] = label_of(*edited.document->giornata(edited.id));
  json["line"] = line_json(edited.line.line);
  json["hugged"] = edited.line.share();
  json["follows"] = follows_json(edited.line);
  json["overlap_given_up"] = edited.overlap_given_up;
  json["dropped"] = Json::array();
  for (const auto& piece : edited.dropped)
    json["dropped"].push_back({{"area_m2", piece.area_m2}, {"at", {piece.at.u, piece.at.v}}});
  json["taken"] = Json::array();
  for (const auto& t : edited.taken) json["taken"].push_back({{"id", t.from.value}, {"area_m2", t.area_m2}});
  json["parts"] = Json::array();
  for (const GiornataId part : edited.parts) json["parts"].push_back(part.value);
  return json;
}

// What else the edit did, for people.
void tell_aside(const OutlineArguments& a, const BiteEdited& edited) {
  const bool over = a.take || a.into;
  const auto label = [&](GiornataId id) { return label_of(*edited.document->giornata(id)); };
  if (edited.overlap_given_up)
    note(over ? "part of the outline lies on painted giornate; it stays theirs"
              : "part of the outline lies on giornate drawn before; it stays theirs");
  for (const auto& piece : edited.dropped)
    note(fmt::format("a piece of {} m² at {},{} was cut off {}", format_fixed(piece.area_m2, 4),
                     format_fixed(piece.at.u, 3), format_fixed(piece.at.v, 3),
                     over ? "and stays as it was" : "by giornate drawn before and stays unassigned"));
  for (const auto& t : edited.taken)
    note(fmt::format("{} m² taken from giornata {}", format_fixed(t.area_m2, 4), label(t.from)));
  for (const GiornataId part : edited.parts)
    note(fmt::format("what was cut off became giornata {} (id {})", label(part), part.value));
}

void tell(const OutlineArguments& a, const BiteEdited& edited) {
  tell_aside(a, edited);
  if (a.json) {
    print(to_text(outline_json(edited)));
    return;
  }
  print(fmt::format("giornata {} (id {}): {} m²", label_of(*edited.document->giornata(edited.id)), edited.id.value,
                    format_fixed(edited.area_m2, 4)));
  if (a.hug)
    print(fmt::format(", {} % of its outline on contours and seams", format_fixed(100 * edited.line.share(), 0)));
  print("\n");
}

Result<BiteEdited> edit(const OutlineArguments& a, const Document& doc, WallId wall,
                        const std::vector<ChartPoint>& points, Progress* progress) {
  if (a.take || a.into) {
    BiteChoice choice;
    if (a.into) choice.into = GiornataId{*a.into};
    choice.name = a.name.value_or("");
    return draw_over(doc, wall, points, a.hug, choice, progress);
  }
  auto drawn = draw_outline(doc, wall, points, a.hug, a.name.value_or(""), progress);
  if (!drawn) return drawn.problem();
  BiteEdited edited;
  static_cast<OutlineEdited&>(edited) = std::move(*drawn);
  return edited;
}

int run(const OutlineArguments& a) {
  if (a.into && a.name) return wrong_usage("outline", "--name is for a new giornata; leave out --into or --name");
  return change_project<BiteEdited>(
      a,
      [&](const Document& doc, Progress* progress) -> Result<BiteEdited> {
        const auto wall = find_wall(doc, a.wall);
        if (!wall) return wall.problem();
        const auto points = read_chart_points(a.points, *doc.wall(*wall)->wall);
        if (!points) return points.problem();
        return named(edit(a, doc, *wall, *points, progress), a.points);
      },
      [&](const BiteEdited& edited) { tell(a, edited); });
}

}  // namespace

VerbTask outline_verb(Usage& usage) {
  const auto a = std::make_shared<OutlineArguments>();
  a->declare_json(usage);
  usage.needs(a->wall, "WALL", "the wall it is drawn on");
  usage.text_required(a->points, "--points", "FILE|-", "closed outline: lines of `u v` or `X Y Z` in metres");
  usage.flag(a->hug, "--hug", "let the line follow the picture's contours and existing seams");
  usage.flag(a->take, "--take", "what it covers of other giornate goes to it; painted ones keep theirs");
  usage.may_take_id(a->into, "--into", "the same, added to the giornata of this id");
  usage.text(a->name, "--name", "TEXT", "what the giornata is called");
  return [a] { return run(*a); };
}

}  // namespace pontata
