#include <fmt/format.h>

#include "editor/verbs/project.h"
#include "engine/base/units.h"
#include "engine/document/setting_values.h"

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
  if (f.accepted) json["accepted"] = *f.accepted;
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
  return fmt::format("{}: {}, {}, at {},{}\n  {} {}\n",
                     f.accepted ? "accepted (" + *f.accepted + ")" : severity_words(f.severity), wall,
                     giornate_words(doc, f), format_fixed(f.chart.u, 2), format_fixed(f.chart.v, 2), f.says, f.remedy);
}

struct ReviewArguments : ReportArguments {
  std::optional<std::string> from;  // an eye point's name, or X,Y,Z
  std::optional<std::uint32_t> worst;
};

constexpr std::string_view kCaveat =
    "An eye with 6/6 vision tells joints of one minute of arc apart; a fine bright or dark line is seen far below "
    "that: "
    "a small number is no promise that a seam cannot be seen.";

Result<EyePoint> eye_of(const Document& doc, const std::string& text) {
  for (const EyePoint& e : doc.settings.review.eyes)
    if (e.name == text) return e;
  const auto at = read_place(text);
  if (at) return EyePoint{"", *at};
  std::string names;
  for (const EyePoint& e : doc.settings.review.eyes) names += (names.empty() ? "" : ", ") + e.name;
  return Problem{"there is no eye point \"" + text + "\"", "",
                 names.empty() ? "Set one (set PROJECT eye.door 0.5,0,1.6), or give a place X,Y,Z."
                               : "There are: " + names + "; or give a place X,Y,Z."};
}

std::string parted_words(const Document& doc, const WorstStretch& w) {
  const auto label = [&](GiornataId id) { return label_of(*doc.giornata(id)); };
  return w.one ? "between giornate " + label(w.one) + " and " + label(w.other)
               : "between giornata " + label(w.other) + " and the rest of the wall";
}

Json stretch_json(const WorstStretch& w, const std::string& wall) {
  Json json = {{"wall", wall}, {"giornate", Json::array()}};
  for (const GiornataId id : {w.one, w.other})
    if (id) json["giornate"].push_back(id.value);
  json["at_m"] = {w.at.x, w.at.y, w.at.z};
  json["chart"] = {w.place.u, w.place.v};
  json["length_m"] = w.length_m;
  json["distance_m"] = w.distance_m;
  json["grazing_deg"] = w.grazing_deg;
  json["joint_arcmin"] = w.joint_arcmin;
  json["step"] = w.step;
  json["shows"] = w.shows;
  json["says"] = w.says;
  return json;
}

// What is seen worst from an eye point, after the findings.
void add_from_floor(const ReviewArguments& a, const Document& doc, const EyePoint& eye, Flow& flow, Progress* progress,
                    Json& json, std::string& text) {
  json["from_floor"] = {{"eye", eye.name}, {"eye_m", {eye.at.x, eye.at.y, eye.at.z}}, {"worst", Json::array()}};
  text += "from " + (eye.name.empty() ? write_place(eye.at) : eye.name) + ", what shows most:\n";
  for (const auto& item : doc.walls) {
    const auto sights = flow.from_floor(doc, item->id, eye, progress);
    for (const WorstStretch& w : worst_stretches(*sights, a.worst.value_or(5))) {
      json["from_floor"]["worst"].push_back(stretch_json(w, item->name));
      text += fmt::format("  {}, {}, at {},{}: {}\n", item->name, parted_words(doc, w), format_fixed(w.place.u, 2),
                          format_fixed(w.place.v, 2), w.says);
    }
  }
  json["from_floor"]["caveat"] = kCaveat;
  text += std::string(kCaveat) + "\n";
}

int review_all(const ReviewArguments& a, const Document& doc, Progress* progress) {
  std::optional<EyePoint> eye;
  if (a.from) {
    auto found = eye_of(doc, *a.from);
    if (!found) return fail(found.problem(), a.project);
    eye = *found;
  }
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
  if (eye) add_from_floor(a, doc, *eye, flow, progress, json, text);
  return report_all(a, doc, json, table, text);
}

}  // namespace

VerbTask review_verb(Usage& usage) {
  const auto a = std::make_shared<ReviewArguments>();
  a->declare_json_and_csv(usage);
  usage.text(a->from, "--from", "EYE", "also what shows most from this eye point: its name, or X,Y,Z");
  usage.count(a->worst, "--worst", "so many of them on each wall (5)");
  return [a] {
    return with_report("review", *a,
                       [&](const Document& doc, Progress* progress) { return review_all(*a, doc, progress); });
  };
}

}  // namespace pontata
