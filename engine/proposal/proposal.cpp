#include "engine/proposal/proposal.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "engine/base/units.h"
#include "engine/calendar/rates.h"
#include "engine/giornate/face_locator.h"
#include "engine/giornate/measures.h"
#include "engine/proposal/laying.h"
#include "engine/proposal/shortcomings.h"
#include "engine/seams/outline_edit.h"
#include "engine/seams/partition_edit.h"

namespace pontata {

namespace {

constexpr std::size_t kCellsOfAtom = 90;
// Of the hours that cells are gathered to, less each time that this was too much: what is laid out is measured
// exactly afterwards, and cells are coarse.
constexpr std::array<double, 3> kMargins{0.985, 0.95, 0.90};
constexpr int kAttempts = 5;
constexpr int kAgainGenerations = 4;  // of gathering, from the second attempt on

// The network with those giornate alone that stay.
Result<Network> cleared(const ProposalInput& input) {
  Network network = *input.network;
  for (const Giornata& g : input.giornate) {
    if (!g.alive || std::ranges::find(input.keep, g.id) != input.keep.end() || network.faces_of(g.id).empty()) continue;
    auto without = remove_giornata(network, g.id, input.wall->metric->meter());
    if (!without) return without.problem();
    network = std::move(*without);
  }
  return network;
}

Result<PreparedWall> prepare(const ProposalInput& input, const ProposalSettings& settings, Progress* progress) {
  const double hours = input.hours.value_or(painting_window_h(input.calendar));
  if (!plain_rate(input.calendar))
    return Problem{"without a rate nobody can tell how much is painted in a day", "",
                   "Set the rate at which you paint (set PROJECT rate 0.35)."};
  if (!(hours > 0) || !std::isfinite(hours))
    return Problem{"the plaster leaves no hours to paint in", "",
                   "Lengthen its window or shorten the waits, or tell the hours of a giornata."};
  auto network = cleared(input);
  if (!network) return network.problem();
  PreparedWall made{std::move(*network), {}, {}, hours};
  report(progress, 0.02, "looking at the wall");
  const auto atoms = static_cast<std::size_t>(std::clamp(settings.atoms, 50, 20000));
  made.ground = proposal_ground(input, made.network, kCellsOfAtom * atoms, progress);
  if (is_cancelled(progress)) return stopped_laying();
  if (std::ranges::find(made.ground.free, 1) == made.ground.free.end())
    return Problem{"nothing of the wall is left to lay out", "", "Keep fewer of the giornate that are there."};
  report(progress, 0.15, "small pieces along contours");
  made.atoms = grow_atoms(made.ground, input, settings);
  return made;
}

// Who holds each atom now: for a layout to begin with.
std::vector<std::uint32_t> present_groups(const ProposalInput& input, const PreparedWall& made) {
  std::vector<std::map<std::uint32_t, double>> area(made.atoms.graph.atoms.size());
  const FaceLocator locator(*input.network);
  for (int j = 0; j < made.ground.rows; ++j)
    for (int i = 0; i < made.ground.columns; ++i) {
      const std::size_t k = made.ground.index(i, j);
      if (made.atoms.of_cell[k] == kNoAtom) continue;
      const FaceId face = locator.face_at(to_lattice(to_chart(made.ground.middle(i, j))));
      if (face == Network::kOutside) continue;
      if (const GiornataId owner = input.network->face(face).owner)
        area[made.atoms.of_cell[k]][owner.value] += made.ground.area[k];
    }
  std::vector<std::uint32_t> groups;
  for (const auto& by_owner : area) {
    const auto most = std::ranges::max_element(by_owner, {}, [](const auto& e) { return e.second; });
    groups.push_back(most == by_owner.end() ? kNoAtom : most->first);
  }
  return groups;
}

std::vector<OverfullZone> overfull_zones(const ProposalInput& input, const ProposalGround& ground, double hours) {
  std::vector<double> sum(input.zones.size(), 0);
  for (std::size_t k = 0; k < ground.whole.size(); ++k)
    if (ground.whole[k] != kNoAtom) sum[ground.whole[k]] += ground.hours[k];
  std::vector<OverfullZone> found;
  for (std::size_t z = 0; z < sum.size(); ++z)
    if (sum[z] > hours) found.push_back({input.zones[z].id, input.zones[z].name, sum[z]});
  return found;
}

// Seams led along contours take from one giornata and give to another: atoms of those that came to more count as more.
void put_hours_right(AtomGraph& graph, const LaidLayout& laid, std::span<const double> hours) {
  std::map<std::uint32_t, double> sum;
  for (std::size_t a = 0; a < graph.atoms.size(); ++a) sum[laid.group[a]] += graph.atoms[a].hours;
  std::map<std::uint32_t, double> times;
  for (std::size_t k = 0; k < laid.order.size(); ++k)
    if (sum[laid.order[k]] > 0) times[laid.order[k]] = hours[k] / sum[laid.order[k]];
  for (std::size_t a = 0; a < graph.atoms.size(); ++a)
    if (const auto it = times.find(laid.group[a]); it != times.end()) graph.atoms[a].hours *= std::max(1.0, it->second);
}

void add_remarks(const ProposalInput& input, Proposal& proposal, const Shortcomings& left) {
  for (const OverfullZone& zone : proposal.overfull)
    proposal.remarks.push_back(fmt::format("{} is to be kept whole, but alone needs {} h; a giornata has {} h.",
                                           zone.name.empty() ? "An area" : "\"" + zone.name + "\"",
                                           format_fixed(zone.hours, 1), format_fixed(proposal.hours_each, 1)));
  if (left.over > 0)
    proposal.remarks.push_back(fmt::format(
        "{} more than {} hours.", left.over == 1 ? "1 giornata needs" : fmt::format("{} giornate need", left.over),
        left.over == 1 ? "its" : "their"));
  if (left.tangled > 0)
    proposal.remarks.push_back(fmt::format(
        "Of {} giornate each lies partly above another: whichever comes first, hang a cover over it.", left.tangled));
  if (!input.contours || input.contours->columns == 0)
    proposal.remarks.emplace_back("No picture lies on the wall: seams follow nothing.");
  if (input.wall->chart->has_cuts())
    proposal.remarks.emplace_back("The wall closes round itself: a seam runs along the line where it was opened.");
}

}  // namespace

Result<AtomGraph> atoms_of(const ProposalInput& input, const ProposalSettings& settings) {
  auto made = prepare(input, settings, nullptr);
  if (!made) return made.problem();
  return std::move(made->atoms.graph);
}

Result<Proposal> propose_layout(const ProposalInput& input, const ProposalSettings& settings, Progress* progress) {
  const auto made = prepare(input, settings, progress);
  if (!made) return made.problem();
  const double size = std::clamp(settings.size, 0.2, 1.0);
  std::optional<Proposal> best;
  Shortcomings least;
  GatherOptions options;
  options.seed = settings.seed;
  if (settings.from_existing) options.start = present_groups(input, *made);
  const std::vector<std::uint32_t> start = options.start;
  const std::vector<OverfullZone> overfull = overfull_zones(input, made->ground, made->hours);
  AtomGraph graph = made->atoms.graph;
  std::size_t margin = 0;
  bool put_right = false;
  for (int attempt = 0; attempt < kAttempts && margin < kMargins.size(); ++attempt) {
    options.hours = made->hours * size * kMargins[margin];
    if (attempt > 0) options.generations = kAgainGenerations;
    report(progress, 0.3, "gathering giornate");
    auto laid = lay_out(input, settings.contours, *made, graph, options, progress);
    if (!laid && (!best || is_cancelled(progress))) return laid.problem();
    if (!laid) break;
    Proposal& proposal = laid->proposal;
    proposal.hours_each = made->hours;
    proposal.overfull = overfull;
    std::vector<double> hours;
    const Shortcomings left = shortcomings(input, proposal, laid->thin, hours);
    if (!best || left < least) best = std::move(proposal), least = left;
    if (least == Shortcomings{}) break;
    // Too long a day passes a little on to others; where that does not help all want more room. A circle of water or a
    // thin end wants another beginning.
    put_right = left.over > 0 && !put_right;
    graph = made->atoms.graph;
    if (put_right) {
      options.start = laid->group;
      put_hours_right(graph, *laid, hours);
      continue;
    }
    options.start = start;
    if (left.over > 0)
      ++margin;
    else
      options.seed += 1000;
  }
  for (const double hours : best->deck_hours)
    best->fewest += static_cast<std::size_t>(std::ceil(hours / best->hours_each - 1e-9));
  add_remarks(input, *best, least);
  report(progress, 1, "done");
  return std::move(*best);
}

}  // namespace pontata
