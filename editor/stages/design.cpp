// Design: the pictures of a wall, how each lies, and what is shown over them.
#include <imgui.h>

#include <algorithm>

#include "editor/stages/design_forms.h"
#include "editor/window/commands.h"
#include "editor/window/theme.h"

namespace pontata {
namespace {

class DesignStage final : public StagePage {
 public:
  const char* name() const override { return "Design"; }
  State state(Workbench& bench) override;
  void draw(Workbench& bench) override;

 private:
  void shown_over(Workbench& bench);

  PictureList list_;
  PictureFacts facts_;
  LayForms lay_;
  SettingsFields contours_, squares_;
};

StagePage::State DesignStage::state(Workbench& bench) {
  const auto& walls = bench.session.document()->walls;
  const auto with = std::count_if(walls.begin(), walls.end(), [](const auto& w) { return !w->pictures.empty(); });
  if (with == 0) return {StageMark::not_started, "No picture yet"};
  const bool all = with == static_cast<std::ptrdiff_t>(walls.size());
  return {all ? StageMark::checked : StageMark::begun,
          std::to_string(with) + " of " + std::to_string(walls.size()) + " walls have their picture"};
}

void DesignStage::draw(Workbench& bench) {
  const auto item = bench.session.wall_item();
  if (!item) return quiet_text("Add a wall first; the pictures are laid on it.");
  list_.draw(bench, *item);
  if (ImGui::Button("Add a picture…"))
    ask_picture(bench, "Add a picture", [&bench](const std::string& path) { add_picture_file(bench, path); });
  control(bench, "design.choose");
  picture_tip(
      "A PNG, JPEG or TIFF file; or drop one on the window. It goes on top of the others and fills the wall's "
      "width at first.");
  if (const PlacedRef picture = bench.session.placed()) {
    ImGui::Spacing();
    ImGui::Separator();
    facts_.draw(bench, picture);
    ImGui::Spacing();
    ImGui::Separator();
    lay_.draw(bench, *item, picture);
  }
  ImGui::Spacing();
  ImGui::Separator();
  shown_over(bench);
}

void DesignStage::shown_over(Workbench& bench) {
  heading("Over the wall");
  ImGui::Checkbox("Show contours", &bench.views->show_contours);
  control(bench, "design.contours");
  picture_tip("The lines that Hug follows, found in all pictures as they lie on the wall.");
  contours_.draw(bench, SettingGroup::contours, {"contours."});
  ImGui::Checkbox("Show squares", &bench.views->show_squares);
  control(bench, "design.squares");
  picture_tip("Squares in the wall's own metres, for carrying a design over by eye; they are printed in the cartoon.");
  squares_.draw(bench, SettingGroup::contours, {"squaring."});
}

}  // namespace

std::unique_ptr<StagePage> make_design_stage() { return std::make_unique<DesignStage>(); }

}  // namespace pontata
