#include "editor/stages/seam_findings.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <set>

#include "editor/stages/section.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/document/job_edits.h"
#include "engine/document/reviewed.h"
#include "engine/review/rule_words.h"

namespace pontata {

namespace {

constexpr int kPointing = 1;  // ViewArea::pointing

}  // namespace

// Worked out only when the look or the project is another: undo and redo count like any edit.
void SeamFindings::take_up(Workbench& bench) {
  const auto& review = bench.session.review;
  const DocumentRef& now = bench.session.document();
  if (!review) return;
  if (looked_at_ == review->of && document_ == now && found_ == review->findings.size()) return;
  looked_at_ = review->of, document_ = now, found_ = review->findings.size();
  rows_.clear();
  outdated_.clear();
  count_ = {};
  count_.holds = reviewed_alike(*review->of, *now);
  std::map<WallId, std::vector<Finding>> by_wall;
  for (const Session::Found& f : review->findings) by_wall[f.wall].push_back(f.finding);
  for (auto& [wall, findings] : by_wall) {
    mark_accepted(findings, wall, now->job().accepted);
    for (Finding& f : findings) {
      std::string code = finding_code(wall, f);
      ++(f.accepted ? count_.accepted : count_.open);
      if (!f.accepted && f.severity == Severity::decide) ++count_.decide;
      rows_.push_back({{wall, f}, std::move(code)});
    }
  }
  std::ranges::stable_sort(rows_, {}, [](const Row& r) {
    return std::pair(r.found.finding.accepted.has_value(), -static_cast<int>(r.found.finding.severity));
  });
  if (!count_.holds) return;
  for (const auto& item : now->walls)
    for (AcceptedFinding& a : outdated_acceptances(*now, item->id, by_wall[item->id]))
      outdated_.push_back(std::move(a));
}

SeamFindings::Count SeamFindings::count(Workbench& bench) {
  take_up(bench);
  return count_;
}

void SeamFindings::draw(Workbench& bench) {
  if (!bench.session.review) return;
  take_up(bench);
  if (!count_.holds) quiet_text("The project has changed since this was found: look again.");
  filter(bench);
  rows(bench);
  outdated(bench);
}

void SeamFindings::filter(Workbench& bench) {
  std::set<std::string_view> there;
  for (const Row& r : rows_) there.insert(r.found.finding.rule);
  if (!there.contains(rule_)) rule_.clear();
  ImGui::SetNextItemWidth(-1);
  const std::string now(rule_.empty() ? "All rules" : rule_title(rule_));
  if (ImGui::BeginCombo("##rule", now.c_str())) {
    if (ImGui::Selectable("All rules", rule_.empty())) rule_.clear();
    for (const RuleWords& rule : all_rules()) {
      if (!there.contains(rule.rule)) continue;
      if (ImGui::Selectable(std::string(rule.title).c_str(), rule_ == rule.rule)) rule_ = rule.rule;
      control(bench, "rule." + std::string(rule.rule));
    }
    ImGui::EndCombo();
  }
  control(bench, "seams.rule");
  if (count_.accepted == 0) return;
  ImGui::Checkbox(fmt::format("Show accepted ones too ({})###accepted", count_.accepted).c_str(), &show_accepted_);
  control(bench, "seams.accepted");
}

void SeamFindings::rows(Workbench& bench) {
  ImGui::BeginChild("findings", ImVec2(0, ImGui::GetContentRegionAvail().y * 0.6f), true);
  int n = 0;
  for (const Row& r : rows_) {
    const Finding& f = r.found.finding;
    if ((f.accepted && !show_accepted_) || (!rule_.empty() && f.rule != rule_)) continue;
    ImGui::PushID(n);
    row(bench, r, n++);
    ImGui::Separator();
    ImGui::PopID();
  }
  if (n == 0) quiet_text(rows_.empty() ? "Nothing to say against these seams." : "Nothing else to say.");
  ImGui::EndChild();
}

void SeamFindings::row(Workbench& bench, const Row& row, int n) {
  const Finding& f = row.found.finding;
  ImGui::BeginGroup();
  const std::string head =
      fmt::format("{}: {}", severity_words(f), finding_in_words(*bench.session.document(), f.rule, f.giornate));
  if (f.severity == Severity::note || f.accepted)
    ImGui::TextWrapped("%s", head.c_str());
  else
    warn_text(head.c_str());
  ImGui::TextWrapped("%s", f.says.c_str());
  quiet_text(f.accepted ? ("It may stay: " + *f.accepted).c_str() : f.remedy.c_str());
  ImGui::EndGroup();
  control(bench, "finding." + std::to_string(n));
  if (ImGui::IsItemHovered()) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
  if (ImGui::IsItemClicked()) {
    if (row.code != code_) reason_ = f.accepted.value_or("");
    code_ = row.code, bench.views->pointing = kPointing;
    bench.session.choose_wall(row.found.wall);
    bench.views->follow(bench.session);
    bench.views->fly_to(f.chart, 1.0);
    if (!f.giornate.empty()) bench.session.choose(f.giornate.front());
  }
  if (row.code != code_) return;
  if (count_.holds && bench.views->pointing == kPointing) bench.views->point_out(row.found.wall, f.stretches);
  fields(bench, row);
}

void SeamFindings::fields(Workbench& bench, const Row& row) {
  const Finding& f = row.found.finding;
  const Document& document = *bench.session.document();
  if (const std::string value = value_words(f, document.settings.review); !value.empty()) quiet_text(value.c_str());
  if (!count_.holds) return quiet_text("Look over the seams again before you accept it.");
  if (f.accepted) {
    if (ImGui::Button("Open it again")) commit(bench, reopen_finding(document, acceptance_of(row.found.wall, f, "")));
    return control(bench, "finding.open");
  }
  ImGui::TextUnformatted("Why it may stay");
  text_field("##reason", reason_, false, -1);
  control(bench, "finding.reason");
  if (ImGui::Button("Accept it")) commit(bench, accept_finding(document, row.found.wall, f, reason_));
  control(bench, "finding.accept");
}

void SeamFindings::outdated(Workbench& bench) {
  if (outdated_.empty()) return;
  if (!section(bench, "outdated", "Accepted once, changed since", false, std::to_string(outdated_.size()))) return;
  const Document& document = *bench.session.document();
  for (const AcceptedFinding& a : outdated_) {
    const std::string code = finding_code(a);
    ImGui::PushID(code.c_str());
    ImGui::TextWrapped("%s: %s", finding_in_words(document, a.rule, a.giornate).c_str(), a.reason.c_str());
    const bool forget = ImGui::SmallButton("Forget it");
    control(bench, "outdated." + code);
    ImGui::PopID();
    if (!forget) continue;
    commit(bench, reopen_finding(document, a));
    return;  // the list is another now
  }
}

}  // namespace pontata
