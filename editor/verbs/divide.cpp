#include <fmt/format.h>

#include "editor/verbs/line_output.h"
#include "editor/verbs/points_file.h"
#include "editor/verbs/project.h"

namespace pontata {

namespace {

struct DivideArguments : ReportArguments {
  std::string wall, points;
  std::uint32_t id = 0;
  bool hug = false;
};

Outcome lies_on(const Document& doc, WallId wall, GiornataId id) {
  const Giornata* g = doc.giornata(id);
  if (g && g->wall == wall) return Done{};
  return Problem{fmt::format("there is no giornata with the id {} on {}", id.value, doc.wall(wall)->name), "",
                 "measure --json lists the ids."};
}

int run(const DivideArguments& a) {
  return change_project<DivideEdited>(
      a,
      [&](const Document& doc, Progress* progress) -> Result<DivideEdited> {
        const auto wall = find_wall(doc, a.wall);
        if (!wall) return wall.problem();
        if (const auto there = lies_on(doc, *wall, GiornataId{a.id}); !there) return there.problem();
        const auto points = read_chart_points(a.points, *doc.wall(*wall)->wall);
        if (!points) return points.problem();
        return named(divide(doc, GiornataId{a.id}, *points, a.hug, progress), a.points);
      },
      [&](const DivideEdited& edited) {
        const Giornata& kept = *edited.document->giornata(GiornataId{a.id});
        const Giornata& made = *edited.document->giornata(edited.new_id);
        print(a.json ? to_text({{"id", a.id},
                                {"number", kept.number},
                                {"label", label_of(kept)},
                                {"new_id", edited.new_id.value},
                                {"new_number", made.number},
                                {"new_label", label_of(made)},
                                {"follows", follows_json(edited.line)}})
                     : fmt::format("giornata {} keeps the larger part; the other is {} (id {})\n", label_of(kept),
                                   label_of(made), edited.new_id.value));
      });
}

}  // namespace

VerbTask divide_verb(Usage& usage) {
  const auto a = std::make_shared<DivideArguments>();
  a->declare_json(usage);
  usage.needs(a->wall, "WALL", "the wall");
  usage.needs_id(a->id, "ID", "the giornata's id");
  usage.text_required(a->points, "--points", "FILE|-",
                      "the new seam, both ends on the giornata's rim: lines of `u v` or `X Y Z`");
  usage.flag(a->hug, "--hug", "let the seam follow the picture's contours");
  return [a] { return run(*a); };
}

}  // namespace pontata
