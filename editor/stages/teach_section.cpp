#include "editor/stages/teach_section.h"

#include <fmt/format.h>
#include <imgui.h>

#include "editor/stages/settings_fields.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"
#include "engine/document/record_names.h"

namespace pontata {
namespace {

std::string key_of(Subject subject) {
  return subject == Subject::none ? "rate" : "rate.of." + std::string(subject_name(subject));
}

// Two figures that tell: 0.0347, 8.3.
std::string brief(double value) { return format_number(std::stod(fmt::format("{:.3g}", value))); }

void line(Workbench& bench, const std::string& key, const std::string& unit, double value, double least, double most,
          int days) {
  ImGui::PushID(key.c_str());
  ImGui::TextWrapped("%s: %s %s", spoken_setting(key).c_str(), brief(value).c_str(), unit.c_str());
  quiet_text(fmt::format("{} to {} {}, from {} {}", brief(least), brief(most), unit, days, days == 1 ? "day" : "days")
                 .c_str());
  same_row("Use it");
  if (ImGui::SmallButton("Use it")) commit(bench, set_parameter(*bench.session.document(), key, brief(value)));
  if (ImGui::IsItemHovered()) ImGui::SetTooltip("Makes it the project's own; hours and days are planned by it then");
  control(bench, "teach." + key);
  ImGui::PopID();
}

}  // namespace

const Estimates& TeachSection::estimates(const DocumentRef& document) {
  const Air& reference = document->settings.calendar.reference;
  if (!made_ || of_ != document->written || !(reference_ == reference)) {
    made_ = estimate(document->job().diary, reference);
    of_ = document->written;
    reference_ = reference;
  }
  return *made_;
}

void TeachSection::draw(Workbench& bench) {
  const DocumentRef document = bench.session.document();
  const Estimates& e = estimates(document);
  if (e.days == 0 && e.rates.empty())
    quiet_text("Write days into the diary: rates and the window are found from them.");
  for (const RateEstimate& rate : e.rates)
    line(bench, key_of(rate.subject), "m²/h", rate.m2_per_h, rate.least, rate.most, rate.days);
  if (e.laying) line(bench, "rate.laying", "m²/h", e.laying->m2_per_h, e.laying->least, e.laying->most, e.laying->days);
  if (e.window) line(bench, "window.base", "h", e.window->base_h, e.window->least, e.window->most, e.window->days);
  for (const std::string& note : e.notes) quiet_text(note.c_str());
}

}  // namespace pontata
