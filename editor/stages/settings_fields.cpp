#include <imgui.h>

#include <algorithm>

#include "editor/stages/stage.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"

namespace pontata {
namespace {

bool wanted(const std::string& key, std::initializer_list<const char*> words) {
  return words.size() == 0 ||
         std::any_of(words.begin(), words.end(), [&](const char* w) { return key.rfind(w, 0) == 0; });
}

// "window.base" -> "Window base"
std::string spoken(const std::string& key) {
  std::string words = key;
  std::replace(words.begin(), words.end(), '.', ' ');
  if (!words.empty()) words[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(words[0])));
  return words;
}

}  // namespace

void SettingsFields::draw(Workbench& bench, SettingGroup group, std::initializer_list<const char*> keys) {
  const Settings settings = bench.session.document()->settings;
  // As the last frame left it: a row further up that is entered now must not change what is typed in the row left.
  const std::string edited = editing_, typed = text_;
  for (const Setting& s : settings_keys(settings)) {
    if (s.group != group || !wanted(s.key, keys)) continue;
    const bool mine = edited == s.key;
    std::string text = mine ? typed : s.get(settings);
    ImGui::PushID(s.key.c_str());
    field_name(spoken(s.key).c_str(), 0.40f);
    text_field("##value", text, false, ImGui::GetContentRegionAvail().x * 0.62f);
    control(bench, "setting." + s.key);
    if (ImGui::IsItemActive()) {
      editing_ = s.key;
      text_ = text;
    }
    const bool done = left_field();
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", s.meaning.c_str());
    ImGui::SameLine();
    ImGui::TextUnformatted(s.unit.c_str());
    ImGui::PopID();
    if (done) commit(bench, set_parameter(*bench.session.document(), s.key, text));
    if (editing_ == s.key && (done || !ImGui::IsAnyItemActive())) editing_.clear();
  }
}

}  // namespace pontata
