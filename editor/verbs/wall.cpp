#include <fmt/format.h>

#include <array>

#include "editor/verbs/project.h"
#include "engine/base/units.h"
#include "engine/document/record_names.h"

namespace pontata {

namespace {

struct WallArguments : ReportArguments {
  std::string name;
  std::optional<std::string> shape, scan, unit, up;
  std::array<std::optional<double>, 5> measures;
  std::optional<Vec3> at;
  std::optional<double> turn;
  bool flip = false;
};
constexpr std::array<const char*, 5> kMeasureNames{"width", "height", "span", "length", "rise"};
constexpr std::array<const char*, 5> kMeasureHelp{"flat: its width", "flat: its height; apse: the height of its drum",
                                                  "barrel, dome, apse: clear width at the springing",
                                                  "barrel: its length",
                                                  "barrel, dome: height of the crown above the springing"};

// The shape asked for, or what is wrong with the asking.
Result<ShapeSpec> shape_asked(const WallArguments& a) {
  const auto kind = shape_named(*a.shape);
  if (!kind) return kind.problem();
  ShapeSpec spec;
  spec.kind = *kind;
  const auto needed = measures_of(*kind);
  for (std::size_t i = 0; i < kMeasureNames.size(); ++i) {
    const bool wanted = std::find(needed.begin(), needed.end(), kMeasureNames[i]) != needed.end();
    const std::string flag = std::string("--") + kMeasureNames[i];
    if (wanted && !a.measures[i]) return Problem{"shape " + *a.shape + " needs " + flag, "", ""};
    if (!wanted && a.measures[i]) return Problem{"shape " + *a.shape + " has no " + flag, "", ""};
    if (wanted && *a.measures[i] <= 0) return Problem{flag + " must be more than 0", "", ""};
    if (wanted) measure_of(spec, kMeasureNames[i]) = *a.measures[i];
  }
  return spec;
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
    print(to_text(json));
    return;
  }
  print(fmt::format("{}: {} m², chart {} × {} m\n", item.name, format_fixed(item.wall->metric->area(), 3),
                    format_fixed(box.width, 3), format_fixed(box.height, 3)));
  if (report)
    for (const auto& line : report->says) print("  " + line + "\n");
}

int add_shape(const WallArguments& a, const Placement3& placement) {
  if (a.unit || a.up || a.flip) return wrong_usage("wall", "--unit, --up and --flip belong to --scan");
  const auto spec = shape_asked(a);
  if (!spec) return wrong_usage("wall", spec.problem().message());
  return change_project<Edited>(
      a, [&](const Document& doc, Progress*) { return add_shape_wall(doc, a.name, *spec, placement); },
      [&](const Edited& edited) { tell(a, edited); }, {true, {}});
}

int add_scan(const WallArguments& a, const Placement3& placement) {
  for (std::size_t i = 0; i < kMeasureNames.size(); ++i)
    if (a.measures[i]) return wrong_usage("wall", std::string("--") + kMeasureNames[i] + " belongs to --shape");
  ScanOptions options;
  options.y_up = a.up.value_or("y") == "y";
  options.flip = a.flip;
  options.placement = placement;
  return change_project<Edited>(
      a,
      [&](const Document& doc, Progress* progress) {
        return add_scan_wall(doc, a.name, *a.scan, a.unit.value_or("m"), options, progress);
      },
      [&](const Edited& edited) { tell(a, edited); }, {true, {}});
}

int run(const WallArguments& a) {
  if (a.shape.has_value() == a.scan.has_value()) return wrong_usage("wall", "give either --shape or --scan");
  Placement3 placement;
  if (a.at) placement.at = *a.at;
  if (a.turn) placement.turn_deg = *a.turn;
  return a.shape ? add_shape(a, placement) : add_scan(a, placement);
}

}  // namespace

VerbTask wall_verb(Usage& usage) {
  const auto a = std::make_shared<WallArguments>();
  a->declare_json(usage);
  usage.needs(a->name, "NAME", "what the wall is called");
  usage.text(a->shape, "--shape", "flat|barrel|dome|apse", "a wall of this shape");
  for (std::size_t i = 0; i < kMeasureNames.size(); ++i)
    usage.length(a->measures[i], std::string("--") + kMeasureNames[i], kMeasureHelp[i]);
  usage.text(a->scan, "--scan", "FILE", "a wall from a scan, .glb or .gltf");
  usage.choice(a->unit, "--unit", {"mm", "cm", "m", "ft", "in"}, "the scan's unit (glTF files are in metres)");
  usage.choice(a->up, "--up", {"y", "z"}, "the scan's upward axis (glTF: y)");
  usage.flag(a->flip, "--flip", "the painter stands on the other side of the scan");
  usage.place3(a->at, "--at", "where the wall's own origin stands in the building");
  usage.angle(a->turn, "--turn", "turned about the vertical, counter-clockwise from above");
  return [a] { return run(*a); };
}

}  // namespace pontata
