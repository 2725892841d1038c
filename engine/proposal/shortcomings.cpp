#include "engine/proposal/shortcomings.h"

#include <algorithm>
#include <map>
#include <set>

#include "engine/calendar/rates.h"
#include "engine/giornate/face_locator.h"
#include "engine/giornate/measures.h"
#include "engine/proposal/tangles.h"
#include "engine/review/rules.h"

namespace pontata {

namespace {

// Who holds the zones that alone are too much.
std::set<GiornataId> overfull_owners(const ProposalInput& input, const Proposal& proposal) {
  std::set<GiornataId> owners;
  const FaceLocator locator(proposal.network);
  for (const OverfullZone& full : proposal.overfull)
    for (const Zone& zone : input.zones) {
      if (zone.id != full.zone) continue;
      const std::vector<Ring> rings = zone.rings();
      const FaceId face = locator.face_at(to_lattice(label_place(rings)));
      if (face != Network::kOutside) owners.insert(proposal.network.face(face).owner);
    }
  return owners;
}

std::vector<Giornata> records_of(const Proposal& proposal) {
  std::vector<Giornata> records;
  for (const GiornataId id : proposal.fresh) {
    Giornata& g = records.emplace_back();
    g.id = id;
  }
  return records;
}

}  // namespace

std::vector<Vec2> thin_places(const ProposalInput& input, const Proposal& proposal) {
  const std::vector<Giornata> records = records_of(proposal);
  ReviewInput review;
  review.wall = input.wall;
  review.network = &proposal.network;
  review.giornate = records;
  ReviewSettings settings;
  settings.tip_mm = input.tip_mm;
  Findings found;
  find_thin_ends(Case(review, settings), found, nullptr);
  std::vector<Vec2> places;
  for (const Finding& f : found) places.push_back(to_vec(f.chart));
  return places;
}

Shortcomings shortcomings(const ProposalInput& input, const Proposal& proposal, std::size_t thin,
                          std::vector<double>& hours) {
  const auto overfull = overfull_owners(input, proposal);
  const std::vector<Giornata> records = records_of(proposal);
  std::map<GiornataId, std::uint32_t> place;
  for (std::uint32_t k = 0; k < records.size(); ++k) place[records[k].id] = k;
  const WallMeasure measure = measure_wall(*input.wall, proposal.network, records);
  Shortcomings found;
  found.thin = thin;
  hours.assign(records.size(), 0);
  std::vector<MustPrecede> pairs;
  for (const GiornataMeasure& m : measure.giornate) {
    const auto h = painting_hours(*input.wall, proposal.network, m, input.zones, input.calendar);
    if (h.hours && place.contains(m.id)) hours[place[m.id]] = *h.hours;
    if (h.hours && *h.hours > proposal.hours_each && !overfull.contains(m.id)) ++found.over;
    for (const auto& run : m.runs_onto) {
      if (run.width_m - run.crown_m <= kRunsOnto || !place.contains(m.id) || !place.contains(run.id)) continue;
      const std::uint32_t upper = place[m.id], lower = place[run.id];
      pairs.push_back({upper, lower});
      if (proposal.deck[upper] < proposal.deck[lower]) pairs.push_back({lower, upper});
    }
  }
  found.tangled = on_circles(records.size(), pairs);
  return found;
}

}  // namespace pontata
