// Edits of what the review found: findings that may stay.
#include <algorithm>

#include "engine/document/edit_parts.h"
#include "engine/document/job_checks.h"
#include "engine/document/job_edits.h"
#include "engine/document/job_parts.h"
#include "engine/document/reviewed.h"
#include "engine/document/sha256.h"

namespace pontata {

namespace {

bool same_finding(const AcceptedFinding& a, const AcceptedFinding& b) {
  return a.wall == b.wall && a.rule == b.rule && a.giornate == b.giornate && a.cause == b.cause;
}

std::string words_of(const Document& doc, const AcceptedFinding& accepted) {
  return finding_in_words(doc, accepted.rule, accepted.giornate);
}

}  // namespace

AcceptedFinding acceptance_of(WallId wall, const Finding& finding, std::string reason) {
  return {wall, finding.rule, finding.giornate, cause_of(finding), std::move(reason)};
}

std::string finding_code(const AcceptedFinding& finding) {
  constexpr std::size_t kDigits = 6;
  return sha256_of(std::to_string(finding.wall.value) + " " + finding.cause).substr(0, kDigits);
}
std::string finding_code(WallId wall, const Finding& finding) { return finding_code(acceptance_of(wall, finding, "")); }

Result<Edited> accept_finding(const Document& doc, WallId wall, const Finding& finding, const std::string& reason) {
  AcceptedFinding accepted = acceptance_of(wall, finding, reason);
  if (const auto good = check_accepted(doc, accepted); !good) return good.problem();
  Job job = doc.job();
  const std::string did = "Accept: " + words_of(doc, accepted);
  const auto there =
      std::ranges::find_if(job.accepted, [&](const AcceptedFinding& a) { return same_finding(a, accepted); });
  if (there != job.accepted.end())
    *there = std::move(accepted);
  else
    job.accepted.push_back(std::move(accepted));
  return Edited{with_job(doc, std::move(job)), did};
}

Result<Edited> reopen_finding(const Document& doc, const AcceptedFinding& accepted) {
  Job job = doc.job();
  if (std::erase_if(job.accepted, [&](const AcceptedFinding& a) { return same_finding(a, accepted); }) == 0)
    return Problem{"this finding was not accepted", "", "pontata accept PROJECT lists those that were."};
  return Edited{with_job(doc, std::move(job)), "Open again: " + words_of(doc, accepted)};
}

std::vector<AcceptedFinding> outdated_acceptances(const Document& doc, WallId wall, std::span<const Finding> findings) {
  std::vector<AcceptedFinding> outdated;
  for (const AcceptedFinding& a : doc.job().accepted)
    if (a.wall == wall &&
        std::ranges::none_of(findings, [&](const Finding& f) { return same_finding(a, acceptance_of(wall, f, "")); }))
      outdated.push_back(a);
  return outdated;
}

}  // namespace pontata
