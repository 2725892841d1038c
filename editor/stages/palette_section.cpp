#include "editor/stages/palette_section.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"
#include "engine/document/job_edits.h"
#include "engine/palette/pigments.h"

namespace pontata {
namespace {

std::vector<std::string> palette_of(const Document& document, GiornataId id) {
  const GiornataJob* job = of_giornata(document.job(), id);
  return job ? job->palette : std::vector<std::string>();
}

void tell(const Pigment& pigment) {
  std::string words = fmt::format("{} · {}\n{}: {}\n{}", pigment.common, pigment.colour_index,
                                  fastness_word(pigment.fastness), pigment.why, pigment.source);
  if (!pigment.caution.empty()) words += "\n" + std::string(pigment.caution);
  ImGui::BeginTooltip();
  ImGui::PushTextWrapPos(ImGui::GetFontSize() * 26);
  ImGui::TextUnformatted(words.c_str());
  ImGui::PopTextWrapPos();
  ImGui::EndTooltip();
}

std::string words_of(const Pigment& pigment) {
  return fmt::format("{}  ·  {}  ·  {}", pigment.common, pigment.colour_index, fastness_word(pigment.fastness));
}

bool matches(const Pigment& pigment, const std::string& sought) {
  const auto lower = [](std::string_view text) {
    std::string out(text);
    std::transform(out.begin(), out.end(), out.begin(), [](unsigned char c) { return std::tolower(c); });
    return out;
  };
  return sought.empty() || lower(words_of(pigment)).find(lower(sought)) != std::string::npos;
}

// The day of the last good entry.
std::optional<Date> painted_on(const Document& document, GiornataId id) {
  std::optional<Date> day;
  for (const DiaryRef& entry : standing_entries(document.job().diary))
    if (entry->giornata == id && !entry->failed) day = entry->date;
  return day;
}

}  // namespace

void PaletteSection::draw(Workbench& bench, GiornataId id) {
  list(bench, id);
  choice(bench, id);
}

void PaletteSection::list(Workbench& bench, GiornataId id) {
  const DocumentRef document = bench.session.document();
  const auto names = palette_of(*document, id);
  if (names.empty()) quiet_text("No pigment listed yet.");
  for (std::size_t i = 0; i < names.size(); ++i) {
    ImGui::PushID(static_cast<int>(i));
    const bool remove = ImGui::SmallButton("✗");
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("Take it off the list");
    control(bench, fmt::format("palette.remove.{}", i));
    ImGui::SameLine();
    const Pigment* pigment = pigment_named(names[i]);
    ImGui::TextUnformatted(pigment ? words_of(*pigment).c_str() : (names[i] + "  ·  not in our list").c_str());
    if (pigment && ImGui::IsItemHovered()) tell(*pigment);
    ImGui::PopID();
    if (!remove) continue;
    auto rest = names;
    rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(i));
    commit(bench, set_palette(*document, id, rest));
  }
  for (const std::string& word : palette_words(names)) warn_text(word.c_str());
}

void PaletteSection::choice(Workbench& bench, GiornataId id) {
  ImGui::SetNextItemWidth(-1);
  const bool open = ImGui::BeginCombo("##pigment", "Add a pigment…", ImGuiComboFlags_HeightLarge);
  control(bench, "palette.add");
  if (!open) return;
  if (ImGui::IsWindowAppearing()) sought_.clear(), ImGui::SetKeyboardFocusHere();
  text_field("##sought", sought_, false, -1);
  control(bench, "palette.sought");
  for (const Pigment& pigment : pigments()) {
    if (!matches(pigment, sought_)) continue;
    if (ImGui::Selectable((words_of(pigment) + "##" + std::string(pigment.common)).c_str())) {
      auto names = palette_of(*bench.session.document(), id);
      names.emplace_back(pigment.common);  // several pigments bear one Colour Index name
      commit(bench, set_palette(*bench.session.document(), id, names));
    }
    if (ImGui::IsItemHovered()) tell(pigment);
    control(bench, "pigment." + std::string(pigment.common));
  }
  ImGui::EndCombo();
}

void SeccoSection::draw(Workbench& bench, GiornataId id) {
  const DocumentRef document = bench.session.document();
  const auto painted = painted_on(*document, id);
  for (const SeccoWork& work : document->job().secco)
    if (work.giornata == id) one(bench, work, painted);
  add(bench, id);
}

void SeccoSection::one(Workbench& bench, const SeccoWork& work, const std::optional<Date>& painted) {
  const DocumentRef document = bench.session.document();
  ImGui::PushID(static_cast<int>(work.id));
  const bool remove = ImGui::SmallButton("✗");
  control(bench, fmt::format("secco.remove.{}", work.id));
  ImGui::SameLine();
  ImGui::TextWrapped("%s, %s", work.what.c_str(), work.binder.c_str());
  if (remove) commit(bench, remove_secco(*document, work.id));
  SeccoWork next = work;
  bool changed = false;
  const std::string id = fmt::format("secco.{}", work.id);
  const auto number = [&](const char* name, const char* unit, double& value) {
    if (const auto text =
            fields_.draw(bench, {id + "." + name, name, format_number(value), unit, "", FieldKind::number, {}})) {
      const auto read = parse_number(*text);
      read ? (value = *read, changed = true, void()) : bench.session.complain(read.problem());
    }
  };
  number("Area", "m²", next.area_m2);
  number("Hours", "h", next.hours);
  const std::string day = work.date ? format_date(*work.date) : "";
  if (const auto text =
          fields_.draw(bench, {id + ".day", "Day", day, "", "Empty: as early as may be", FieldKind::date, {}})) {
    const auto date = date_or_none(*text, "Day");
    date ? (next.date = *date, changed = true, void()) : bench.session.complain(date.problem());
  }
  if (painted)
    quiet_text(("Not before " + format_date(earliest_secco(*painted, document->settings.calendar.secco_days))).c_str());
  ImGui::PopID();
  if (changed && !remove) commit(bench, set_secco(*document, next));
}

void SeccoSection::add(Workbench& bench, GiornataId id) {
  fields_.edit(bench, {"secco.what", "Finished dry", "", "", "Such as: blue of the mantle"}, what_);
  fields_.edit(bench, {"secco.binder", "Binder", "", "", "Casein, egg, lime water"}, binder_);
  fields_.edit(bench, {"secco.area", "Area", "", "m²", "", FieldKind::number, {}}, area_);
  fields_.edit(bench, {"secco.hours", "Hours", "", "h", "", FieldKind::number, {}}, hours_);
  if (ImGui::Button("Add this dry work")) {
    const auto area = number_or_none(area_, "Area"), hours = number_or_none(hours_, "Hours");
    if (!area) return bench.session.complain(area.problem());
    if (!hours) return bench.session.complain(hours.problem());
    SeccoWork work;
    work.giornata = id;
    work.what = what_;
    work.binder = binder_;
    work.area_m2 = area->value_or(0);
    work.hours = hours->value_or(0);
    if (commit(bench, set_secco(*bench.session.document(), work))) what_.clear(), area_.clear(), hours_.clear();
  }
  control(bench, "secco.add");
}

}  // namespace pontata
