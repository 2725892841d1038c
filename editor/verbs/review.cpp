#include <fmt/format.h>

#include "editor/verbs/findings_report.h"
#include "editor/verbs/floor_report.h"
#include "engine/document/job_edits.h"
#include "engine/document/review_sheet_input.h"
#include "engine/document/reviewed.h"

namespace pontata {

namespace {

constexpr std::uint32_t kWorst = 5;

struct ReviewArguments : ReportArguments {
  std::optional<std::string> from;  // an eye point's name, or X,Y,Z
  std::optional<std::uint32_t> worst;
  std::optional<std::string> sheet;  // a PDF
};

// The sheet of plans, findings and views; the exit status.
int write_sheet(const ReviewArguments& a, const Document& doc, Flow& flow, Progress* progress) {
  if (const auto free = may_be_written(*a.sheet, a.project, doc); !free) return fail(free.problem(), "");
  const auto worst = a.worst.value_or(kWorstOnSheet);
  const auto written = write_review_sheet(doc, flow, a.project, worst, *a.sheet, progress);
  return written ? kExitDone : fail(written.problem(), written.problem().where.empty() ? a.project : "");
}

int review_all(const ReviewArguments& a, const Document& doc, Progress* progress) {
  std::optional<EyePoint> eye;
  if (a.from) {
    auto found = eye_of(doc, *a.from);
    if (!found) return fail(found.problem(), a.project);
    eye = *found;
  }
  if (a.sheet && a.csv && same_file(*a.sheet, *a.csv))
    return fail({"the sheet and the table cannot be one file", *a.sheet, "Give them two names."}, a.project);
  Flow flow;
  if (a.sheet)
    if (const int status = write_sheet(a, doc, flow, progress); status != kExitDone) return status;
  Json json = {{"findings", Json::array()}};
  Table table = findings_table();
  std::string open, accepted, outdated;
  std::vector<Finding> all;
  for (const auto& item : doc.walls) {
    const auto findings = flow.findings(doc, item->id, progress);
    for (const Finding& finding : *findings) {
      json["findings"].push_back(finding_json(finding, *item));
      table.rows.push_back(finding_cells(finding, *item));
      (finding.accepted ? accepted : open) += finding_text(doc, finding, *item);
      all.push_back(finding);
    }
    for (const AcceptedFinding& gone : outdated_acceptances(doc, item->id, *findings)) {
      json["outdated"].push_back(accepted_json(gone, *item));
      outdated += fmt::format("{} accepted once ({}), its cause has changed since: {}, {}\n", finding_code(gone),
                              gone.reason, item->name, finding_in_words(doc, gone.rule, gone.giornate));
    }
  }
  std::string text = open + accepted + outdated + findings_sum(all) + "\n";
  if (a.sheet) {
    json["sheet"] = *a.sheet;
    text += "review sheet: " + *a.sheet + "\n";
  }
  if (eye) add_from_floor(doc, *eye, a.worst.value_or(kWorst), flow, progress, json, text);
  return report_all(a, doc, json, table, text);
}

int run(const ReviewArguments& a) {
  if (a.worst && !a.from && !a.sheet) return wrong_usage("review", "--worst goes with --from or --sheet");
  if (a.sheet && !has_ending(*a.sheet, ".pdf"))
    return wrong_usage("review", "--sheet must be a name that ends in .pdf, like review.pdf");
  return with_report("review", a,
                     [&](const Document& doc, Progress* progress) { return review_all(a, doc, progress); });
}

}  // namespace

VerbTask review_verb(Usage& usage) {
  const auto a = std::make_shared<ReviewArguments>();
  a->declare_json_and_csv(usage);
  usage.text(a->from, "--from", "EYE", "also what shows most from this eye point: its name, or X,Y,Z");
  usage.count(a->worst, "--worst", "so many of them on each wall (5; on a sheet 8, at most 10)");
  usage.text(a->sheet, "--sheet", "FILE.pdf", "also a sheet to hand out: plans, findings, views from every eye point");
  return [a] { return run(*a); };
}

}  // namespace pontata
