#include "editor/verbs/moved_report.h"

namespace pontata {

namespace {

struct NudgeArguments : MoveArguments {
  std::optional<ChartPoint> from, by;
  std::optional<double> reach_m;
};

}  // namespace

VerbTask nudge_verb(Usage& usage) {
  const auto a = std::make_shared<NudgeArguments>();
  a->declare_json(usage);
  usage.needs(a->wall, "WALL", "the wall");
  usage.place(a->from, "--from", "a place on the seam, within 1 cm");
  usage.place(a->by, "--by", "how far it goes: to the right and up, in the chart");
  usage.length(a->reach_m, "--reach", "how far along the seams places follow, less and less");
  return [a] {
    if (!a->from || !a->by || !a->reach_m) return wrong_usage("nudge", "Give --from, --by and --reach.");
    return move_seams(*a, [&](const Document& doc, WallId wall, Progress*) {
      return nudge(doc, wall, *a->from, {a->by->u, a->by->v}, *a->reach_m);
    });
  };
}

}  // namespace pontata
