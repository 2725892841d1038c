#include "engine/document/open_edges.h"

#include <algorithm>

namespace pontata {

namespace {

const PlannedDay* day_of(const Plan& plan, GiornataId id) {
  for (const auto& day : plan.days)
    if (day.id == id) return &day;
  return nullptr;
}

// Work already done has no date and lies before every day.
bool before(const PlannedDay& a, const PlannedDay& b) { return a.dated ? b.dated && a.date < b.date : b.dated; }

}  // namespace

EdgeDay edges_on_day(GiornataId id, std::span<const SharedSeam> seams, const Plan& plan) {
  EdgeDay edges;
  const PlannedDay* mine = day_of(plan, id);
  if (!mine) return edges;
  for (const auto& seam : seams) {
    if (seam.a != id && seam.b != id) continue;
    const GiornataId other = seam.a == id ? seam.b : seam.a;
    const PlannedDay* theirs = other ? day_of(plan, other) : nullptr;
    if (theirs && (before(*theirs, *mine) || (!mine->dated && !theirs->dated))) {
      edges.meets_finished.push_back(other);
      continue;
    }
    edges.open_edge_m += seam.length_m;
    if (other)
      edges.stays_open.push_back(other);
    else
      edges.open_to_rest = true;
  }
  std::sort(edges.meets_finished.begin(), edges.meets_finished.end());
  std::sort(edges.stays_open.begin(), edges.stays_open.end());
  return edges;
}

}  // namespace pontata
