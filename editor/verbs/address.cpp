#include "editor/verbs/points_file.h"
#include "editor/verbs/project.h"
#include "engine/base/units.h"

namespace pontata {

namespace {

struct AddressArguments : ReportArguments {
  std::string wall, points;
};

// u v -> X Y Z, X Y Z -> u v.
Result<std::vector<double>> other_form(const GivenPoint& given, const ChartedWall& wall, const std::string& path) {
  const auto place = chart_place(given, wall, path);
  if (!place) return place.problem();
  if (given.numbers.size() == 3) return std::vector<double>{place->u, place->v};
  const auto position = wall.position(*place);
  if (!position)
    return Problem{"this place lies outside the wall", path + " line " + std::to_string(given.line),
                   "Give places on the wall."};
  return std::vector<double>{position->x, position->y, position->z};
}

int tell_addresses(const AddressArguments& a, const Document& doc) {
  const auto id = find_wall(doc, a.wall);
  if (!id) return fail(id.problem(), a.project);
  const auto points = read_points(a.points);
  if (!points) return fail(points.problem(), a.points);
  Json json = {{"points", Json::array()}};
  std::string text;
  for (const auto& given : *points) {
    const auto numbers = other_form(given, *doc.wall(*id)->wall, a.points);
    if (!numbers) return fail(numbers.problem(), a.points);
    json["points"].push_back(*numbers);
    for (std::size_t i = 0; i < numbers->size(); ++i) text += (i > 0 ? " " : "") + format_number((*numbers)[i]);
    text += "\n";
  }
  print(a.json ? to_text(json) : text);
  return kExitDone;
}

}  // namespace

VerbTask address_verb(Usage& usage) {
  const auto a = std::make_shared<AddressArguments>();
  a->declare_json(usage);
  usage.needs(a->wall, "WALL", "the wall");
  usage.text_required(a->points, "--points", "FILE|-", "lines of `u v`, told as X Y Z, or of `X Y Z`, told as u v");
  return [a] { return with_project(*a, [&](const Document& doc, Progress*) { return tell_addresses(*a, doc); }); };
}

}  // namespace pontata
