#include <fmt/format.h>

#include <algorithm>

#include "editor/verbs/line_output.h"
#include "editor/verbs/points_file.h"
#include "editor/verbs/project.h"
#include "engine/document/record_names.h"
#include "engine/document/seam_edits.h"

namespace pontata {

namespace {

struct ZoneArguments : ReportArguments {
  std::string wall;
  std::optional<std::string> kind, name, points, subject_word;
  std::optional<double> rate;
  std::optional<std::uint32_t> change;

  std::optional<ZoneKind> zone_kind() const {
    if (!kind) return std::nullopt;
    return *kind == "detail" ? ZoneKind::detail : ZoneKind::keep_whole;
  }
  std::optional<Subject> subject() const { return subject_word ? subject_named(*subject_word) : std::nullopt; }
};

void tell(const ZoneArguments& a, const Zone& zone, const std::string& did) {
  print(a.json ? to_text({{"id", zone.id.value},
                          {"kind", zone_kind_name(zone.kind)},
                          {"name", zone.name},
                          {"subject", subject_name(zone.subject)}})
               : fmt::format("{} (id {}) on {}\n", did, zone.id.value, a.wall));
}

Result<Edited> changed(const ZoneArguments& a, const Document& doc) {
  const auto wall = find_wall(doc, a.wall);
  if (!wall) return wall.problem();
  const auto& zones = doc.wall(*wall)->zones;
  const ZoneId id{*a.change};
  if (std::none_of(zones.begin(), zones.end(), [&](const Zone& zone) { return zone.id == id; }))
    return Problem{fmt::format("there is no zone with the id {} on {}", id.value, a.wall), "",
                   "measure lists the zones with their ids."};
  ZoneChange change{a.zone_kind(), a.name, std::nullopt, std::nullopt, a.subject()};
  if (a.rate) change.rate_m2_per_h = a.rate;
  if (!a.points) return change_zone(doc, id, change);
  auto points = read_chart_points(*a.points, *doc.wall(*wall)->wall);
  if (!points) return points.problem();
  change.points = std::move(*points);
  return named(change_zone(doc, id, change), *a.points);
}

int run_change(const ZoneArguments& a) {
  if (!a.kind && !a.name && !a.rate && !a.points && !a.subject_word)
    return wrong_usage("zone", "--change needs what is to change: --kind, --name, --rate, --subject or --points");
  return change_project<Edited>(
      a, [&](const Document& doc, Progress*) { return changed(a, doc); },
      [&](const Edited& edited) {
        for (const Zone& zone : edited.document->wall_named(a.wall)->zones)
          if (zone.id == ZoneId{*a.change}) tell(a, zone, edited.did);
      });
}

int run(const ZoneArguments& a) {
  if (a.rate && *a.rate <= 0) return wrong_usage("zone", "--rate must be more than 0");
  if (a.change) return run_change(a);
  if (!a.points) return wrong_usage("zone", "--points is required");
  if (!a.kind) return wrong_usage("zone", "--kind is required: keep-whole or detail");
  const ZoneKind kind = *a.zone_kind();
  if (a.rate && kind != ZoneKind::detail) return wrong_usage("zone", "--rate belongs to --kind detail");
  if (a.subject_word && kind != ZoneKind::detail) return wrong_usage("zone", "--subject belongs to --kind detail");
  return change_project<Edited>(
      a,
      [&](const Document& doc, Progress*) -> Result<Edited> {
        const auto wall = find_wall(doc, a.wall);
        if (!wall) return wall.problem();
        const auto points = read_chart_points(*a.points, *doc.wall(*wall)->wall);
        if (!points) return points.problem();
        return named(
            add_zone(doc, *wall, kind, *points, a.name.value_or(""), a.rate, a.subject().value_or(Subject::none)),
            *a.points);
      },
      [&](const Edited& edited) { tell(a, edited.document->wall_named(a.wall)->zones.back(), edited.did); });
}

}  // namespace

VerbTask zone_verb(Usage& usage) {
  const auto a = std::make_shared<ZoneArguments>();
  a->declare_json(usage);
  usage.needs(a->wall, "WALL", "the wall it lies on");
  usage.choice(a->kind, "--kind", {"keep-whole", "detail"}, "no seam may enter it, or it has its own painting rate");
  usage.number(a->rate, "--rate", "detail: square metres painted in an hour there");
  usage.choice(a->subject_word, "--subject", {"none", "faces", "drapery", "architecture", "background"},
               "detail: what is painted there; without a rate of its own the zone goes by that of its subject");
  usage.text(a->name, "--name", "TEXT", "what it is called");
  usage.text(a->points, "--points", "FILE|-",
             "closed outline: lines of `u v` or `X Y Z` in metres; required but with --change");
  usage.may_take_id(a->change, "--change",
                    "id of a zone that is there, to be given another kind, name, rate or outline");
  return [a] { return run(*a); };
}

}  // namespace pontata
