#include <fmt/format.h>

#include "editor/verbs/project.h"
#include "engine/base/units.h"
#include "engine/document/settings_table.h"

namespace pontata {

namespace {

struct SetArguments : ReportArguments {
  std::optional<std::string> key, value;
};

Json row_json(const SettingRow& row) {
  return {
      {"key", row.key}, {"value", row.value}, {"unit", row.unit}, {"default", row.standard}, {"meaning", row.meaning}};
}

// Numbers with six digits at most; `set KEY` shows all of them.
Cell shown(const std::string& value) {
  const auto number = parse_number(value);
  const bool list = value.find(',') != std::string::npos;
  return {value, number && !list ? fmt::format("{:.6g}", *number) : value};
}

int list_all(const SetArguments& a, const Document& doc) {
  Table table{{{"key", "key", false},
               {"value", "value", true},
               {"unit", "unit", false},
               {"default", "default", true},
               {"meaning", "meaning", false}},
              {}};
  Json json = {{"settings", Json::array()}};
  for (const auto& row : settings_rows(doc)) {
    table.rows.push_back({cell(row.key), shown(row.value), cell(row.unit), shown(row.standard), cell(row.meaning)});
    json["settings"].push_back(row_json(row));
  }
  print(a.json ? to_text(json) : table.text());
  return kExitDone;
}

int show(const SetArguments& a, const Document& doc) {
  if (!a.key) return list_all(a, doc);
  const auto row = setting_row(doc, *a.key);
  if (!row) return fail(row.problem(), a.project);
  print(a.json ? to_text(row_json(*row)) : row->value + "\n");
  return kExitDone;
}

int run(const SetArguments& a) {
  if (!a.value) return with_project(a, [&](const Document& doc, Progress*) { return show(a, doc); });
  return change_project<Edited>(
      a, [&](const Document& doc, Progress*) { return set_parameter(doc, *a.key, *a.value); },
      [&](const Edited& edited) {
        const auto row = setting_row(*edited.document, *a.key);
        if (a.json && row) print(to_text(row_json(*row)));
      });
}

}  // namespace

VerbTask set_verb(Usage& usage) {
  const auto a = std::make_shared<SetArguments>();
  a->declare_json(usage);
  usage.may_take(a->key, "KEY",
                 "the setting; without one all are listed (giornata.<id>.mm: own thickness of one giornata)");
  usage.may_take(a->value, "VALUE", "its new value; without one it is shown");
  return [a] { return run(*a); };
}

}  // namespace pontata
