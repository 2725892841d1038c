// Edits of colours: the pigments of a giornata, and what is finished dry.
#include <fmt/format.h>

#include <algorithm>

#include "engine/document/edit_parts.h"
#include "engine/document/job_checks.h"
#include "engine/document/job_edits.h"
#include "engine/document/job_parts.h"

namespace pontata {

namespace {

std::string trimmed(const std::string& text) {
  const std::size_t from = text.find_first_not_of(' ');
  return from == std::string::npos ? "" : text.substr(from, text.find_last_not_of(' ') - from + 1);
}

}  // namespace

Result<Edited> set_palette(const Document& doc, GiornataId id, std::vector<std::string> colour_index_names) {
  if (const auto found = giornata_of(doc, id); !found) return found.problem();
  std::vector<std::string> list;
  for (const std::string& name : colour_index_names)
    if (const std::string pigment = trimmed(name); std::ranges::find(list, pigment) == list.end())
      list.push_back(pigment);
  Job job = doc.job();
  told_of(job, id).palette = list;
  if (!list.empty())
    if (const auto good = check_giornata_job(doc, *of_giornata(job, id)); !good) return good.problem();
  drop_untold(job);
  return Edited{with_job(doc, std::move(job)), "Palette of " + giornata_name(doc, id)};
}

Result<Edited> set_secco(const Document& doc, SeccoWork work) {
  if (const auto good = check_secco(doc, work); !good) return good.problem();
  Job job = doc.job();
  const std::string did = "Finish on " + giornata_name(doc, work.giornata) + ": " + work.what;
  if (work.id == 0) {
    work.id = job.next_secco++;
    job.secco.push_back(std::move(work));
    return Edited{with_job(doc, std::move(job)), did};
  }
  const auto there = std::ranges::find(job.secco, work.id, &SeccoWork::id);
  if (there == job.secco.end())
    return Problem{fmt::format("there is no finish {}", work.id), "", "pontata secco PROJECT lists them."};
  *there = std::move(work);
  return Edited{with_job(doc, std::move(job)), did};
}

Result<Edited> remove_secco(const Document& doc, std::uint32_t id) {
  Job job = doc.job();
  const auto there = std::ranges::find(job.secco, id, &SeccoWork::id);
  if (there == job.secco.end())
    return Problem{fmt::format("there is no finish {}", id), "", "pontata secco PROJECT lists them."};
  const std::string did = "Finish on " + giornata_name(doc, there->giornata) + " taken out: " + there->what;
  job.secco.erase(there);
  return Edited{with_job(doc, std::move(job)), did};
}

}  // namespace pontata
