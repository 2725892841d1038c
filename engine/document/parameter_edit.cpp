#include <charconv>

#include "engine/document/edit_parts.h"
#include "engine/document/edits.h"
#include "engine/document/eye_points.h"
#include "engine/document/record_names.h"
#include "engine/document/seam_edits.h"
#include "engine/document/setting_values.h"
#include "engine/document/settings_table.h"

namespace pontata {

namespace {

Result<Edited> set_zone_rate(const Document& doc, const std::string& key, const std::string& value) {
  const std::string name = key.substr(std::string_view("rate.").size());
  const auto rate = read_rate(value);
  if (!rate) return rate.problem();
  for (const auto& wall : doc.walls)
    for (std::size_t i = 0; i < wall->zones.size(); ++i) {
      if (wall->zones[i].kind != ZoneKind::detail || wall->zones[i].name != name) continue;
      auto changed = std::make_shared<WallItem>(*wall);
      changed->zones[i].rate_m2_per_h = *rate;
      return Edited{with_wall(doc, std::move(changed)), "Setting " + key};
    }
  return unknown_setting(doc, key);
}

// "giornata.7.mm" -> 7 and "mm"; id none for other keys.
struct RecordKey {
  GiornataId id;
  std::string_view part;
};
RecordKey record_key(std::string_view key) {
  constexpr std::string_view kBefore = "giornata.";
  const auto dot = key.rfind('.');
  if (!key.starts_with(kBefore) || dot <= kBefore.size()) return {};
  std::uint32_t id = 0;
  const char* end = key.data() + dot;
  const auto read = std::from_chars(key.data() + kBefore.size(), end, id);
  if (read.ec != std::errc{} || read.ptr != end) return {};
  return {GiornataId{id}, key.substr(dot + 1)};
}

Result<Edited> set_giornata_thickness(const Document& doc, GiornataId id, const std::string& value) {
  if (value == "none") return set_intonaco(doc, id, std::nullopt);
  const auto mm = read_in_unit(value, "mm");
  if (!mm) return mm.problem();
  return set_intonaco(doc, id, *mm);
}

Result<Edited> set_giornata_state(const Document& doc, GiornataId id, const std::string& value) {
  const auto state = state_named(value);
  if (!state)
    return Problem{"\"" + value + "\" is no state of a giornata", "", "Say planned, ready, today, done or redo."};
  return set_state(doc, std::vector<GiornataId>{id}, *state);
}

Result<Edited> set_record(const Document& doc, RecordKey of, const std::string& key, const std::string& value) {
  if (of.part == "mm") return set_giornata_thickness(doc, of.id, value);
  if (of.part == "name") return rename_giornata(doc, of.id, value);
  if (of.part == "note") return set_note(doc, of.id, value);
  if (of.part == "state") return set_giornata_state(doc, of.id, value);
  return unknown_setting(doc, key);
}

Result<Edited> set_old_plaster_named(const Document& doc, const std::string& key, const std::string& value) {
  const WallItem* item = doc.wall_named(key.substr(std::string_view("old-plaster.").size()));
  if (!item || !item->scan) return unknown_setting(doc, key);
  if (value != "yes" && value != "no" && value != "none")
    return Problem{"\"" + value + "\" is no answer", key, "Say yes, no, or none where it is not known."};
  return set_old_plaster(doc, item->id, value == "none" ? std::nullopt : std::optional(value == "yes"));
}

}  // namespace

Result<Edited> set_parameter(const Document& doc, const std::string& key, const std::string& value) {
  if (const RecordKey of = record_key(key); of.id) return set_record(doc, of, key, value);
  if (key.starts_with("old-plaster.")) return set_old_plaster_named(doc, key, value);
  for (const auto& setting : settings_keys(doc.settings)) {
    if (setting.key != key) continue;
    const auto changed = with_setting(doc.settings, key, value);
    if (!changed) return changed.problem();
    auto next = std::make_shared<Document>(doc);
    next->settings = *changed;
    return Edited{std::move(next), "Setting " + key};
  }
  if (!eye_name(key).empty()) {
    const auto changed = with_setting(doc.settings, key, value);
    if (!changed) return changed.problem();
    auto next = std::make_shared<Document>(doc);
    next->settings = *changed;
    return Edited{std::move(next), "Eye point " + std::string(eye_name(key))};
  }
  if (key.starts_with("rate.")) return set_zone_rate(doc, key, value);
  return unknown_setting(doc, key);
}

}  // namespace pontata
