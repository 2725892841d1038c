#include "editor/tools/hug_fields.h"

#include <imgui.h>

#include <cctype>

#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "engine/base/units.h"
#include "engine/document/settings_table.h"

namespace pontata {

void HugFields::draw(Workbench& bench, const std::string& tool) {
  ImGui::Checkbox("Hug contours and seams (H)", &bench.hug_on);
  control(bench, tool + ".hug");
  const HugOptions& hug = bench.session.document()->settings.hug;
  field(bench, tool + ".width", "Looks", "hug.width", format_number(100 * hug.reach_m), "cm to either side");
  field(bench, tool + ".strength", "Contrast", "hug.strength", format_number(hug.strength), "or more, 0 to 1");
  field(bench, tool + ".simplify", "Within", "hug.simplify", format_number(hug.simplify_mm), "mm of the contour");
}

void HugFields::field(Workbench& bench, const std::string& control_name, const char* name, const std::string& key,
                      const std::string& value, const char* unit) {
  const bool mine = editing_ == key;
  std::string text = mine ? text_ : value;
  ImGui::PushID(key.c_str());
  field_name(name, 0.25f);
  text_field("##hug", text, false, ImGui::GetContentRegionAvail().x * 0.4f);
  control(bench, control_name);
  if (ImGui::IsItemActive()) {
    editing_ = key;
    text_ = text;
  }
  const bool done = left_field();
  ImGui::SameLine();
  ImGui::TextUnformatted(unit);
  ImGui::PopID();
  if (done) {
    // A bare number counts in the unit that stands beside it.
    const bool bare = !text.empty() && !std::isalpha(static_cast<unsigned char>(text.back()));
    commit(bench, set_parameter(*bench.session.document(), key, bare && key == "hug.width" ? text + "cm" : text));
  }
  if (editing_ == key && (done || !ImGui::IsAnyItemActive())) editing_.clear();
}

}  // namespace pontata
