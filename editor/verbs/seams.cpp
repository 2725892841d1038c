#include <fmt/format.h>

#include "editor/verbs/project.h"
#include "engine/base/units.h"
#include "engine/document/record_names.h"
#include "engine/document/seam_files/bring_in.h"
#include "engine/document/seam_files/take_out.h"

namespace pontata {

namespace {

struct SeamsArguments : ReportArguments {
  std::string wall;
  std::optional<std::string> out, in, format, unit;
  std::optional<ChartPoint> at;
  std::optional<double> snap;
  std::vector<std::string> layers;
  bool hug = false, take = false, skip_bad = false;
};

bool asks_to_bring(const SeamsArguments& a) {
  return a.unit || a.at || a.snap || !a.layers.empty() || a.hug || a.take || a.skip_bad;
}

// What is wrong with the arguments together; empty when nothing is.
std::string misuse(const SeamsArguments& a) {
  if (a.out.has_value() == a.in.has_value()) return "give --out FILE to take seams out, or --in FILE to bring them in";
  if (a.out && asks_to_bring(a)) return "--out goes with --format alone";
  if (a.in && a.format) return "--format goes with --out";
  if (a.out && !a.format && !a.out->ends_with(".svg") && !a.out->ends_with(".dxf"))
    return "give a FILE that ends in .svg or .dxf, or --format";
  if (a.unit)
    if (const auto unit = drawing_unit(*a.unit); !unit) return unit.problem().message();
  return "";
}

int take_out(const SeamsArguments& a, const Document& doc) {
  const auto wall = find_wall(doc, a.wall);
  if (!wall) return fail(wall.problem(), a.project);
  if (const auto free = may_be_written(*a.out, a.project, doc); !free) return fail(free.problem(), "");
  const SeamsTaken seams = take_out_seams(doc, *doc.wall(*wall));
  const bool svg = a.format ? *a.format == "svg" : a.out->ends_with(".svg");
  const auto wrote = write_file_atomically(*a.out, svg ? seams_svg(seams) : seams_dxf(seams));
  if (!wrote) return fail(wrote.problem(), *a.out);
  const auto count = [&](std::string_view kind) {
    return std::count_if(seams.paths.begin(), seams.paths.end(), [&](const auto& path) { return path.kind == kind; });
  };
  const auto giornate = count("giornata"), openings = count("opening"), zones = count("zone");
  print(a.json ? to_text({{"file", *a.out}, {"giornate", giornate}, {"openings", openings}, {"zones", zones}})
               : fmt::format("{}: {} {}, {} {}, {} {}\n", *a.out, giornate, giornate == 1 ? "giornata" : "giornate",
                             openings, openings == 1 ? "opening" : "openings", zones, zones == 1 ? "zone" : "zones"));
  return kExitDone;
}

const Zone& zone_of(const Document& doc, ZoneId id) {
  for (const auto& item : doc.walls)
    for (const Zone& zone : item->zones)
      if (zone.id == id) return zone;
  throw std::logic_error("no zone with this id");
}

Json brought_json(const SeamsBrought& brought) {
  Json json = {
      {"giornate", Json::array()}, {"divided", Json::array()}, {"zones", Json::array()}, {"left_out", Json::array()}};
  for (const auto& made : brought.made) {
    const Giornata* g = brought.document->giornata(made.id);
    Json row = {{"id", made.id.value},
                {"number", g ? Json(g->number) : Json()},
                {"label", g ? Json(label_of(*g)) : Json()},
                {"name", g ? Json(g->name) : Json()},
                {"area_m2", made.area_m2},
                {"path", made.place},
                {"overlap_given_up", made.overlap_given_up},
                {"dropped", Json::array()}};
    for (const auto& piece : made.dropped)
      row["dropped"].push_back({{"area_m2", piece.area_m2}, {"at", {piece.at.u, piece.at.v}}});
    json["giornate"].push_back(std::move(row));
  }
  for (const auto& cut : brought.divided)
    json["divided"].push_back({{"id", cut.id.value}, {"new_id", cut.new_id.value}, {"path", cut.place}});
  for (const auto& made : brought.zones) {
    const Zone& zone = zone_of(*brought.document, made.id);
    json["zones"].push_back(
        {{"id", zone.id.value}, {"kind", zone_kind_name(zone.kind)}, {"name", zone.name}, {"path", made.place}});
  }
  for (const auto& left : brought.left_out) json["left_out"].push_back({{"path", left.where}, {"why", left.what}});
  json["notes"] = brought.notes;
  return json;
}

std::string label(const Document& doc, GiornataId id) {
  const Giornata* g = doc.giornata(id);
  if (!g) return fmt::format("id {}", id.value);
  return label_of(*g) + (g->name.empty() ? "" : " " + g->name);
}

void tell(const SeamsArguments& a, const SeamsBrought& brought) {
  const Document& doc = *brought.document;
  for (const auto& text : brought.notes) note(text);
  for (const auto& left : brought.left_out) note("left out: " + left.message());
  for (const auto& made : brought.made) {
    if (made.overlap_given_up)
      note(fmt::format("part of {} lies on giornate drawn before; it stays theirs", made.place));
    for (const auto& piece : made.dropped)
      note(fmt::format("a piece of {} m² of {} at {},{} was cut off and stays unassigned",
                       format_fixed(piece.area_m2, 4), made.place, format_fixed(piece.at.u, 3),
                       format_fixed(piece.at.v, 3)));
  }
  if (a.json) return print(to_text(brought_json(brought)));
  for (const auto& made : brought.made)
    print(fmt::format("giornata {} (id {}): {} m², from {}\n", label(doc, made.id), made.id.value,
                      format_fixed(made.area_m2, 4), made.place));
  for (const auto& cut : brought.divided)
    print(fmt::format("giornata {} (id {}) divided, the other part is {} (id {}), by {}\n", label(doc, cut.id),
                      cut.id.value, label(doc, cut.new_id), cut.new_id.value, cut.place));
  for (const auto& made : brought.zones) {
    const Zone& zone = zone_of(doc, made.id);
    print(fmt::format("{} zone{} (id {}), from {}\n", zone_kind_name(zone.kind),
                      zone.name.empty() ? "" : " " + zone.name, zone.id.value, made.place));
  }
}

int bring_in(const SeamsArguments& a) {
  DrawingOptions reading;
  if (a.unit) reading.unit_m = *drawing_unit(*a.unit);
  if (a.at) reading.at = *a.at;
  reading.layers = a.layers;
  const BringOptions options{a.hug, a.take, a.skip_bad, a.snap.value_or(BringOptions{}.snap_m)};
  return change_project<SeamsBrought>(
      a,
      [&](const Document& doc, Progress* progress) -> Result<SeamsBrought> {
        const auto wall = find_wall(doc, a.wall);
        if (!wall) return wall.problem();
        const auto drawing = read_drawing(*a.in, reading, progress);
        if (!drawing) return drawing.problem();
        auto brought = bring_in_seams(doc, *wall, *drawing, options, progress);
        if (brought) return brought;
        Problem problem = brought.problem();
        problem.where = *a.in + (problem.where.empty() ? "" : ": " + problem.where);
        return problem;
      },
      [&](const SeamsBrought& brought) { tell(a, brought); });
}

int run(const SeamsArguments& a) {
  if (const std::string wrong = misuse(a); !wrong.empty()) return wrong_usage("seams", wrong);
  if (a.in) return bring_in(a);
  return with_project(a, [&](const Document& doc, Progress*) { return take_out(a, doc); });
}

}  // namespace

VerbTask seams_verb(Usage& usage) {
  const auto a = std::make_shared<SeamsArguments>();
  a->declare_json(usage);
  usage.needs(a->wall, "WALL", "the wall");
  usage.text(a->out, "--out", "FILE", "take the seams out: outlines in metres of the chart, as SVG or DXF");
  usage.choice(a->format, "--format", {"svg", "dxf"}, "of --out, where its ending does not tell");
  usage.text(a->in, "--in", "FILE",
             "bring seams in from an SVG or DXF: outlines become giornate, open lines divide those they cross");
  usage.text(a->unit, "--unit", "mm|cm|m|in|ft|LENGTH", "what one unit of the file is on the wall (as the file says)");
  usage.place(a->at, "--at", "where the file's origin comes, of an SVG the lower left of its page (0,0)");
  usage.texts(a->layers, "--layer", "NAME", "only this layer or group (all that are shown)");
  usage.length(a->snap, "--snap", "lines nearer than this to seams that are there are brought on to them (0.5mm)");
  usage.flag(a->hug, "--hug", "let the lines follow the picture's contours and existing seams");
  usage.flag(a->take, "--take", "overlap goes to what is brought in, not to what is there");
  usage.flag(a->skip_bad, "--skip-bad", "leave out what cannot be brought in, and say so");
  return [a] { return run(*a); };
}

}  // namespace pontata
