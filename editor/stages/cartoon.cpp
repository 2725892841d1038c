// Cartoon: true-size patterns on the chosen paper, key plan and day sheets.
#include "engine/cartoon/cartoon.h"

#include <imgui.h>

#include <algorithm>
#include <utility>

#include "editor/stages/cartoon_sheets.h"
#include "editor/stages/stage.h"
#include "editor/window/choosing.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/cartoon/print_doubts.h"
#include "engine/document/cartoon_input.h"
#include "engine/document/giornata_records.h"

namespace pontata {
namespace {

CartoonOptions options_for(const CartoonSettings& settings, const Paper& paper) {
  CartoonOptions options{paper, settings.overlap_mm, settings.picture_dpi, settings.relief_mm};
  options.print = settings.print;
  return options;
}

class CartoonStage final : public StagePage {
 public:
  const char* name() const override { return "Cartoon"; }
  State state(Workbench& bench) override {
    if (!report_) return {StageMark::not_started, "No cartoon written yet"};
    if (bench.session.cartoon_of != bench.session.document())
      return {StageMark::begun, "Changed since the cartoon was written"};
    return {StageMark::checked,
            std::to_string(report_->sheets) + (report_->sheets == 1 ? " sheet written" : " sheets written")};
  }
  void draw(Workbench& bench) override;

 private:
  void look(Workbench& bench);
  void write(Workbench& bench);
  void keep_printed(Workbench& bench);
  void show_report(Workbench& bench);

  SettingsFields fields_;
  CartoonSheets sheets_;
  std::string folder_;
  bool only_chosen_ = false;
  bool trial_ = false;
  std::optional<CartoonReport> report_;
};

void CartoonStage::draw(Workbench& bench) {
  quiet_text("Patterns at true size, a key plan, a sheet for each day and a book of them, as PDF.");
  fields_.draw(bench, SettingGroup::drawing,
               {"paper", "overlap", "picture", "copies", "prick", "mirrored", "lines", "plan", "relief"});
  if (ImGui::Button("Choose the folder…"))
    bench.browser.ask({FileBrowser::Want::folder,
                       "Choose the folder for the cartoon",
                       {},
                       "",
                       [this](const std::string& path) { folder_ = path; }},
                      folder_.empty() ? bench.settings.folder : folder_);
  control(bench, "cartoon.folder");
  text_field("##folder", folder_, false, -1);
  control(bench, "cartoon.path");
  const std::size_t chosen = bench.session.all_chosen().size();
  const std::string only =
      chosen > 1 ? "Only the " + std::to_string(chosen) + " chosen giornate" : "Only the chosen giornata";
  ImGui::Checkbox((only + "###only-chosen").c_str(), &only_chosen_);
  control(bench, "cartoon.only");
  ImGui::Checkbox("Trial print: numbers may still change", &trial_);
  control(bench, "cartoon.trial");
  if (ImGui::Button("Look at the sheets…")) look(bench);
  control(bench, "cartoon.look");
  sheets_.draw(bench);
  if (action_button("Write the cartoon")) write(bench);
  control(bench, "cartoon.write");
  if (report_) show_report(bench);
}

void CartoonStage::look(Workbench& bench) {
  const auto& settings = bench.session.document()->settings.cartoon;
  const auto paper = paper_named(settings.paper);
  if (!paper) return bench.session.complain(paper.problem());
  if (only_chosen_ && !bench.session.chosen())
    return bench.session.complain({"no giornata is chosen", "", "Choose one first."});
  const auto only = only_chosen_ ? bench.session.all_chosen() : std::vector<GiornataId>{};
  sheets_.ask(bench, options_for(settings, *paper), only, trial_);
}

void CartoonStage::write(Workbench& bench) {
  if (folder_.empty()) return bench.session.complain({"no folder is chosen for the cartoon", "", "Choose one first."});
  bench.session.number_in_order();
  const DocumentRef document = bench.session.document();
  const auto paper = paper_named(document->settings.cartoon.paper);
  if (!paper) return bench.session.complain(paper.problem());
  std::vector<GiornataId> only;
  if (only_chosen_) {
    if (!bench.session.chosen()) return bench.session.complain({"no giornata is chosen", "", "Choose one first."});
    only = bench.session.all_chosen();
  }
  const std::string folder = folder_, project = bench.session.path();
  const bool trial = trial_;
  bench.worker.start("Writing the cartoon", true,
                     [=, this, &bench, sheet = *paper](Progress& progress) -> Worker::Apply {
                       Flow flow;
                       auto input = cartoon_input(*document, flow, project, only, &progress);
                       if (!input) return [&bench, problem = input.problem()] { bench.session.complain(problem); };
                       input->trial = trial;
                       const auto& settings = document->settings.cartoon;
                       auto made = write_cartoon(*input, folder, options_for(settings, sheet), &progress);
                       return [this, &bench, document, folder, trial, made = std::move(made)] {
                         if (!made) return bench.session.complain(made.problem());
                         report_ = *made;
                         if (!trial) keep_printed(bench);
                         bench.session.cartoon_of =
                             bench.session.document() == document || !trial ? bench.session.document() : document;
                         bench.session.say(std::to_string(report_->sheets) + " sheets written to " + folder);
                       };
                     });
}

// Printed giornate keep their numbers from now on: an undo step, unless all of that is known already.
void CartoonStage::keep_printed(Workbench& bench) {
  std::vector<GiornataId> printed;
  bool news = !bench.session.document()->numbers_frozen;
  for (const CartoonReport::Row& row : report_->giornate)
    if (const Giornata* g = bench.session.document()->giornata(row.id)) {
      printed.push_back(row.id);
      news = news || !g->printed || g->changed;
    }
  if (news && !printed.empty()) bench.session.apply(cartoon_printed(*bench.session.document(), printed));
}

void CartoonStage::show_report(Workbench& bench) {
  constexpr auto kFlags = ImGuiTableFlags_RowBg | ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_SizingStretchSame;
  if (!ImGui::BeginTable("cartoon", 5, kFlags)) return;
  for (const auto& [column, share] :
       {std::pair{"No", 0.5f}, {"sheets", 1.0f}, {"cuts", 0.7f}, {"rim mm", 1.0f}, {"lines mm", 1.0f}})
    ImGui::TableSetupColumn(column, ImGuiTableColumnFlags_WidthStretch, share);
  ImGui::TableHeadersRow();
  std::vector<GiornataId> list;
  for (const CartoonReport::Row& row : report_->giornate) list.push_back(row.id);
  for (const CartoonReport::Row& row : report_->giornate) {
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    if (ImGui::Selectable((label_of(row) + "##" + std::to_string(row.id.value)).c_str(),
                          bench.session.is_chosen(row.id), ImGuiSelectableFlags_SpanAllColumns))
      choose_in_list(bench, row.id, list);
    for (const std::string& cell : {std::to_string(row.sheets), std::to_string(row.relief_cuts),
                                    shown(row.misfit_mm, 2, ""), shown(row.worst_line_mm, 1, "")}) {
      ImGui::TableNextColumn();
      ImGui::TextUnformatted(cell.c_str());
    }
  }
  ImGui::EndTable();
  for (const std::string& line : print_doubts(*report_, bench.session.document()->settings.cartoon.relief_mm))
    ImGui::TextWrapped("%s", line.c_str());
}

}  // namespace

std::unique_ptr<StagePage> make_cartoon_stage() { return std::make_unique<CartoonStage>(); }

}  // namespace pontata
