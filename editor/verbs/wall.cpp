#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "editor/verbs/opening_text.h"
#include "editor/verbs/project.h"
#include "editor/verbs/wall_scan.h"
#include "engine/base/units.h"

namespace pontata {

namespace {

struct WallArguments : ReportArguments {
  std::string name;
  std::optional<std::string> shape;
  ScanArguments scan;
  std::vector<std::optional<double>> measures = std::vector<std::optional<double>>(shape_measures().size());
  std::optional<Vec3> at;
  std::optional<double> turn;
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

int add_shape(const WallArguments& a, const Placement3& placement, const std::vector<Opening>& openings) {
  if (const auto flag = scan_flag_given(a.scan)) return wrong_usage("wall", *flag + " belongs to --scan");
  const auto spec = shape_asked(a);
  if (!spec) return wrong_usage("wall", spec.problem().message());
  return change_project<Edited>(
      a, [&](const Document& doc, Progress*) { return add_shape_wall(doc, a.name, *spec, placement, openings); },
      [&](const Edited& edited) { tell_wall(edited, a.json, nullptr); }, {true, {}});
}

int add_scan(const WallArguments& a, const Placement3& placement, const std::vector<Opening>& openings) {
  for (std::size_t i = 0; i < a.measures.size(); ++i)
    if (a.measures[i]) return wrong_usage("wall", flag_of(shape_measures()[i]) + " belongs to --shape");
  return add_scan(a, a.name, a.scan, placement, openings);
}

int run(const WallArguments& a) {
  if (a.shape.has_value() == a.scan.file.has_value()) return wrong_usage("wall", "give either --shape or --scan");
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
  declare_scan(usage, a->scan);
  usage.place3(a->at, "--at", "where the wall's own origin stands in the building");
  usage.angle(a->turn, "--turn", "turned about the vertical, counter-clockwise from above");
  usage.texts(a->openings, "--opening", "rect:U,V,W,H|arched:U,V,W,H|round:U,V,D|free:FILE",
              "a door or window cut out; may be given several times");
  return [a] { return run(*a); };
}

}  // namespace pontata
