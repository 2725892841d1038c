#include "editor/stages/levelling.h"

#include <fmt/format.h>
#include <imgui.h>

#include <filesystem>

#include "editor/verbs/output_files.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"

namespace pontata {

namespace {

bool same(const LevelSettings& a, const LevelSettings& b) {
  return a.straightedge_m == b.straightedge_m && a.least_mm == b.least_mm;
}

// First cell of a row: its number to click, or a name; true when it was clicked.
bool row_start(Workbench& bench, const LevelRow& row, const char* name) {
  ImGui::TableNextRow();
  ImGui::TableNextColumn();
  if (!row.id) {
    ImGui::TextUnformatted(name);
    return false;
  }
  const std::string label = fmt::format("{}##level{}", label_of(row), row.id.value);
  return ImGui::Selectable(label.c_str(), row.id == bench.session.chosen(), ImGuiSelectableFlags_SpanAllColumns);
}

void row_cells(const LevelRow& row) {
  for (const std::string& text :
       {shown(row.share.area_m2, 2, ""), shown(1000 * row.share.volume_m3, 1, ""), shown(row.mortar_L, 1, ""),
        shown(1000 * row.share.mean_m, 1, ""), shown(1000 * row.share.greatest_m, 1, "")}) {
    ImGui::TableNextColumn();
    ImGui::TextUnformatted(text.c_str());
  }
}

}  // namespace

bool LevellingSection::up_to_date(const Workbench& bench, const WallItem& item) const {
  const PlasterSettings& now = bench.session.document()->settings.plaster;
  return made_ && made_->item.get() == &item && same(made_->settings, now.level) && made_->waste_pct == now.waste_pct &&
         format_mix(made_->report.mix) == format_mix(now.ground.arriccio.mix);
}

void LevellingSection::draw(Workbench& bench) {
  heading("Levelling coat");
  const auto item = bench.session.wall_item();
  if (!item) return quiet_text("The arriccio that brings a scanned wall true. There is no wall yet.");
  if (!item->wall->scan)
    return quiet_text(
        fmt::format("“{}” was made from its measures: it is true already, there is nothing to level.", item->name)
            .c_str());
  const bool ready = up_to_date(bench, *item);
  if (!ready)
    quiet_text(made_ && made_->item->id == item->id
                   ? "Something has changed since the coat was worked out."
                   : "The arriccio that brings this wall true: litres, depths and high spots.");
  if (!ready && action_button("Work out the levelling coat")) work_out(bench, item);
  if (!ready) control(bench, "plaster.level");
  if (ready) show(bench);
}

void LevellingSection::work_out(Workbench& bench, std::shared_ptr<const WallItem> item) {
  const DocumentRef document = bench.session.document();
  const auto before = made_;
  bench.worker.start("Working out the levelling coat", false,
                     [this, &bench, document, item, before](Progress& progress) -> Worker::Apply {
                       const PlasterSettings& settings = document->settings.plaster;
                       std::shared_ptr<const LevelCoat> coat;
                       if (before && before->item->wall == item->wall && same(before->settings, settings.level)) {
                         coat = before->report.coat;
                       } else {
                         auto made = level_coat(*item, document->settings, &progress);
                         if (!made) {
                           if (is_cancelled(&progress)) return [] {};
                           return [&bench, problem = made.problem()] { bench.session.complain(problem); };
                         }
                         coat = *made;
                       }
                       auto made = std::make_shared<const Made>(
                           Made{item, settings.level, settings.waste_pct, level_report(*document, *item, coat)});
                       return [this, made] { made_ = made; };
                     });
}

void LevellingSection::show(Workbench& bench) {
  const LevelReport& report = made_->report;
  table(bench);
  quiet_text(fmt::format("From {} to {}; {} of lime putty and {} of sand ({}).",
                         shown(1000 * report.coat->thinnest_m, 1, "mm"), shown(1000 * report.coat->greatest_m, 1, "mm"),
                         shown(report.materials.putty_L, 0, "L"), shown(report.materials.sand_L, 0, "L"),
                         describe(made_->report.mix))
                 .c_str());
  high_spots();
  for (const std::string& note : report.notes) warn_text(note.c_str());
  if (action_button("Draw the depth map…")) ask_for_map(bench);
  control(bench, "plaster.map");
}

void LevellingSection::table(Workbench& bench) {
  constexpr auto kFlags = ImGuiTableFlags_RowBg | ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_ScrollY |
                          ImGuiTableFlags_SizingStretchSame;
  const auto& rows = made_->report.giornate;
  if (!ImGui::BeginTable("levelling", 6, kFlags, ImVec2(0, table_height(rows.size() + 2, 0.5f)))) return;
  ImGui::TableSetupScrollFreeze(0, 1);
  for (const char* column : {"No", "m²", "in place L", "to mix L", "mean mm", "deepest mm"})
    ImGui::TableSetupColumn(column, ImGuiTableColumnFlags_WidthStretch);
  ImGui::TableHeadersRow();
  for (const LevelRow& row : rows) {
    if (row_start(bench, row, "")) bench.session.choose(row.id);
    row_cells(row);
  }
  row_start(bench, made_->report.rest, "Rest");
  row_cells(made_->report.rest);
  row_start(bench, made_->report.all, "All");
  row_cells(made_->report.all);
  ImGui::EndTable();
}

void LevellingSection::high_spots() {
  constexpr std::size_t kMostShown = 8;
  const auto& spots = made_->report.coat->high_spots;
  for (std::size_t i = 0; i < std::min(spots.size(), kMostShown); ++i)
    quiet_text(fmt::format("High spot at u {}, v {}: {} too high{}", shown(spots[i].place.u, 2, ""),
                           shown(spots[i].place.v, 2, "m"), shown(1000 * spots[i].height_m, 1, "mm"),
                           spots[i].through ? ", it stands out of the fair surface" : "")
                   .c_str());
  if (spots.size() > kMostShown) quiet_text(fmt::format("and {} lower ones", spots.size() - kMostShown).c_str());
}

void LevellingSection::ask_for_map(Workbench& bench) {
  bench.browser.ask({FileBrowser::Want::save_file,
                     "Depth map",
                     {".png"},
                     made_->item->name + "-depths.png",
                     [this, &bench](const std::string& path) { write_map(bench, path); }},
                    bench.settings.folder);
}

void LevellingSection::write_map(Workbench& bench, const std::string& path) {
  const DocumentRef document = bench.session.document();
  const std::string project = bench.session.path();
  if (const auto free = may_be_written(path, project, *document); !free) return bench.session.complain(free.problem());
  bench.worker.start("Drawing the depth map", false,
                     [&bench, document, project, path, made = made_](Progress&) -> Worker::Apply {
                       const auto [width, height] = level_map_size(*made->item->wall);
                       const LevelMap map = level_map(project, *document, *made->item, made->report);
                       const Outcome done = write_level_map(map, path, width, height);
                       return [&bench, done, path] {
                         if (done)
                           bench.session.say("Depth map written: " + std::filesystem::path(path).filename().string());
                         else
                           bench.session.complain(done.problem());
                       };
                     });
}

}  // namespace pontata
