#include <fmt/format.h>

#include "editor/verbs/project.h"
#include "engine/base/units.h"

namespace pontata {

namespace {

std::string severity_words(Severity severity) {
  return severity == Severity::decide ? "decide first" : severity == Severity::warn ? "warning" : "note";
}

std::string numbers_text(const Document& doc, const Finding& finding, bool as_ids) {
  std::string text;
  for (const auto id : finding.giornate) {
    const Giornata* g = doc.giornata(id);
    text += (text.empty() ? "" : " ") + (as_ids || !g ? std::to_string(id.value) : label_of(*g));
  }
  return text;
}

Json finding_json(const Finding& f, const std::string& wall) {
  Json json = {{"rule", f.rule}, {"severity", severity_name(f.severity)}, {"wall", wall}, {"giornate", Json::array()}};
  for (const auto id : f.giornate) json["giornate"].push_back(id.value);
  json["at_m"] = {f.at.x, f.at.y, f.at.z};
  json["chart"] = {f.chart.u, f.chart.v};
  json["value"] = f.value;
  json["limit"] = f.limit;
  json["says"] = f.says;
  json["remedy"] = f.remedy;
  return json;
}

Table findings_table() {
  return {{{"severity", "severity", false},
           {"rule", "rule", false},
           {"wall", "wall", false},
           {"giornate", "giornate", false},
           {"x_m", "x m"},
           {"y_m", "y m"},
           {"z_m", "z m"},
           {"u_m", "u m"},
           {"v_m", "v m"},
           {"value", "value"},
           {"limit", "limit"},
           {"says", "says", false},
           {"remedy", "remedy", false}},
          {}};
}

std::vector<Cell> finding_cells(const Document& doc, const Finding& f, const std::string& wall) {
  return {cell(std::string(severity_name(f.severity))),
          cell(f.rule),
          cell(wall),
          cell(numbers_text(doc, f, true)),
          cell(f.at.x, 2),
          cell(f.at.y, 2),
          cell(f.at.z, 2),
          cell(f.chart.u, 3),
          cell(f.chart.v, 3),
          cell(f.value, 3),
          cell(f.limit, 3),
          cell(f.says),
          cell(f.remedy)};
}

// "giornata 3", "giornate 3 and 5".
std::string giornate_words(const Document& doc, const Finding& f) {
  std::string numbers = numbers_text(doc, f, false);
  const auto last = numbers.rfind(' ');
  if (last == std::string::npos) return "giornata " + numbers;
  numbers.replace(last, 1, " and ");
  return "giornate " + numbers;
}

std::string finding_text(const Document& doc, const Finding& f, const std::string& wall) {
  return fmt::format("{}: {}, {}, at {},{}\n  {} {}\n", severity_words(f.severity), wall, giornate_words(doc, f),
                     format_fixed(f.chart.u, 2), format_fixed(f.chart.v, 2), f.says, f.remedy);
}

int review_all(const ReportArguments& a, const Document& doc, Progress* progress) {
  Flow flow;
  Json json = {{"findings", Json::array()}};
  Table table = findings_table();
  std::string text;
  for (const auto& item : doc.walls)
    for (const auto& finding : *flow.findings(doc, item->id, progress)) {
      json["findings"].push_back(finding_json(finding, item->name));
      table.rows.push_back(finding_cells(doc, finding, item->name));
      text += finding_text(doc, finding, item->name);
    }
  text += table.rows.empty() ? "nothing to remark\n"
                             : fmt::format("{} {}\n", table.rows.size(), table.rows.size() == 1 ? "remark" : "remarks");
  return report_all(a, doc, json, table, text);
}

}  // namespace

VerbTask review_verb(Usage& usage) {
  const auto a = std::make_shared<ReportArguments>();
  a->declare_json_and_csv(usage);
  return [a] {
    return with_report("review", *a,
                       [&](const Document& doc, Progress* progress) { return review_all(*a, doc, progress); });
  };
}

}  // namespace pontata
