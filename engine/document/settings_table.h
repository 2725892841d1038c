// The table of settings: every parameter of the project with its value, unit, default and meaning. The one list behind
// `set`, the settings of the window and the "settings" object of the project file.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "engine/document/document.h"

namespace pontata {

enum class SettingKind { number, text };  // how its value stands in the project file

enum class SettingGroup { day, plaster, review, contours, drawing };

struct Setting {
  std::string key;
  SettingKind kind = SettingKind::number;
  SettingGroup group = SettingGroup::day;
  std::string unit;     // "mm", "h", "" ...
  std::string meaning;  // one line, plain words
  // The value as text that `set` takes back to the same value: a number with a decimal point in the key's unit, or
  // "none".
  std::function<std::string(const Settings&)> get;
  // Refuses text that is no such value or lies outside the sensible range; the range is in the Problem.
  std::function<Outcome(Settings&, const std::string&)> set;
  bool whole = false;  // a whole number
};

// In the order they are shown. The coats' keys follow the coats of `settings`.
std::vector<Setting> settings_keys(const Settings& settings);

// Every value of one group as text: two groups with the same text hold the same values.
std::string settings_text(const Settings& settings, SettingGroup group);

struct SettingRow {
  std::string key, value, unit, standard, meaning;  // `standard`: the default
};
// Every setting, then the painting rate of each detail zone (rate.<zone>), thickness, note and state of each giornata
// that has its own (giornata.<id>.mm, .note, .state), and whether old plaster or paint lies on each scanned wall
// (old-plaster.<wall>).
std::vector<SettingRow> settings_rows(const Document& doc);

Result<SettingRow> setting_row(const Document& doc,
                               const std::string& key);  // unknown keys: a Problem naming near ones; giornata.<id>.name
                                                         // is known too

// The settings alone; keys of the document (rate.<zone>, giornata.<id>.*, old-plaster.<wall>) are set by edits.h,
// set_parameter.
Result<Settings> with_setting(const Settings& settings, const std::string& key, const std::string& value);

Problem unknown_setting(const Document& doc, const std::string& key);

}  // namespace pontata
