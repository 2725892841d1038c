#include <fmt/format.h>

#include <filesystem>

#include "editor/verbs/amounts.h"
#include "editor/verbs/project.h"
#include "engine/base/units.h"
#include "engine/cartoon/output_set.h"
#include "engine/document/level_report.h"

namespace pontata {

namespace {

constexpr const char* kCaution =
    "Lime burns eyes and skin: goggles, gloves, covered arms; rinse at once for 20 minutes, get medical help. Keep "
    "sand dust wet.";

struct LevelArguments : ReportArguments {
  std::string wall;
  std::optional<std::string> out;
  std::optional<std::pair<int, int>> size;
};

double mm(double m) { return 1000 * m; }

Json row_json(const LevelRow& row) {
  return {{"area_m2", row.share.area_m2},    {"volume_L", 1000 * row.share.volume_m3},
          {"mortar_L", row.mortar_L},        {"mortar_kg", row.mortar_kg},
          {"mean_mm", mm(row.share.mean_m)}, {"greatest_mm", mm(row.share.greatest_m)}};
}

Json giornate_json(const LevelReport& report) {
  Json list = Json::array();
  for (const LevelRow& row : report.giornate) {
    Json json = {{"id", row.id.value}, {"number", row.number}, {"label", label_of(row)}, {"name", row.name}};
    json.update(row_json(row));
    list.push_back(std::move(json));
  }
  return list;
}

Json spots_json(const LevelReport& report) {
  Json list = Json::array();
  for (std::size_t i = 0; i < report.coat->high_spots.size(); ++i) {
    const HighSpot& spot = report.coat->high_spots[i];
    const GiornataId in = report.shares.spot_of[i];
    list.push_back({{"at_m", {spot.at.x, spot.at.y, spot.at.z}},
                    {"chart", {spot.place.u, spot.place.v}},
                    {"height_mm", mm(spot.height_m)},
                    {"area_m2", spot.area_m2},
                    {"stands_out", spot.through},
                    {"giornata", in ? Json(in.value) : Json()}});
  }
  return list;
}

Json level_json(const std::string& wall, const LevelSettings& settings, const LevelReport& report) {
  const LevelCoat& coat = *report.coat;
  Json all = row_json(report.all);
  all.update(materials_json(report.materials));
  all.update({{"thinnest_mm", mm(coat.thinnest_m)},
              {"below_least_share", coat.thin_share},
              {"area_times_depth_L", 1000 * coat.flat_m3},
              {"residual_L", 1000 * report.shares.residual_m3}});
  return {{"wall", wall},
          {"straightedge_m", settings.straightedge_m},
          {"least_mm", settings.least_mm},
          {"unevenness_mm", mm(coat.roughness_m)},
          {"giornate", giornate_json(report)},
          {"rest", row_json(report.rest)},
          {"totals", all},
          {"high_spots", spots_json(report)},
          {"notes", report.notes},
          {"caution", kCaution}};
}

Table level_table(const LevelReport& report) {
  Table table{{{"id", "id"},
               {"number", "no."},
               {"name", "name", false},
               {"area_m2", "area m²"},
               {"volume_L", "in place L"},
               {"mortar_L", "mortar L"},
               {"mortar_kg", "about kg"},
               {"mean_mm", "mean mm"},
               {"greatest_mm", "deepest mm"}},
              {}};
  const auto add = [&](const LevelRow& row, Cell id, Cell number, const std::string& name) {
    table.rows.push_back({std::move(id), std::move(number), cell(name), cell(row.share.area_m2, 2),
                          cell(1000 * row.share.volume_m3, 1), cell(row.mortar_L, 1), cell(row.mortar_kg, 0),
                          cell(mm(row.share.mean_m), 1), cell(mm(row.share.greatest_m), 1)});
  };
  for (const LevelRow& row : report.giornate)
    add(row, cell(static_cast<int>(row.id.value)), cell(label_of(row)), row.name);
  add(report.rest, {"", ""}, {"", ""}, "rest");
  return table;
}

std::string spots_text(const LevelReport& report) {
  constexpr std::size_t kMostShown = 20;
  const auto& spots = report.coat->high_spots;
  std::string text;
  for (std::size_t i = 0; i < std::min(spots.size(), kMostShown); ++i)
    text += fmt::format("high spot at u {} v {}: {} mm too high{}, {} cm²\n", format_fixed(spots[i].place.u, 3),
                        format_fixed(spots[i].place.v, 3), format_fixed(mm(spots[i].height_m), 1),
                        spots[i].through ? ", it stands out of the fair surface" : "",
                        format_fixed(1e4 * spots[i].area_m2, 0));
  if (spots.size() > kMostShown) text += fmt::format("and {} lower ones\n", spots.size() - kMostShown);
  return text;
}

std::string level_text(const LevelReport& report) {
  const LevelCoat& coat = *report.coat;
  std::string text = level_table(report).text();
  text += fmt::format("together: {} L of arriccio in place, {} m² at {} mm in the mean, from {} to {} mm\n",
                      format_fixed(1000 * coat.total_m3, 1), format_fixed(coat.area_m2, 2),
                      format_fixed(mm(coat.mean_m), 1), format_fixed(mm(coat.thinnest_m), 1),
                      format_fixed(mm(coat.greatest_m), 1));
  text += fmt::format("to mix: {} L of mortar (about {} kg) from {}, {}\n", format_fixed(report.all.mortar_L, 1),
                      format_fixed(report.all.mortar_kg, 0), materials_words(report.materials), describe(report.mix));
  text += spots_text(report);
  for (const auto& line : report.notes) text += "note: " + line + "\n";
  return text + kCaution + "\n";
}

// The map's bytes, so that it is written together with the rest or not at all.
Result<FileToWrite> map_file(const LevelArguments& a, const Document& doc, const WallItem& item,
                             const LevelReport& report) {
  auto drafts = OutputSet::open(std::filesystem::temp_directory_path().string());
  if (!drafts) return drafts.problem();
  const std::string draft = drafts->add("level-map.png");
  const auto [width, height] = a.size.value_or(level_map_size(*item.wall));
  if (const auto drawn = write_level_map(level_map(a.project, doc, item, report), draft, width, height); !drawn)
    return drawn.problem();
  auto bytes = read_file(draft);
  if (!bytes) return bytes.problem();
  return FileToWrite{*a.out, std::move(*bytes)};
}

int level(const LevelArguments& a, const Document& doc, Progress* progress) {
  if (a.out)
    if (const auto free = may_be_written(*a.out, a.project, doc); !free) return fail(free.problem(), "");
  const auto id = find_wall(doc, a.wall);
  if (!id) return fail(id.problem(), a.project);
  const WallItem& item = *doc.wall(*id);
  const auto coat = level_coat(item, doc.settings, progress);
  if (!coat) return fail(coat.problem(), a.project);
  const LevelReport report = level_report(doc, item, *coat);
  std::vector<FileToWrite> files;
  if (a.out) {
    auto map = map_file(a, doc, item, report);
    if (!map) return fail(map.problem(), *a.out);
    files.push_back(std::move(*map));
  }
  const LevelSettings& settings = doc.settings.plaster.level;
  return report_all(a, doc, level_json(item.name, settings, report), level_table(report), level_text(report),
                    std::move(files));
}

int run(const LevelArguments& a) {
  if (a.size && !a.out) return wrong_usage("level", "--size is the map's: give --out MAP.png too");
  if (a.out && !a.out->ends_with(".png")) return wrong_usage("level", "--out must be a name that ends in .png");
  if (a.size) {
    const auto [least, most] = std::minmax(a.size->first, a.size->second);
    if (least < kLeastMapSide || most > 4 * least)
      return wrong_usage("level", fmt::format("--size must be {} pixels or more each way, and neither side more than "
                                              "four times the other",
                                              kLeastMapSide));
  }
  return with_report("level", a, [&](const Document& doc, Progress* progress) { return level(a, doc, progress); });
}

}  // namespace

VerbTask level_verb(Usage& usage) {
  const auto a = std::make_shared<LevelArguments>();
  a->declare_json_and_csv(usage);
  usage.needs(a->wall, "WALL", "the wall's name");
  usage.text(a->out, "--out", "MAP.png", "a map of the depths in colours, with a legend in mm");
  usage.size(a->size, "--size", "of the map in pixels (2000 on its longer side)");
  return [a] { return run(*a); };
}

}  // namespace pontata
