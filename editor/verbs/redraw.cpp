#include "editor/verbs/line_output.h"
#include "editor/verbs/moved_report.h"
#include "editor/verbs/points_file.h"

namespace pontata {

namespace {

struct RedrawArguments : MoveArguments {
  std::string points;
  bool hug = false;
};

}  // namespace

VerbTask redraw_verb(Usage& usage) {
  const auto a = std::make_shared<RedrawArguments>();
  a->declare_json(usage);
  usage.needs(a->wall, "WALL", "the wall");
  usage.text_required(a->points, "--points", "FILE|-",
                      "the new course, both ends on seams: lines of `u v` or `X Y Z` in metres");
  usage.flag(a->hug, "--hug", "let the line follow the picture's contours");
  return [a] {
    return move_seams(*a, [&](const Document& doc, WallId wall, Progress* progress) -> Result<SeamsEdited> {
      const auto points = read_chart_points(a->points, *doc.wall(wall)->wall);
      if (!points) return points.problem();
      return named(redraw(doc, wall, *points, a->hug, progress), a->points);
    });
  };
}

}  // namespace pontata
