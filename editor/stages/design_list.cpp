#include <imgui.h>

#include "editor/stages/design_forms.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/document/by_size.h"

namespace pontata {

std::string lay_words(const ChartedWall& wall, const PlacedPicture& picture) {
  std::string words;
  if (const auto size = by_size_of(wall, picture)) {
    words = shown(size->width_m, 3, "× ") + shown(size->width_m * picture.size.height / picture.size.width, 3, "m");
    if (size->lay != BySize::Lay::unrolled) words += size->lay == BySize::Lay::plan ? ", by plan" : ", by elevation";
    return words;
  }
  if (picture.points.empty()) return "seen from a place";
  return "by " + std::to_string(picture.points.size()) + " points";
}

void picture_tip(const char* text) {
  if (!ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled)) return;
  ImGui::BeginTooltip();
  ImGui::PushTextWrapPos(ImGui::GetFontSize() * 22);
  ImGui::TextUnformatted(text);
  ImGui::PopTextWrapPos();
  ImGui::EndTooltip();
}

void PictureList::draw(Workbench& bench, const WallItem& item) {
  if (item.pictures.empty()) {
    quiet_text("No picture on this wall yet.");
    return;
  }
  std::map<PlacedRef, std::string> words;
  for (const PlacedRef& p : item.pictures) {
    const auto kept = words_.find(p);
    words[p] = kept != words_.end() ? kept->second : lay_words(*item.wall, *p);
  }
  words_ = std::move(words);
  quiet_text(item.pictures.size() == 1 ? "One picture on this wall:" : "Pictures on this wall, the topmost first:");
  for (std::size_t i = item.pictures.size(); i-- > 0;) row(bench, item, item.pictures[i]);
  order_buttons(bench, item);
}

void PictureList::row(Workbench& bench, const WallItem&, const PlacedRef& picture) {
  std::string text = picture->name + "   " + words_.at(picture);
  if (picture->fade > 0) text += "   faded " + shown(picture->fade * 100, 0, "%");
  if (!picture->pixels) text += "   file missing";
  ImGui::PushID(static_cast<int>(picture->id.value));
  if (!picture->pixels) ImGui::PushStyleColor(ImGuiCol_Text, to_im(kWarn));
  if (ImGui::Selectable(text.c_str(), picture->id == bench.session.picture()))
    bench.session.choose_picture(picture->id);
  if (!picture->pixels) ImGui::PopStyleColor();
  ImGui::PopID();
  control(bench, "design.picture." + picture->name);
  picture_tip((text + "\nClick it to choose it.").c_str());
}

void PictureList::order_buttons(Workbench& bench, const WallItem& item) {
  const PlacedRef picture = bench.session.placed();
  if (!picture) return;
  int place = 0;
  while (item.pictures[static_cast<std::size_t>(place)] != picture) ++place;
  const auto button = [&](const char* word, const char* name, int to, const char* says) {
    if (to < place) same_row(word);
    const bool can = to >= 0 && to < static_cast<int>(item.pictures.size());
    ImGui::BeginDisabled(!can);
    if (ImGui::Button(word)) commit_picture(bench, order_picture(*bench.session.document(), picture->id, to));
    ImGui::EndDisabled();
    control(bench, name);
    picture_tip(says);
  };
  button("Higher", "design.up", place + 1, "One place up: it lies over the next one.");
  button("Lower", "design.down", place - 1, "One place down.");
  same_row("Take away");
  if (ImGui::Button("Take away")) commit(bench, remove_picture(*bench.session.document(), picture->id));
  control(bench, "design.remove");
  picture_tip("Takes the picture off the wall; its file stays where it is.");
}

}  // namespace pontata
