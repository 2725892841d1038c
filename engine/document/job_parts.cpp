#include "engine/document/job_parts.h"

#include <algorithm>

#include "engine/document/job_checks.h"

namespace pontata {

bool is_empty(const Job& job) {
  return job.diary.empty() && job.weather.empty() && job.pairs.empty() && job.days_off.empty() && job.ground.empty() &&
         job.putty.empty() && job.giornate.empty() && job.secco.empty() && job.accepted.empty() && job.next_secco == 1;
}

bool same_work(const Job& a, const Job& b) {
  const auto same_batch = [](const PuttyBatch& p, const PuttyBatch& q) {
    return p.name == q.name && p.slaked == q.slaked && p.litres == q.litres && p.remark == q.remark;
  };
  return a.diary == b.diary && a.weather == b.weather && a.pairs == b.pairs && a.days_off == b.days_off &&
         a.ground == b.ground && std::ranges::equal(a.putty, b.putty, same_batch) && a.giornate == b.giornate &&
         a.secco == b.secco && a.next_secco == b.next_secco;
}

JobRef shared_job(Job job) { return is_empty(job) ? nullptr : std::make_shared<const Job>(std::move(job)); }

std::shared_ptr<Document> with_job(const Document& doc, Job job) {
  auto next = std::make_shared<Document>(doc);
  next->written = shared_job(std::move(job));
  return next;
}

GiornataJob& told_of(Job& job, GiornataId id) {
  const auto there = std::ranges::lower_bound(job.giornate, id, {}, &GiornataJob::id);
  if (there != job.giornate.end() && there->id == id) return *there;
  GiornataJob made;
  made.id = id;
  return *job.giornate.insert(there, std::move(made));
}

void drop_untold(Job& job) {
  std::erase_if(job.giornate, [](const GiornataJob& g) { return !g.day && !g.behind_scaffold && g.palette.empty(); });
}

namespace {

bool names(const PairRule& rule, GiornataId id) { return rule.first == id || rule.second == id; }

bool names(const AcceptedFinding& accepted, GiornataId id) {
  return std::ranges::find(accepted.giornate, id) != accepted.giornate.end();
}

bool is_told(const Job& job, GiornataId id) {
  return of_giornata(job, id) || std::ranges::any_of(job.pairs, [&](const PairRule& r) { return names(r, id); }) ||
         std::ranges::any_of(job.secco, [&](const SeccoWork& s) { return s.giornata == id; }) ||
         std::ranges::any_of(job.accepted, [&](const AcceptedFinding& a) { return names(a, id); });
}

void drop_from(Job& job, GiornataId gone) {
  std::erase_if(job.pairs, [&](const PairRule& r) { return names(r, gone); });
  std::erase_if(job.giornate, [&](const GiornataJob& g) { return g.id == gone; });
  std::erase_if(job.secco, [&](const SeccoWork& s) { return s.giornata == gone; });
  std::erase_if(job.accepted, [&](const AcceptedFinding& a) { return names(a, gone); });
}

}  // namespace

void split_job(Document& next, GiornataId whole, GiornataId part) {
  if (!is_told(next.job(), whole)) return;
  Job job = next.job();
  if (const GiornataJob* told = of_giornata(job, whole); told && (told->behind_scaffold || !told->palette.empty())) {
    GiornataJob copy = *told;
    copy.day.reset();
    copy.id = part;
    told_of(job, part) = std::move(copy);
  }
  const auto pairs = job.pairs;
  for (PairRule rule : pairs) {
    if (!names(rule, whole)) continue;
    (rule.first == whole ? rule.first : rule.second) = part;
    job.pairs.push_back(rule);
  }
  next.written = shared_job(std::move(job));
}

void drop_job(Document& next, GiornataId gone) {
  if (!is_told(next.job(), gone)) return;
  Job job = next.job();
  drop_from(job, gone);
  next.written = shared_job(std::move(job));
}

void join_job(Document& next, GiornataId keep, GiornataId gone) {
  if (!is_told(next.job(), gone)) return;
  Job job = next.job();
  for (SeccoWork& work : job.secco)
    if (work.giornata == gone) work.giornata = keep;
  if (const GiornataJob* told = of_giornata(job, gone); told && !told->palette.empty()) {
    const auto palette = told->palette;
    auto& list = told_of(job, keep).palette;
    for (const std::string& pigment : palette)
      if (list.size() < kMostPigments && std::ranges::find(list, pigment) == list.end()) list.push_back(pigment);
  }
  drop_from(job, gone);
  next.written = shared_job(std::move(job));
}

std::string giornata_name(const Document& doc, GiornataId id) {
  return "giornata " + label_of(doc.giornate.at(id.value - 1));
}

}  // namespace pontata
