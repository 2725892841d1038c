#include "engine/document/open_edges.h"

#include <algorithm>

namespace pontata {

namespace {

using Days = std::map<GiornataId, const PlannedDay*>;

// Work already done has no date and lies before every day.
bool before(const PlannedDay& a, const PlannedDay& b) { return a.dated ? b.dated && a.date < b.date : b.dated; }

LapSide side_of(const PlannedDay& mine, const PlannedDay* theirs) {
  if (!theirs || before(mine, *theirs)) return LapSide::cut_first;
  if (before(*theirs, mine)) return LapSide::pressed;
  if (mine.dated) return LapSide::one_wet;
  if (!mine.painted || !theirs->painted) return LapSide::not_told;
  if (*mine.painted == *theirs->painted) return LapSide::one_wet;
  return *mine.painted < *theirs->painted ? LapSide::cut_first : LapSide::pressed;
}

void add_lap(EdgeDay& edges, GiornataId other, LapSide side, double length_m) {
  const auto same = [&](const Lap& lap) { return lap.other == other; };
  if (const auto there = std::ranges::find_if(edges.laps, same); there != edges.laps.end())
    there->length_m += length_m;
  else
    edges.laps.push_back({other, side, length_m});
}

// One side of a seam.
void add_side(EdgeDay& edges, const PlannedDay& mine, GiornataId other, const PlannedDay* theirs, double length_m) {
  const LapSide side = side_of(mine, theirs);
  add_lap(edges, theirs ? other : GiornataId{}, side, length_m);
  const bool both_done = theirs && !mine.dated && !theirs->dated;
  if (both_done || side == LapSide::pressed) {
    edges.meets_finished.push_back(other);
  } else if (side == LapSide::one_wet) {
    edges.one_wet.push_back(other);
  } else {
    edges.open_edge_m += length_m;
    if (other)
      edges.stays_open.push_back(other);
    else
      edges.open_to_rest = true;
  }
}

void tidy(EdgeDay& edges) {
  for (auto* ids : {&edges.meets_finished, &edges.stays_open, &edges.one_wet}) {
    std::sort(ids->begin(), ids->end());
    ids->erase(std::unique(ids->begin(), ids->end()), ids->end());
  }
  std::ranges::sort(edges.laps, {}, [](const Lap& lap) { return std::pair(!lap.other, lap.other); });
}

}  // namespace

std::string_view lap_name(LapSide side) {
  switch (side) {
    case LapSide::cut_first:
      return "cut first";
    case LapSide::pressed:
      return "pressed against";
    case LapSide::one_wet:
      return "wet together";
    case LapSide::not_told:
      break;
  }
  return "not told";
}

std::map<GiornataId, EdgeDay> edges_of_plan(std::span<const SharedSeam> seams, const Plan& plan) {
  Days days;
  for (const PlannedDay& day : plan.days) days[day.id] = &day;
  const auto day_of = [&](GiornataId id) {
    const auto it = days.find(id);
    return it == days.end() ? nullptr : it->second;
  };
  std::map<GiornataId, EdgeDay> edges;
  for (const SharedSeam& seam : seams)
    for (const auto& [mine, other] : {std::pair(seam.a, seam.b), std::pair(seam.b, seam.a)})
      if (const PlannedDay* day = day_of(mine))
        add_side(edges[mine], *day, other, other ? day_of(other) : nullptr, seam.length_m);
  for (auto& [id, of] : edges) tidy(of);
  return edges;
}

EdgeDay edges_on_day(GiornataId id, std::span<const SharedSeam> seams, const Plan& plan) {
  std::vector<SharedSeam> own;
  for (const SharedSeam& seam : seams)
    if (seam.a == id || seam.b == id) own.push_back(seam);
  return edges_of_plan(own, plan)[id];
}

}  // namespace pontata
