#include "editor/stages/coats_section.h"

#include <imgui.h>

#include <algorithm>

#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"

namespace pontata {
namespace {

const Setting* key_of(const std::vector<Setting>& keys, const std::string& key) {
  const auto found = std::ranges::find(keys, key, &Setting::key);
  return found == keys.end() ? nullptr : &*found;
}

// Names of the coats, as they are laid: the ground first.
std::vector<std::string> coats_of(const std::vector<Setting>& keys) {
  std::vector<std::string> names;
  for (const Setting& s : keys)
    if (s.key.starts_with("coat.") && s.key.ends_with(".mm")) names.push_back(s.key.substr(5, s.key.size() - 8));
  const auto place = [](const std::string& name) { return name == "rinzaffo" ? 0 : name == "arriccio" ? 1 : 2; };
  std::ranges::stable_sort(names, {}, place);
  return names;
}

std::string shown_name(const std::string& coat) {
  return coat == "rinzaffo" || coat == "arriccio" ? coat : "intonaco, " + coat;
}

std::string mix_in_words(const Setting* mix, const Settings& settings) {
  if (!mix) return "";
  const auto read = parse_mix(mix->get(settings));
  if (!read) return mix->get(settings);
  std::string words = format_number(read->putty) + " putty";
  for (const auto& [parts, name] :
       {std::pair{read->sand, " sand"}, {read->marble, " marble"}, {read->pozzolana, " pozzolana"}})
    if (parts > 0) words += " : " + format_number(parts) + name;
  return words + (read->basis == MixBasis::by_weight ? ", by weight" : "");
}

}  // namespace

void CoatsSection::draw(Workbench& bench) {
  const DocumentRef document = bench.session.document();
  if (of_ != document) {
    of_ = document;
    keys_ = settings_keys(document->settings);
    std::erase_if(keys_, [](const Setting& s) { return s.group != SettingGroup::plaster; });
    coats_ = coats_of(keys_);
  }
  if (std::ranges::find(coats_, chosen_) == coats_.end()) chosen_ = coats_.empty() ? "" : coats_.back();
  table(bench, keys_, document->settings);
  if (chosen_.empty()) return;
  ImGui::TextUnformatted(("The " + shown_name(chosen_)).c_str());
  const std::string mm = "coat." + chosen_ + ".mm", grain = "grain." + chosen_ + ".mm", mixed = "mix." + chosen_;
  fields_.draw_keys(bench, {mm.c_str(), grain.c_str(), mixed.c_str()});
  if (const Setting* setting = key_of(keys_, mixed)) mix(bench, Setting(*setting));
}

void CoatsSection::table(Workbench& bench, const std::vector<Setting>& keys, const Settings& settings) {
  constexpr auto kFlags = ImGuiTableFlags_RowBg | ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_SizingFixedFit;
  if (!ImGui::BeginTable("coats", 4, kFlags)) return;
  for (const char* column : {"Coat", "mm", "grain mm"}) ImGui::TableSetupColumn(column);
  ImGui::TableSetupColumn("Mix", ImGuiTableColumnFlags_WidthStretch);
  ImGui::TableHeadersRow();
  for (const std::string& coat : coats_) {
    const Setting* mm = key_of(keys, "coat." + coat + ".mm");
    const Setting* grain = key_of(keys, "grain." + coat + ".mm");
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    if (ImGui::Selectable(shown_name(coat).c_str(), coat == chosen_, ImGuiSelectableFlags_SpanAllColumns))
      chosen_ = coat;
    control(bench, "coat." + coat);
    for (const std::string& cell : {mm ? mm->get(settings) : "", grain ? grain->get(settings) : "",
                                    mix_in_words(key_of(keys, "mix." + coat), settings)}) {
      ImGui::TableNextColumn();
      fitted_text(cell);
    }
  }
  ImGui::EndTable();
}

// The parts of a mix one by one.
void CoatsSection::mix(Workbench& bench, const Setting& setting) {
  const DocumentRef document = bench.session.document();
  const auto read = parse_mix(setting.get(document->settings));
  if (!read) return;
  const auto takes = [&](const Mix& mix) {
    Settings tried = document->settings;
    return static_cast<bool>(setting.set(tried, format_mix(mix)));
  };
  const auto part = [&](const char* name, const char* words, double Mix::*of) {
    FieldRow row{setting.key + "." + name, words, format_number((*read).*of), "parts", "", FieldKind::number, {}};
    const auto with = [&](const std::string& text) {
      Mix next = *read;
      const auto value = parse_number(text.empty() ? "0" : text);
      next.*of = value ? *value : -1;
      return next;
    };
    row.takes = [&](const std::string& text) { return takes(with(text)); };
    if (const auto text = parts_.draw(bench, row))
      commit(bench, set_parameter(*document, setting.key, format_mix(with(*text))));
  };
  part("putty", "  Lime putty", &Mix::putty);
  part("sand", "  Sand", &Mix::sand);
  part("marble", "  Marble dust", &Mix::marble);
  part("pozzolana", "  Pozzolana", &Mix::pozzolana);
  const bool volume = read->basis == MixBasis::by_volume;
  if (const auto basis = choice_row(bench, {setting.key + ".basis", "  measured by", volume ? "volume" : "weight"},
                                    {"volume", "weight"})) {
    Mix next = *read;
    next.basis = *basis == "volume" ? MixBasis::by_volume : MixBasis::by_weight;
    commit(bench, set_parameter(*document, setting.key, format_mix(next)));
  }
}

}  // namespace pontata
