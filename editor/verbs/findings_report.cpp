#include "editor/verbs/findings_report.h"

#include <fmt/format.h>

#include "engine/base/units.h"
#include "engine/document/job_edits.h"
#include "engine/document/reviewed.h"
#include "engine/review/rule_words.h"

namespace pontata {

namespace {

std::string ids_text(std::span<const GiornataId> giornate) {
  std::string text;
  for (const auto id : giornate) text += (text.empty() ? "" : " ") + std::to_string(id.value);
  return text;
}

}  // namespace

Json finding_json(const Finding& f, const WallItem& wall) {
  Json json = {{"finding", finding_code(wall.id, f)},
               {"rule", f.rule},
               {"severity", severity_name(f.severity)},
               {"wall", wall.name},
               {"giornate", Json::array()}};
  for (const auto id : f.giornate) json["giornate"].push_back(id.value);
  json["at_m"] = {f.at.x, f.at.y, f.at.z};
  json["chart"] = {f.chart.u, f.chart.v};
  json["value"] = f.value;
  json["limit"] = f.limit;
  json["says"] = f.says;
  json["remedy"] = f.remedy;
  if (f.accepted) json["accepted"] = *f.accepted;
  return json;
}

Table findings_table() {
  return {{{"finding", "finding", false},
           {"severity", "severity", false},
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
           {"remedy", "remedy", false},
           {"accepted", "accepted", false}},
          {}};
}

std::vector<Cell> finding_cells(const Finding& f, const WallItem& wall) {
  return {cell(finding_code(wall.id, f)),
          cell(std::string(severity_name(f.severity))),
          cell(f.rule),
          cell(wall.name),
          cell(ids_text(f.giornate)),
          cell(f.at.x, 2),
          cell(f.at.y, 2),
          cell(f.at.z, 2),
          cell(f.chart.u, 3),
          cell(f.chart.v, 3),
          cell(f.value, 3),
          cell(f.limit, 3),
          cell(f.says),
          cell(f.remedy),
          cell(f.accepted.value_or(""))};
}

std::string finding_text(const Document& doc, const Finding& f, const WallItem& wall) {
  const std::string who = giornate_in_words(doc, f.giornate);
  std::string text =
      fmt::format("{} {}: {}{}, at {},{}\n  {}", finding_code(wall.id, f), severity_words(f), wall.name,
                  who.empty() ? "" : ", " + who, format_fixed(f.chart.u, 2), format_fixed(f.chart.v, 2), f.says);
  return text + (f.accepted ? " It may stay: " + *f.accepted : " " + f.remedy) + "\n";
}

std::string findings_sum(std::span<const Finding> findings) {
  std::size_t open = 0, decide = 0;
  for (const Finding& f : findings)
    if (!f.accepted) ++open, decide += f.severity == Severity::decide;
  const std::size_t accepted = findings.size() - open;
  std::string text = open == 0 ? "nothing to remark" : fmt::format("{} {}", open, open == 1 ? "remark" : "remarks");
  if (decide > 0) text += fmt::format(", {} of them to decide first", decide);
  if (accepted > 0) text += fmt::format("; {} accepted", accepted);
  return text;
}

Json accepted_json(const AcceptedFinding& accepted, const WallItem& wall) {
  Json json = {{"finding", finding_code(accepted)},
               {"wall", wall.name},
               {"rule", accepted.rule},
               {"giornate", Json::array()},
               {"reason", accepted.reason}};
  for (const GiornataId id : accepted.giornate) json["giornate"].push_back(id.value);
  return json;
}

}  // namespace pontata
