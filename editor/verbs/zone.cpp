#include <fmt/format.h>

#include "editor/verbs/line_output.h"
#include "editor/verbs/points_file.h"
#include "editor/verbs/project.h"

namespace pontata {

namespace {

struct ZoneArguments : ReportArguments {
  std::string wall, points;
  std::optional<std::string> kind, name;
  std::optional<double> rate;
};

int run(const ZoneArguments& a) {
  if (!a.kind) return wrong_usage("zone", "--kind is required: keep-whole or detail");
  const ZoneKind kind = *a.kind == "detail" ? ZoneKind::detail : ZoneKind::keep_whole;
  if (a.rate && kind != ZoneKind::detail) return wrong_usage("zone", "--rate belongs to --kind detail");
  if (a.rate && *a.rate <= 0) return wrong_usage("zone", "--rate must be more than 0");
  return change_project<Edited>(
      a,
      [&](const Document& doc, Progress*) -> Result<Edited> {
        const auto wall = find_wall(doc, a.wall);
        if (!wall) return wall.problem();
        const auto points = read_chart_points(a.points, *doc.wall(*wall)->wall);
        if (!points) return points.problem();
        return named(add_zone(doc, *wall, kind, *points, a.name.value_or(""), a.rate), a.points);
      },
      [&](const Edited& edited) {
        const Zone& zone = edited.document->wall_named(a.wall)->zones.back();
        print(a.json ? to_text({{"id", zone.id.value}, {"kind", *a.kind}, {"name", zone.name}})
                     : fmt::format("{} (id {}) on {}\n", edited.did, zone.id.value, a.wall));
      });
}

}  // namespace

VerbTask zone_verb(Usage& usage) {
  const auto a = std::make_shared<ZoneArguments>();
  a->declare_json(usage);
  usage.needs(a->wall, "WALL", "the wall it lies on");
  usage.choice(a->kind, "--kind", {"keep-whole", "detail"}, "no seam may enter it, or it has its own painting rate");
  usage.number(a->rate, "--rate", "detail: square metres painted in an hour there");
  usage.text(a->name, "--name", "TEXT", "what it is called");
  usage.text_required(a->points, "--points", "FILE|-", "closed outline: lines of `u v` or `X Y Z` in metres");
  return [a] { return run(*a); };
}

}  // namespace pontata
