// Findings that may stay.
#include <fmt/format.h>

#include <algorithm>

#include "editor/verbs/findings_report.h"
#include "editor/verbs/job_report.h"
#include "engine/document/reviewed.h"
#include "engine/review/rule_words.h"

namespace pontata {

namespace {

struct AcceptArguments : ReportArguments {
  std::optional<std::string> code, reason;
  bool open = false;
};

// What stands under a code: a finding of the walls as they are now, or what was accepted once.
struct Named {
  std::vector<std::pair<WallId, Finding>> findings;
  std::vector<AcceptedFinding> accepted;
};

// Two with one cause are accepted together.
bool holds(const Named& found, WallId wall, const Finding& f) {
  return std::ranges::any_of(
      found.findings, [&](const auto& other) { return other.first == wall && cause_of(other.second) == cause_of(f); });
}

Named named(const Document& doc, const std::string& code, Progress* progress) {
  Named found;
  for (const AcceptedFinding& a : doc.job().accepted)
    if (finding_code(a) == code) found.accepted.push_back(a);
  Flow flow;
  for (const auto& item : doc.walls)
    for (const Finding& f : *flow.findings(doc, item->id, progress))
      if (finding_code(item->id, f) == code && !holds(found, item->id, f)) found.findings.emplace_back(item->id, f);
  return found;
}

Problem unknown(const std::string& code) {
  return {"no finding has the code \"" + code + "\"", "",
          "pontata review PROJECT tells the codes; one that has changed has a new one."};
}
Problem several(const std::string& code) {
  return {"several findings have the code \"" + code + "\"", "", "Accept them in the window, one by one."};
}

Result<Edited> changed(const AcceptArguments& a, const Document& doc, Progress* progress) {
  const Named found = named(doc, *a.code, progress);
  if (a.open) {
    if (found.accepted.size() > 1) return several(*a.code);
    if (!found.accepted.empty()) return reopen_finding(doc, found.accepted.front());
    if (found.findings.empty()) return unknown(*a.code);
    return reopen_finding(doc, acceptance_of(found.findings[0].first, found.findings[0].second, ""));
  }
  if (found.findings.empty()) return unknown(*a.code);
  if (found.findings.size() > 1) return several(*a.code);
  return accept_finding(doc, found.findings[0].first, found.findings[0].second, *a.reason);
}

// Every acceptance, and whether it still holds.
int list(const AcceptArguments& a, const Document& doc, Progress* progress) {
  Flow flow;
  Json json = {{"accepted", Json::array()}};
  Table table{{{"finding", "finding", false},
               {"wall", "wall", false},
               {"rule", "rule", false},
               {"giornate", "giornate", false},
               {"holds", "holds", false},
               {"reason", "reason", false}},
              {}};
  std::string text;
  for (const auto& item : doc.walls) {
    const auto outdated = outdated_acceptances(doc, item->id, *flow.findings(doc, item->id, progress));
    for (const AcceptedFinding& accepted : doc.job().accepted) {
      if (accepted.wall != item->id) continue;
      const bool holds = std::ranges::find(outdated, accepted) == outdated.end();
      const std::string who = giornate_in_words(doc, accepted.giornate);
      Json one = accepted_json(accepted, *item);
      one["holds"] = holds;
      json["accepted"].push_back(std::move(one));
      table.rows.push_back({cell(finding_code(accepted)), cell(item->name), cell(accepted.rule), cell(who),
                            truth_cell(holds), cell(accepted.reason)});
      text += fmt::format("{} {}, {}{}: {}{}\n", finding_code(accepted), item->name, rule_title(accepted.rule),
                          who.empty() ? "" : ", " + who, accepted.reason,
                          holds ? "" : " (its cause has changed since: it holds no longer)");
    }
  }
  return report_all(a, doc, json, table, text.empty() ? "Nothing was accepted.\n" : text);
}

int run(const AcceptArguments& a) {
  if (!a.code && (a.reason || a.open))
    return wrong_usage("accept", "FINDING is required: its code, as review tells it");
  if (!a.code) return with_report("accept", a, [&](const Document& doc, Progress* p) { return list(a, doc, p); });
  if (a.csv) return wrong_usage("accept", "--csv lists what was accepted; it goes without FINDING");
  if (a.open == a.reason.has_value())
    return wrong_usage("accept", "--reason TEXT says why it may stay, --open that it is to be looked at again");
  return change_project<Edited>(
      a, [&](const Document& doc, Progress* progress) { return changed(a, doc, progress); },
      [&](const Edited& edited) {
        print(a.json ? to_text({{"did", edited.did}}) : edited.did + "\n");
      });
}

}  // namespace

VerbTask accept_verb(Usage& usage) {
  const auto a = std::make_shared<AcceptArguments>();
  a->declare_json_and_csv(usage);
  usage.may_take(a->code, "FINDING", "a finding's code, as review tells it; without it what was accepted is told");
  usage.text(a->reason, "--reason", "TEXT", "why it may stay; it does until its cause changes");
  usage.flag(a->open, "--open", "open it again");
  return [a] { return run(*a); };
}

}  // namespace pontata
