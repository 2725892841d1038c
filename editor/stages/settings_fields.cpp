#include "editor/stages/settings_fields.h"

#include <imgui.h>

#include <algorithm>
#include <map>
#include <sstream>

#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "engine/base/units.h"

namespace pontata {
namespace {

const std::map<std::string, std::string>& names() {
  static const std::map<std::string, std::string> kNames{
      {"rate", "In general"},
      {"rate.of.faces", "Faces and hands"},
      {"rate.of.drapery", "Drapery"},
      {"rate.of.architecture", "Architecture"},
      {"rate.of.background", "Background"},
      {"rate.laying", "Laying plaster"},
      {"window.base", "Window"},
      {"window.wait", "Wait after laying"},
      {"window.stop", "Stop before dry"},
      {"day.hours", "Longest painting"},
      {"day.whole", "Longest whole day"},
      {"painters", "Painters"},
      {"start", "First day"},
      {"workdays", "Days worked"},
      {"pontata.levels", "Decks at"},
      {"pontata.reach", "Reach above a deck"},
      {"pontata.load", "A deck carries"},
      {"window.temperature", "Temperature"},
      {"window.humidity", "Humidity"},
      {"window.air", "Air movement"},
      {"window.weather", "Window by weather"},
      {"hand", "Painting hand"},
      {"hand.against", "Against the hand"},
      {"scaffold.move", "Scaffold move"},
      {"scaffold.strike", "Strike of a deck"},
      {"curing.days", "Arriccio cures"},
      {"secco.days", "Dry work after"},
      {"plasterer.area", "One plasterer lays"},
      {"margin.mm", "Margin at open edges"},
      {"waste.pct", "Waste"},
      {"sand.voids", "Voids of the sand"},
      {"putty.density", "Putty weighs"},
      {"sand.density", "Sand weighs"},
      {"surface.is", "The wall as measured is"},
      {"keys.L", "Into joints and keys"},
      {"bucket.L", "A bucket carries"},
      {"reserve.pct", "Bought in reserve"},
      {"putty.solids", "Share of lime in it"},
      {"putty.age", "Ripe at"},
      {"slake.own", "Slaked by ourselves"},
      {"quicklime.purity", "Quicklime's purity"},
      {"sand.moisture", "Moisture of the sand"},
      {"sand.bulking", "Damp sand takes more"},
      {"marble.density", "Marble dust weighs"},
      {"marble.voids", "Voids of marble dust"},
      {"pozzolana.density", "Pozzolana weighs"},
      {"pozzolana.voids", "Voids of pozzolana"},
      {"level.straightedge", "Straightedge"},
      {"level.least.mm", "Thinnest arriccio"},
      {"tip.mm", "Thin end, width"},
      {"tip.deg", "Thin end, angle"},
      {"contour.mm", "Off the contour"},
      {"contour.share", "Share off it"},
      {"splash.m", "Splashes reach"},
      {"smooth.m", "Across smooth ground up to"},
      {"smooth.round.mm", "Ground without a contour for"},
      {"meeting.mm", "Seams that cross within"},
      {"line.m", "Seams in line up to"},
      {"line.meetings", "Past so many seams"},
      {"line.deg", "In line up to a turn of"},
      {"kink.deg", "A kink turns more than"},
      {"kink.mm", "Kinks judged over"},
      {"small.share", "Too small below"},
      {"wide.m", "Widest along the deck"},
      {"reach.slack", "Beyond the deck's reach"},
      {"rib.mm", "Along a rib within"},
      {"rib.share", "Share along a rib"},
      {"seam.width.mm", "Width of a joint"},
      {"eye.limit", "Resolved from (minutes of arc)"},
      {"eyes", "Eye points"},
  };
  return kNames;
}

bool wanted(const std::string& key, std::initializer_list<const char*> words) {
  return words.size() == 0 ||
         std::any_of(words.begin(), words.end(), [&](const char* w) { return key.rfind(w, 0) == 0; });
}

std::vector<std::string> choices_of(const std::string& key) {
  if (key == "surface.is") return {"arriccio", "bare wall"};
  if (key == "hand") return {"right", "left"};
  if (key == "plan.by") return {"pontata", "week"};
  if (key == "picture.print") return {"full", "faded", "contours"};
  if (key == "paper") return {"A4", "A3", "A2", "A1", "A0", "roll610", "roll914"};
  return {};
}

// A list of numbers, one a deck from the lowest.
bool is_list(const std::string& key) {
  return key == "pontata.levels" || key == "pontata.reach" || key == "pontata.load";
}

std::vector<std::string> parts_of(const std::string& list) {
  std::vector<std::string> parts;
  std::stringstream in(list);
  for (std::string part; std::getline(in, part, ',');) parts.push_back(part);
  return parts;
}

FieldKind kind_of(const Setting& setting) {
  if (setting.unit == "date") return FieldKind::date;
  if (setting.kind == SettingKind::text) return FieldKind::text;
  return setting.whole ? FieldKind::whole : FieldKind::number;
}

std::string unit_of(const Setting& setting) {
  if (setting.unit == "date") return "";
  const bool days = setting.whole && (setting.key.ends_with(".days") || setting.key.rfind("scaffold.", 0) == 0);
  return days ? "days" : setting.unit;
}

}  // namespace

std::string spoken_setting(const std::string& key) {
  if (const auto name = names().find(key); name != names().end()) return name->second;
  if (key.starts_with("coat.")) return "Thickness";
  if (key.starts_with("grain.")) return "Greatest grain";
  if (key.starts_with("mix.")) return "Mix";
  std::string words = key;
  std::replace(words.begin(), words.end(), '.', ' ');
  if (!words.empty()) words[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(words[0])));
  return words;
}

std::shared_ptr<const std::vector<Setting>> SettingsFields::keys(const DocumentRef& document) {
  if (of_ != document) keys_ = std::make_shared<const std::vector<Setting>>(settings_keys(document->settings));
  of_ = document;
  return keys_;
}

void SettingsFields::draw(Workbench& bench, SettingGroup group, std::initializer_list<const char*> words) {
  const auto all = keys(bench.session.document());
  for (const Setting& setting : *all)
    if (setting.group == group && wanted(setting.key, words)) row(bench, setting);
}

void SettingsFields::draw_keys(Workbench& bench, std::initializer_list<const char*> keys_wanted) {
  const auto all = keys(bench.session.document());
  for (const char* key : keys_wanted) {
    const auto found = std::find_if(all->begin(), all->end(), [&](const Setting& s) { return s.key == key; });
    if (found != all->end()) row(bench, *found);
  }
}

// Below a list its numbers one by one, so that each can be dragged; the whole list when one has changed.
std::optional<std::string> SettingsFields::list_rows(Workbench& bench, const Setting& s, const FieldRow& whole) {
  const auto parts = parts_of(whole.value);
  std::optional<std::string> next;
  for (std::size_t i = 0; i < parts.size() && parse_number(parts[i]); ++i) {
    const auto with = [&](const std::string& text) {
      std::string list;
      for (std::size_t k = 0; k < parts.size(); ++k) list += (k ? "," : "") + (k == i ? text : parts[k]);
      return list;
    };
    const std::string name = parts.size() == 1 ? "  every deck" : "  deck " + std::to_string(i + 1);
    FieldRow row{whole.id + "." + std::to_string(i + 1), name, parts[i], s.unit, s.meaning, FieldKind::number, {}};
    row.takes = [&](const std::string& text) { return whole.takes(with(text)); };
    if (const auto text = fields_.draw(bench, row)) next = with(*text);
  }
  return next;
}

void SettingsFields::row(Workbench& bench, const Setting& s) {
  const DocumentRef document = bench.session.document();
  FieldRow row{
      "setting." + s.key, spoken_setting(s.key), s.get(document->settings), unit_of(s), s.meaning, kind_of(s), {}};
  std::optional<std::string> next;
  if (const auto choices = choices_of(s.key); !choices.empty()) {
    next = choice_row(bench, row, choices);
  } else if (row.value == "yes" || row.value == "no") {
    bool yes = row.value == "yes";
    field_name(row.name.c_str(), 0.44f);
    if (ImGui::Checkbox(("##" + row.id).c_str(), &yes)) next = yes ? "yes" : "no";
    control(bench, row.id);
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", s.meaning.c_str());
  } else {
    row.takes = [&](const std::string& text) {
      Settings tried = document->settings;
      return static_cast<bool>(s.set(tried, text));
    };
    next = fields_.draw(bench, row);
    if (const auto part = is_list(s.key) ? list_rows(bench, s, row) : std::nullopt) next = part;
  }
  if (next) commit(bench, set_parameter(*document, s.key, *next));
}

}  // namespace pontata
