#include "editor/verbs/line_output.h"
#include "editor/verbs/points_file.h"
#include "editor/verbs/project.h"
#include "engine/base/units.h"
#include "engine/chart/geodesic.h"

namespace pontata {

namespace {

struct TapeArguments : ReportArguments {
  std::string wall, points;
};

struct Leg {
  ChartPoint from, to;
  TapeLine line;
  double height() const { return line.way.back().z - line.way.front().z; }
};

Result<std::vector<Leg>> stretch_legs(const ChartedWall& wall, const std::vector<ChartPoint>& places) {
  if (places.size() < 2) return Problem{"a tape needs two places or more", "", "Give one place a line."};
  std::vector<Leg> legs;
  for (std::size_t i = 0; i + 1 < places.size(); ++i) {
    auto line = stretch_tape(wall, places[i], places[i + 1]);
    if (!line) return line.problem();
    legs.push_back({places[i], places[i + 1], std::move(*line)});
  }
  return legs;
}

struct Sums {
  double over = 0, through = 0, height = 0, first_to_last = 0;
};

Sums sum_up(const std::vector<Leg>& legs) {
  Sums sums;
  for (const Leg& leg : legs) sums.over += leg.line.over_m, sums.through += leg.line.straight_m;
  const Vec3 first = legs.front().line.way.front(), last = legs.back().line.way.back();
  sums.height = last.z - first.z;
  sums.first_to_last = glm::length(last - first);
  return sums;
}

Json to_json(const std::vector<Leg>& legs) {
  Json json = {{"legs", Json::array()}};
  for (const Leg& leg : legs) {
    Json one = {{"from", {leg.from.u, leg.from.v}}, {"to", {leg.to.u, leg.to.v}}};
    one["over_m"] = leg.line.over_m;
    one["through_m"] = leg.line.straight_m;
    one["height_m"] = leg.height();
    one["line"] = Json::array();
    for (const auto& piece : leg.line.chart) one["line"].push_back(line_json(piece));
    json["legs"].push_back(std::move(one));
  }
  const Sums sums = sum_up(legs);
  json["over_m"] = sums.over;
  json["through_m"] = sums.through;
  json["first_to_last_m"] = sums.first_to_last;
  json["height_m"] = sums.height;
  return json;
}

std::string to_lines(const std::vector<Leg>& legs) {
  Table table;
  table.columns = {{"leg", "leg"},
                   {"over_m", "over the surface m"},
                   {"through_m", "through the air m"},
                   {"height_m", "height between m"}};
  int number = 0;
  for (const Leg& leg : legs)
    table.rows.push_back(
        {cell(++number), cell(leg.line.over_m, 4), cell(leg.line.straight_m, 4), cell(leg.height(), 4)});
  if (legs.size() > 1) {
    const Sums sums = sum_up(legs);
    table.rows.push_back({cell("all"), cell(sums.over, 4), cell(sums.through, 4), cell(sums.height, 4)});
  }
  return table.text();
}

int tell_tape(const TapeArguments& a, const Document& doc) {
  const auto id = find_wall(doc, a.wall);
  if (!id) return fail(id.problem(), a.project);
  const ChartedWall& wall = *doc.wall(*id)->wall;
  const auto places = read_chart_points(a.points, wall);
  if (!places) return fail(places.problem(), a.points);
  const auto legs = named(stretch_legs(wall, *places), a.points);
  if (!legs) return fail(legs.problem(), a.points);
  print(a.json ? to_text(to_json(*legs)) : to_lines(*legs));
  return kExitDone;
}

}  // namespace

VerbTask tape_verb(Usage& usage) {
  const auto a = std::make_shared<TapeArguments>();
  a->declare_json(usage);
  usage.needs(a->wall, "WALL", "the wall it is laid on");
  usage.text_required(a->points, "--points", "FILE|-", "two lines or more of `u v` or `X Y Z` in metres");
  return [a] { return with_project(*a, [&](const Document& doc, Progress*) { return tell_tape(*a, doc); }); };
}

}  // namespace pontata
