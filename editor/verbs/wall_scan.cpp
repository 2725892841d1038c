#include "editor/verbs/wall_scan.h"

#include <fmt/format.h>

#include "engine/base/units.h"
#include "engine/cartoon/day_sheet.h"
#include "engine/wall/scan_files.h"
#include "engine/wall/shape_cusps.h"

namespace pontata {

namespace {

Json place_json(const Vec3& p) { return Json::array({p.x, p.y, p.z}); }

Json parts_json(const ScanReport& report) {
  Json json = Json::array();
  for (const auto& part : report.parts) json.push_back({{"area_m2", part.area_m2}, {"at_m", place_json(part.at)}});
  return json;
}

Json holes_json(const ScanReport& report) {
  Json json = Json::array();
  for (const auto& hole : report.hole_list)
    json.push_back({{"rim_m", hole.rim_m}, {"at_m", place_json(hole.at)}, {"filled", hole.filled}});
  return json;
}

Json known_json(const KnownScale* known) {
  if (!known) return nullptr;
  return {{"measured_m", known->measured_m},
          {"known_m", known->known_m},
          {"factor", known->factor},
          {"warns", known->warns},
          {"says", known->says}};
}

Json wall_json(const WallItem& item, const KnownScale* known) {
  const ChartBox box = item.wall->chart->box();
  const auto stretch = item.wall->chart->stretch();
  const auto& report = item.wall->scan;
  Json json = {{"id", item.id.value},
               {"name", item.name},
               {"area_m2", item.wall->metric->area()},
               {"raw_area_m2", item.wall->metric->raw_area()},
               {"chart", {{"width_m", box.width}, {"height_m", box.height}}},
               {"stretch", {{"least", stretch.least}, {"greatest", stretch.greatest}}}};
  json["mended"] = report ? Json(report->says) : Json::array();
  json["notes"] = item.shape ? shape_notes(*item.shape) : std::vector<std::string>{};
  if (!report || !item.scan) return json;
  json["scale"] = item.scan->options.scale;
  json["known"] = known_json(known);
  json["parts"] = parts_json(*report);
  json["holes"] = holes_json(*report);
  json["old_plaster"] = item.scan->old_plaster ? Json(*item.scan->old_plaster) : Json();
  if (item.scan->old_plaster.value_or(false)) json["caution"] = old_plaster_caution();
  return json;
}

std::string old_plaster_words(const WallItem& item) {
  if (!item.scan) return "";
  if (!item.scan->old_plaster)
    return fmt::format(
        "  Does old plaster or paint lie here? Say --old-plaster yes or no; later: pontata set PROJECT "
        "\"old-plaster.{}\" yes\n",
        item.name);
  return *item.scan->old_plaster ? fmt::format("  {}\n", old_plaster_caution()) : "";
}

std::string wall_text(const WallItem& item, const KnownScale* known) {
  const ChartBox box = item.wall->chart->box();
  const auto stretch = item.wall->chart->stretch();
  std::string text = fmt::format("{}: {} m², chart {} × {} m\n", item.name, format_fixed(item.wall->metric->area(), 3),
                                 format_fixed(box.width, 3), format_fixed(box.height, 3));
  if (item.shape)
    for (const auto& line : shape_notes(*item.shape)) text += "  " + line + "\n";
  if (!item.wall->scan) return text;
  text += fmt::format("  laid flat, lengths change by {} to {} times; as scanned {} m², before smoothing\n",
                      format_fixed(stretch.least, 3), format_fixed(stretch.greatest, 3),
                      format_fixed(item.wall->metric->raw_area(), 3));
  if (known) text += "  " + known->says + "\n";
  for (const auto& line : item.wall->scan->says) text += "  " + line + "\n";
  return text + old_plaster_words(item);
}

ScanOptions options_of(const ScanArguments& scan, ScanFormat format, const Placement3& placement) {
  ScanOptions options;
  options.y_up = scan.up ? *scan.up == "y" : is_y_up(format);
  options.flip = scan.flip;
  options.placement = placement;
  if (scan.crop) options.crop = ScanOptions::Box{scan.crop->first, scan.crop->second};
  options.part_at = scan.part;
  options.fill_rim_m = scan.fill.value_or(0);
  options.cut_at = scan.cut;
  return options;
}

struct ScanAdded : Edited {
  std::optional<KnownScale> known;
};

Result<ScanAdded> added(const Document& doc, const std::string& name, const ScanArguments& scan, ScanOptions options,
                        const std::vector<Opening>& openings, Progress* progress) {
  const std::string unit = scan.unit.value_or("m");
  ScanAdded out;
  if (scan.known) {
    const auto metres = scan_unit(unit);
    if (!metres) return metres.problem();
    options.unit_m = *metres;
    const auto known = known_scale(*scan.file, options, *scan.known, *scan.from, *scan.to, progress);
    if (!known) return known.problem();
    options.scale = known->factor;
    out.known = *known;
  }
  auto edited = add_scan_wall(doc, name, *scan.file, unit, options, progress, openings);
  if (!edited) return edited.problem();
  if (scan.old_plaster)
    if (edited = set_old_plaster(*edited->document, edited->document->walls.back()->id, *scan.old_plaster == "yes");
        !edited)
      return edited.problem();
  out.document = edited->document;
  return out;
}

std::optional<std::string> wrong_scan_usage(const ScanArguments& scan) {
  if (scan.known.has_value() != (scan.from && scan.to) || scan.from.has_value() != scan.to.has_value())
    return "--known goes with --from and --to: the length measured by hand, and its two ends on the scan";
  if (scan.known && !(*scan.known > 0)) return "--known must be more than 0";
  if (scan.fill && !(*scan.fill >= 0 && *scan.fill <= 1000)) return "--fill must be a length from 0 to 1000 m";
  return std::nullopt;
}

}  // namespace

void declare_scan(Usage& usage, ScanArguments& scan) {
  usage.text(scan.file, "--scan", "FILE", "a wall from a scan: .glb, .gltf, .obj, .ply or .stl");
  usage.choice(scan.unit, "--unit", {"mm", "cm", "m", "ft", "in"},
               "the scan's unit; must be said for OBJ, PLY and STL (glTF: m)");
  usage.choice(scan.up, "--up", {"y", "z"}, "the scan's upward axis (glTF: y, others: z)");
  usage.flag(scan.flip, "--flip", "the painter stands on the other side of the scan");
  usage.length(scan.known, "--known",
               "a distance measured by hand, straight, between --from and --to: rescales the scan");
  usage.place3(scan.from, "--from", "one end of --known, as address shows it on the scan before it is rescaled");
  usage.place3(scan.to, "--to", "the other end");
  usage.box(scan.crop, "--crop",
            "keep what lies in this box; metres in the scan's own frame, Z up, before --at and --turn");
  usage.place3(scan.part, "--part", "the connected part of the scan nearest to here is the wall (else the largest)");
  usage.length(scan.fill, "--fill", "fill holes with a rim up to this long; others stay openings");
  usage.place3(scan.cut, "--cut", "where a wall that closes round itself is cut open");
  usage.choice(scan.old_plaster, "--old-plaster", {"yes", "no"}, "does old plaster or paint lie here?");
}

std::optional<std::string> scan_flag_given(const ScanArguments& scan) {
  const std::pair<const char*, bool> given[] = {{"--unit", scan.unit.has_value()},
                                                {"--up", scan.up.has_value()},
                                                {"--flip", scan.flip},
                                                {"--known", scan.known.has_value()},
                                                {"--from", scan.from.has_value()},
                                                {"--to", scan.to.has_value()},
                                                {"--crop", scan.crop.has_value()},
                                                {"--part", scan.part.has_value()},
                                                {"--fill", scan.fill.has_value()},
                                                {"--cut", scan.cut.has_value()},
                                                {"--old-plaster", scan.old_plaster.has_value()}};
  for (const auto& [flag, is_given] : given)
    if (is_given) return flag;
  return std::nullopt;
}

int add_scan(const ReportArguments& a, const std::string& name, const ScanArguments& scan, const Placement3& placement,
             const std::vector<Opening>& openings) {
  if (const auto wrong = wrong_scan_usage(scan)) return wrong_usage("wall", *wrong);
  const auto format = scan_format(*scan.file);
  if (!format) return fail(format.problem(), a.project);
  if (!scan.unit && !states_unit(*format))
    return wrong_usage("wall", fmt::format("{}: {} files state no unit: say --unit mm, cm, m, ft or in", *scan.file,
                                           format_name(*format)));
  const ScanOptions options = options_of(scan, *format, placement);
  return change_project<ScanAdded>(
      a, [&](const Document& doc, Progress* progress) { return added(doc, name, scan, options, openings, progress); },
      [&](const ScanAdded& edited) { tell_wall(edited, a.json, edited.known ? &*edited.known : nullptr); }, {true, {}});
}

void tell_wall(const Edited& edited, bool json, const KnownScale* known) {
  const WallItem& item = *edited.document->walls.back();
  print(json ? to_text(wall_json(item, known)) : wall_text(item, known));
}

}  // namespace pontata
