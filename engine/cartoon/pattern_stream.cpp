#include "engine/cartoon/pattern_stream.h"

#include <algorithm>

namespace pontata {

PatternStream::PatternStream(const std::vector<PrintJob>& jobs, double relief_mm) : relief_mm_(relief_mm) {
  for (const PrintJob& job : jobs) jobs_.insert(job.giornata->id);
}

double PatternStream::mismatch(GiornataId id) const {
  const auto found = mismatch_.find(id);
  return found == mismatch_.end() ? 0 : found->second;
}

// With the rims of all neighbours that are there already.
void PatternStream::compare(const PrintJob& job, const std::vector<Pattern>& patterns) {
  const GiornataId id = job.giornata->id;
  SeamIndex own;
  for (const Pattern& p : patterns) own.add(p);
  for (const GiornataId n : job.giornata->measure.neighbours) {
    const auto rims = rims_.find(n);
    if (rims == rims_.end() || (!is_job(id) && !is_job(n))) continue;
    double worst = 0;
    for (const Pattern& p : patterns) worst = std::max(worst, rims->second.mismatch(p));
    for (const GiornataId side : {id, n}) mismatch_[side] = std::max(mismatch_[side], worst);
  }
  rims_.emplace(id, std::move(own));
  const auto& wall = job.wall->giornate;
  for (const GiornataId n : job.giornata->measure.neighbours)
    if ((is_job(id) || is_job(n)) && std::any_of(wall.begin(), wall.end(), [&](const auto& g) { return g.id == n; }))
      waiting_[id].push_back(n);
}

// Rims whose neighbours were all made are needed no more.
void PatternStream::drop_met() {
  for (auto it = waiting_.begin(); it != waiting_.end();) {
    std::erase_if(it->second, [&](GiornataId n) { return made_.contains(n); });
    if (!it->second.empty()) {
      ++it;
      continue;
    }
    rims_.erase(it->first);
    it = waiting_.erase(it);
  }
}

Result<std::vector<Pattern>> PatternStream::make(const PrintJob& job, Progress* progress) {
  const GiornataId id = job.giornata->id;
  for (const CartoonGiornata& g : job.wall->giornate) {
    const auto& about = job.giornata->measure.neighbours;
    if (is_job(g.id) || made_.contains(g.id) || std::find(about.begin(), about.end(), g.id) == about.end()) continue;
    const auto patterns = make_patterns(*job.wall, g, progress, &plans_of(*job.wall));
    if (is_cancelled(progress)) return Problem{"stopped", "", ""};
    made_.insert(g.id);
    if (patterns) compare({job.wall, &g}, *patterns);
  }
  auto patterns = make_patterns(*job.wall, *job.giornata, progress, &plans_of(*job.wall));
  if (!patterns) return patterns;
  made_.insert(id);
  compare(job, *patterns);
  drop_met();
  return patterns;
}

}  // namespace pontata
