#include "editor/tools/hug_fields.h"

#include <imgui.h>

#include <algorithm>
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
  field(bench, tool + ".width",
        {"Looks within", "hug.width", format_number(100 * hug.reach_m), "cm",
         "How far to either side of the straight way a contour or a seam is looked for"});
  field(bench, tool + ".strength",
        {"Contrast from", "hug.strength", format_number(hug.strength), "of 1",
         "A contour fainter than this is not followed: 0 takes the faintest, 1 none"});
  field(bench, tool + ".simplify",
        {"Lies within", "hug.simplify", format_number(hug.simplify_mm), "mm",
         "How far the drawn line may leave the contour so that it needs fewer nodes"});
}

void HugFields::field(Workbench& bench, const std::string& control_name, const Field& of) {
  const std::string& key = of.key;
  const bool mine = editing_ == key;
  std::string text = mine ? text_ : of.value;
  ImGui::PushID(key.c_str());
  field_name(of.name, 0.5f);
  const float unit =
      std::max(ImGui::CalcTextSize("of 1").x, ImGui::CalcTextSize("mm").x) + ImGui::GetStyle().ItemSpacing.x;
  text_field("##hug", text, false, -unit);
  if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", of.meaning);
  control(bench, control_name);
  if (ImGui::IsItemActive()) {
    editing_ = key;
    text_ = text;
  }
  const bool done = left_field();
  ImGui::SameLine();
  ImGui::TextUnformatted(of.unit);
  control(bench, control_name + ".unit");
  ImGui::PopID();
  if (done) {
    // A bare number counts in the unit that stands beside it.
    const bool bare = !text.empty() && !std::isalpha(static_cast<unsigned char>(text.back()));
    commit(bench, set_parameter(*bench.session.document(), key, bare && key == "hug.width" ? text + "cm" : text));
  }
  if (editing_ == key && (done || !ImGui::IsAnyItemActive())) editing_.clear();
}

}  // namespace pontata
