#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "editor/verbs/opening_text.h"
#include "editor/verbs/project.h"
#include "engine/base/units.h"
#include "engine/wall/shape_cusps.h"

namespace pontata {

namespace {

struct WallArguments : ReportArguments {
  std::string name;
  std::optional<std::string> shape, scan, unit, up;
  std::vector<std::optional<double>> measures = std::vector<std::optional<double>>(shape_measures().size());
  std::optional<Vec3> at;
  std::optional<double> turn;
  bool flip = false;
  std::vector<std::string> openings;
};

std::string flag_of(const ShapeMeasure& measure) { return "--" + std::string(measure.name); }

bool needs(ShapeKind kind, std::string_view measure) {
  const auto needed = measures_of(kind);
  return std::find(needed.begin(), needed.end(), measure) != needed.end();
}

// --side of a groin or cloister is short for a span and length that are the same.
bool is_square_plan(ShapeKind kind, const WallArguments& a) {
  if (kind != ShapeKind::groin && kind != ShapeKind::cloister) return false;
  for (std::size_t i = 0; i < a.measures.size(); ++i)
    if (shape_measures()[i].name == "side" && a.measures[i]) return true;
  return false;
}

// The shape asked for, or what is wrong with the asking.
Result<ShapeSpec> shape_asked(const WallArguments& a) {
  const auto kind = shape_named(*a.shape);
  if (!kind) return kind.problem();
  ShapeSpec spec;
  spec.kind = *kind;
  const bool square = is_square_plan(*kind, a);
  for (std::size_t i = 0; i < a.measures.size(); ++i) {
    const ShapeMeasure& measure = shape_measures()[i];
    const bool of_plan = measure.name == "span" || measure.name == "length";
    const bool wanted =
        square ? measure.name == "side" || (needs(*kind, measure.name) && !of_plan) : needs(*kind, measure.name);
    const std::string flag = flag_of(measure);
    if (square && of_plan && a.measures[i]) return Problem{"give either --side or --span and --length", "", ""};
    if (wanted && !a.measures[i]) return Problem{"shape " + *a.shape + " needs " + flag, "", ""};
    if (!wanted && a.measures[i]) return Problem{"shape " + *a.shape + " has no " + flag, "", ""};
    if (wanted && *a.measures[i] <= 0) return Problem{flag + " must be more than 0", "", ""};
    if (wanted) spec.*measure.value = *a.measures[i];
  }
  if (square) spec.span = spec.length = std::exchange(spec.side, 0);
  return spec;
}

std::string shape_list() {
  std::string out;
  for (const auto kind : all_shapes()) out += (out.empty() ? "" : "|") + std::string(shape_name(kind));
  return out;
}

// "barrel, dome: height of the crown above the springing"
std::string measure_help(const ShapeMeasure& measure) {
  std::string shapes;
  for (const auto kind : all_shapes())
    if (needs(kind, measure.name)) shapes += (shapes.empty() ? "" : ", ") + std::string(shape_name(kind));
  if (measure.name == "side") shapes += ", groin, cloister";
  return shapes + ": " + std::string(measure.help);
}

std::vector<std::string> notes_of(const WallItem& item) {
  return item.shape ? shape_notes(*item.shape) : std::vector<std::string>{};
}

void tell(const WallArguments& a, const Edited& edited) {
  const WallItem& item = *edited.document->walls.back();
  const ChartBox box = item.wall->chart->box();
  const auto& report = item.wall->scan;
  if (a.json) {
    Json json = {{"id", item.id.value},
                 {"name", item.name},
                 {"area_m2", item.wall->metric->area()},
                 {"raw_area_m2", item.wall->metric->raw_area()},
                 {"chart", {{"width_m", box.width}, {"height_m", box.height}}}};
    json["mended"] = report ? Json(report->says) : Json::array();
    json["notes"] = notes_of(item);
    print(to_text(json));
    return;
  }
  print(fmt::format("{}: {} m², chart {} × {} m\n", item.name, format_fixed(item.wall->metric->area(), 3),
                    format_fixed(box.width, 3), format_fixed(box.height, 3)));
  if (report)
    for (const auto& line : report->says) print("  " + line + "\n");
  for (const auto& line : notes_of(item)) print("  " + line + "\n");
}

int add_shape(const WallArguments& a, const Placement3& placement, const std::vector<Opening>& openings) {
  if (a.unit || a.up || a.flip) return wrong_usage("wall", "--unit, --up and --flip belong to --scan");
  const auto spec = shape_asked(a);
  if (!spec) return wrong_usage("wall", spec.problem().message());
  return change_project<Edited>(
      a, [&](const Document& doc, Progress*) { return add_shape_wall(doc, a.name, *spec, placement, openings); },
      [&](const Edited& edited) { tell(a, edited); }, {true, {}});
}

int add_scan(const WallArguments& a, const Placement3& placement, const std::vector<Opening>& openings) {
  for (std::size_t i = 0; i < a.measures.size(); ++i)
    if (a.measures[i]) return wrong_usage("wall", flag_of(shape_measures()[i]) + " belongs to --shape");
  ScanOptions options;
  options.y_up = a.up.value_or("y") == "y";
  options.flip = a.flip;
  options.placement = placement;
  return change_project<Edited>(
      a,
      [&](const Document& doc, Progress* progress) {
        return add_scan_wall(doc, a.name, *a.scan, a.unit.value_or("m"), options, progress, openings);
      },
      [&](const Edited& edited) { tell(a, edited); }, {true, {}});
}

int run(const WallArguments& a) {
  if (a.shape.has_value() == a.scan.has_value()) return wrong_usage("wall", "give either --shape or --scan");
  Placement3 placement;
  if (a.at) placement.at = *a.at;
  if (a.turn) placement.turn_deg = *a.turn;
  std::vector<Opening> openings;
  for (const auto& text : a.openings) {
    const auto opening = parse_opening(text);
    if (!opening) return refuse_opening("wall", text, opening.problem());
    openings.push_back(*opening);
  }
  return a.shape ? add_shape(a, placement, openings) : add_scan(a, placement, openings);
}

}  // namespace

VerbTask wall_verb(Usage& usage) {
  const auto a = std::make_shared<WallArguments>();
  a->declare_json(usage);
  usage.needs(a->name, "NAME", "what the wall is called");
  usage.text(a->shape, "--shape", shape_list(), "a wall of this shape");
  for (std::size_t i = 0; i < a->measures.size(); ++i) {
    const ShapeMeasure& measure = shape_measures()[i];
    const auto declare = measure.is_angle ? &Usage::angle : &Usage::length;
    (usage.*declare)(a->measures[i], flag_of(measure), measure_help(measure));
  }
  usage.text(a->scan, "--scan", "FILE", "a wall from a scan, .glb or .gltf");
  usage.choice(a->unit, "--unit", {"mm", "cm", "m", "ft", "in"}, "the scan's unit (glTF files are in metres)");
  usage.choice(a->up, "--up", {"y", "z"}, "the scan's upward axis (glTF: y)");
  usage.flag(a->flip, "--flip", "the painter stands on the other side of the scan");
  usage.place3(a->at, "--at", "where the wall's own origin stands in the building");
  usage.angle(a->turn, "--turn", "turned about the vertical, counter-clockwise from above");
  usage.texts(a->openings, "--opening", "rect:U,V,W,H|arched:U,V,W,H|round:U,V,D|free:FILE",
              "a door or window cut out; may be given several times");
  return [a] { return run(*a); };
}

}  // namespace pontata
