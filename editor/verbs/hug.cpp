#include "editor/verbs/line_output.h"
#include "editor/verbs/points_file.h"
#include "editor/verbs/project.h"
#include "engine/base/units.h"

namespace pontata {

namespace {

struct HugArguments : ReportArguments {
  std::string wall, points;
  bool closed = false;
};

int hug_points(const HugArguments& a, const Document& doc, Progress* progress) {
  const auto wall = find_wall(doc, a.wall);
  if (!wall) return fail(wall.problem(), a.project);
  const auto points = read_chart_points(a.points, *doc.wall(*wall)->wall);
  if (!points) return fail(points.problem(), a.points);
  const auto line = named(hug_line(doc, *wall, *points, a.closed, progress), a.points);
  if (!line) return fail(line.problem(), a.points);
  if (a.json) {
    Json json = {{"line", line_json(line->line)}, {"hugged", line->share()}};
    json["length_m"] = line->length_m;
    json["seam_m"] = line->seam_m;
    json["follows"] = follows_json(*line);
    print(to_text(json));
    return kExitDone;
  }
  for (const auto& p : line->line) print(format_number(p.u) + " " + format_number(p.v) + "\n");
  return kExitDone;
}

}  // namespace

VerbTask hug_verb(Usage& usage) {
  const auto a = std::make_shared<HugArguments>();
  a->declare_json(usage);
  usage.needs(a->wall, "WALL", "the wall it is drawn on");
  usage.text_required(a->points, "--points", "FILE|-", "lines of `u v` or `X Y Z` in metres");
  usage.flag(a->closed, "--closed", "join the last point to the first");
  return [a] {
    return with_project(*a, [&](const Document& doc, Progress* progress) { return hug_points(*a, doc, progress); });
  };
}

}  // namespace pontata
