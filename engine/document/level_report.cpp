#include "engine/document/level_report.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <tuple>

namespace pontata {

namespace {

LevelRow row_of(const LevelShare& share, const PlasterSettings& settings) {
  LevelRow row{.id = share.id, .name = {}, .share = share};
  row.mortar_L = 1000 * share.volume_m3 * (1 + settings.waste_pct / 100);
  row.mortar_kg = row.mortar_L * kMortarDensity;
  return row;
}

// A place well inside the largest face of a giornata.
ChartPoint label_in(const Network& network, GiornataId id) {
  const auto faces = network.faces_of(id);
  const auto largest = std::max_element(
      faces.begin(), faces.end(), [&](FaceId a, FaceId b) { return network.sums(a).area < network.sums(b).area; });
  return largest == faces.end() ? ChartPoint{} : label_place(network.rings(*largest));
}

}  // namespace

Result<std::shared_ptr<const LevelCoat>> level_coat(const WallItem& item, const Settings& settings,
                                                    Progress* progress) {
  auto coat = level_wall(*item.wall, settings.plaster.level, item.name, progress);
  if (!coat) return coat.problem();
  return std::make_shared<const LevelCoat>(std::move(*coat));
}

LevelReport level_report(const Document& doc, const WallItem& item, std::shared_ptr<const LevelCoat> coat) {
  const PlasterSettings& settings = doc.settings.plaster;
  LevelReport report;
  report.shares = level_shares(*item.wall, *coat, item.network, doc.giornate);
  for (const LevelShare& share : report.shares.giornate) {
    LevelRow row = row_of(share, settings);
    const Giornata& g = *doc.giornata(share.id);
    row.number = g.number, row.part = g.part, row.name = g.name;
    report.giornate.push_back(std::move(row));
  }
  std::stable_sort(report.giornate.begin(), report.giornate.end(), [](const LevelRow& a, const LevelRow& b) {
    return std::tie(a.number, a.part) < std::tie(b.number, b.part);
  });
  report.rest = row_of(report.shares.rest, settings);
  report.all = row_of({.id = {},
                       .area_m2 = coat->area_m2,
                       .volume_m3 = coat->total_m3,
                       .mean_m = coat->mean_m,
                       .greatest_m = coat->greatest_m},
                      settings);
  report.mix = settings.ground.arriccio.mix;
  report.materials = materials_for(report.all.mortar_L, report.mix, settings);
  report.notes = level_notes(*coat, settings.level, item.scan ? item.scan->old_plaster : std::nullopt);
  report.coat = std::move(coat);
  return report;
}

LevelMap level_map(const std::string& project_path, const Document& doc, const WallItem& item,
                   const LevelReport& report) {
  LevelMap map;
  map.project = std::filesystem::path(project_path).filename().string();
  if (map.project.empty()) map.project = "New project";
  map.wall_name = item.name;
  map.wall = item.wall.get();
  map.coat = report.coat.get();
  map.settings = doc.settings.plaster.level;
  map.old_plaster = !item.scan || item.scan->old_plaster.value_or(true);
  for (const LevelRow& row : report.giornate) {
    LevelMapGiornata g{row.number, row.part, 1000 * row.share.volume_m3, {}, label_in(item.network, row.id)};
    for (const FaceId face : item.network.faces_of(row.id))
      for (auto& ring : item.network.rings(face)) g.rings.push_back(std::move(ring));
    map.giornate.push_back(std::move(g));
  }
  return map;
}

std::pair<int, int> level_map_size(const ChartedWall& wall, int longer) {
  // The legend's column and the title take about 80 by 55 of 340 mm.
  const ChartBox box = wall.chart->box();
  const double proportion = std::clamp(box.height / box.width, 0.05, 20.0);
  const double map_width = std::min(258.0, 285 / proportion);
  const double width = map_width + 82, height = std::max(map_width * proportion, 120.0) + 55;
  const double scale = longer / std::max(width, height);
  return {static_cast<int>(std::lround(width * scale)), static_cast<int>(std::lround(height * scale))};
}

}  // namespace pontata
