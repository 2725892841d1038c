// Patterns one giornata after the other, none kept, and how well both prints of each seam agree.
#pragma once

#include <map>
#include <set>

#include "engine/cartoon/pattern.h"
#include "engine/cartoon/seam_index.h"
#include "engine/cartoon/working_order.h"

namespace pontata {

// Makes each pattern once. Of those made only the rims are kept, and those only until all their neighbours were made,
// so that memory does not grow with the number of giornate. Neighbours that are not printed are made as well, for
// comparison; one that cannot be made is left out.
class PatternStream {
 public:
  // `jobs` must outlive this. `relief_mm`: CartoonOptions.
  PatternStream(const std::vector<PrintJob>& jobs, double relief_mm);
  // All parts of a job's giornata. Each job is asked for once, in any order. A faulty giornata is a Problem.
  Result<std::vector<Pattern>> make(const PrintJob& job, Progress* progress);
  // Greatest distance (mm) between the two prints of a seam of this giornata, once all jobs were made.
  double mismatch(GiornataId id) const;

 private:
  void compare(const PrintJob& job, const std::vector<Pattern>& patterns);
  void drop_met();
  bool is_job(GiornataId id) const { return jobs_.contains(id); }

  WallPlans& plans_of(const CartoonWall& wall) { return plans_.try_emplace(&wall, wall, relief_mm_).first->second; }

  double relief_mm_;
  std::map<const CartoonWall*, WallPlans> plans_;  // some kilobytes a giornata
  std::set<GiornataId> jobs_, made_;
  std::map<GiornataId, std::vector<GiornataId>> waiting_;  // a giornata's neighbours that it is compared with
  std::map<GiornataId, SeamIndex> rims_;
  std::map<GiornataId, double> mismatch_;
};

}  // namespace pontata
