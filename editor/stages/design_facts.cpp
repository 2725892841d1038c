#include <imgui.h>

#include <cmath>
#include <filesystem>

#include "editor/stages/design_forms.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"

namespace pontata {
namespace {

PixelBox shown_box(const PlacedPicture& p) {
  return p.crop.value_or(PixelBox{0, 0, 1.0 * p.size.width, 1.0 * p.size.height});
}

void change(Workbench& bench, const PlacedPicture& picture, const PictureChange& what) {
  commit_picture(bench, change_picture(*bench.session.document(), picture.id, what));
}

}  // namespace

void PictureFacts::draw(Workbench& bench, const PlacedRef& picture) {
  if (picture != followed_) {
    followed_ = picture;
    name_ = picture->name;
    const PixelBox box = shown_box(*picture);
    crop_ = {format_number(box.left), format_number(box.top), format_number(box.right), format_number(box.bottom)};
  }
  name_field(bench, *picture);
  file(bench, *picture);
  fade(bench, *picture);
  crop(bench, *picture);
}

void PictureFacts::name_field(Workbench& bench, const PlacedPicture& picture) {
  field_name("Name");
  text_field("##picture-name", name_);
  control(bench, "design.name");
  if (!left_field() || name_ == picture.name) return;
  PictureChange what;
  what.name = name_;
  change(bench, picture, what);
  followed_ = nullptr;  // where it was refused the old one is shown again
}

void PictureFacts::file(Workbench& bench, const PlacedPicture& picture) {
  const std::string leaf = std::filesystem::path(picture.path).filename().string();
  quiet_text(
      (leaf + ", " + std::to_string(picture.size.width) + " × " + std::to_string(picture.size.height) + " pixels")
          .c_str());
  picture_tip(picture.path.c_str());
  if (!picture.pixels)
    warn_text("This file cannot be read. Put it back where it was and open the project again, or change the file.");
  if (ImGui::Button("Change the file…"))
    ask_picture(bench, "Another file for " + picture.name, [&bench, id = picture.id](const std::string& path) {
      const DocumentRef document = bench.session.document();
      edit_picture(bench, "Bringing in the picture",
                   [document, id, path](Progress& progress) { return change_file(*document, id, path, &progress); });
    });
  control(bench, "design.file");
  picture_tip("Another file in its place, of the same proportions: it lies where this one does.");
}

// One step for each time the slider is held.
void PictureFacts::fade(Workbench& bench, const PlacedPicture& picture) {
  field_name("Fade");
  float percent = fading_.value_or(static_cast<float>(picture.fade * 100));
  ImGui::SliderFloat("##fade", &percent, 0, 100, "%.0f %%", ImGuiSliderFlags_AlwaysClamp);
  control(bench, "design.fade");
  const bool done = ImGui::IsItemDeactivatedAfterEdit();
  picture_tip("0 %: it shows fully; 100 %: what lies beneath shows alone. Double-click or Ctrl-click to type.");
  if (ImGui::IsItemActive())
    fading_ = percent;
  else
    fading_.reset();
  const double wanted = std::round(static_cast<double>(percent)) / 100;
  if (!done || wanted == picture.fade) return;
  PictureChange what;
  what.fade = wanted;
  change(bench, picture, what);
}

void PictureFacts::crop(Workbench& bench, const PlacedPicture& picture) {
  quiet_text("What shows of it, pixels from the upper left:");
  constexpr std::array<const char*, 4> kNames{"Left", "Top", "Right", "Bottom"};
  bool left = false;
  const float width = (ImGui::GetContentRegionAvail().x - 3 * ImGui::GetStyle().ItemSpacing.x) / 4;
  for (std::size_t i = 0; i < 4; ++i) {
    if (i > 0) ImGui::SameLine();
    ImGui::PushID(kNames[i]);
    text_field("##crop", crop_[i], false, width);
    ImGui::PopID();
    left |= left_field();
    control(bench, std::string("design.crop.") + kNames[i]);
    picture_tip((std::string(kNames[i]) + ", px").c_str());
  }
  if (ImGui::Button("Trim it in the picture (R)")) take_tool(bench, ToolKind::trim);
  control(bench, "design.trim");
  picture_tip("Shows the picture itself: drag a box, or click a free outline round what is to show.");
  if (!picture.mask.empty()) {
    same_row("No outline");
    if (ImGui::Button("No outline")) {
      PictureChange what;
      what.mask = std::vector<Vec2>();
      change(bench, picture, what);
    }
    control(bench, "design.no-mask");
  }
  if (!left) return;
  std::array<double, 4> box{};
  for (std::size_t i = 0; i < 4; ++i) {
    const auto value = parse_number(crop_[i]);
    if (!value) return bench.session.complain({value.problem().what, kNames[i], "Type a number of pixels."});
    box[i] = *value;
  }
  const PixelBox asked{box[0], box[1], box[2], box[3]}, all{0, 0, 1.0 * picture.size.width, 1.0 * picture.size.height};
  if (asked == shown_box(picture)) return;
  PictureChange what;
  what.crop = asked == all ? std::optional<PixelBox>() : std::optional(asked);
  change(bench, picture, what);
}

}  // namespace pontata
