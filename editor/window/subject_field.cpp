#include "editor/window/subject_field.h"

#include <imgui.h>

#include <array>
#include <string>

#include "editor/window/fields.h"
#include "engine/document/record_names.h"

namespace pontata {

namespace {

constexpr std::array<const char*, kSubjects> kSubjectWords{"Nothing of these", "Faces and hands", "Drapery",
                                                           "Architecture", "Background"};

}  // namespace

bool subject_field(Workbench& bench, const char* name, Subject& subject) {
  const auto now = static_cast<std::size_t>(subject);
  field_name("Painted there");
  ImGui::SetNextItemWidth(-1);
  const bool open = ImGui::BeginCombo("##subject", kSubjectWords[now]);
  control(bench, name);
  bool changed = false;
  if (!open) return changed;
  for (std::size_t i = 0; i < kSubjects; ++i) {
    if (ImGui::Selectable(kSubjectWords[i], i == now) && i != now) subject = static_cast<Subject>(i), changed = true;
    control(bench, std::string(name) + "." + std::string(subject_name(static_cast<Subject>(i))));
  }
  ImGui::EndCombo();
  return changed;
}

}  // namespace pontata
