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
#include "engine/proposal/gather.h"
#include "engine/proposal/lines.h"
#include "engine/proposal/shortcomings.h"
#include "engine/seams/outline_edit.h"
#include "engine/seams/partition_edit.h"

namespace pontata {

namespace {

constexpr std::size_t kCellsOfAtom = 90;
// Of the hours that cells are gathered to, at the first, second and third attempt: what is laid out is measured
// exactly afterwards, and cells are coarse.
constexpr std::array<double, 3> kMargins{0.985, 0.95, 0.90};
constexpr int kAttempts = 3;
constexpr std::size_t kPlainRounds = 2;  // as many ways as a line has besides the first
constexpr double kBeyond = 3e-4;         // chart m that a seam leads on beyond the rim it ends on
constexpr double kTipSlack = 1.25;       // wider than a thin end by so much, before seams are led along contours

Problem stopped() { return {"stopped before a layout was found", "", ""}; }

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

struct Prepared {
  Network network;
  ProposalGround ground;
  Atoms atoms;
  double hours = 0;
};

Result<Prepared> prepare(const ProposalInput& input, const ProposalSettings& settings, Progress* progress) {
  const double hours = input.hours.value_or(painting_window_h(input.calendar));
  if (!plain_rate(input.calendar))
    return Problem{"without a rate nobody can tell how much is painted in a day", "",
                   "Set the rate at which you paint (set PROJECT rate 0.35)."};
  if (!(hours > 0) || !std::isfinite(hours))
    return Problem{"the plaster leaves no hours to paint in", "",
                   "Lengthen its window or shorten the waits, or tell the hours of a giornata."};
  auto network = cleared(input);
  if (!network) return network.problem();
  Prepared made{std::move(*network), {}, {}, hours};
  report(progress, 0.02, "looking at the wall");
  const auto atoms = static_cast<std::size_t>(std::clamp(settings.atoms, 50, 20000));
  made.ground = proposal_ground(input, made.network, kCellsOfAtom * atoms, progress);
  if (is_cancelled(progress)) return stopped();
  if (std::ranges::find(made.ground.free, 1) == made.ground.free.end())
    return Problem{"nothing of the wall is left to lay out", "", "Keep fewer of the giornate that are there."};
  report(progress, 0.15, "small pieces along contours");
  made.atoms = grow_atoms(made.ground, input, settings);
  return made;
}

// Who holds each atom now: for a layout to begin with.
std::vector<std::uint32_t> present_groups(const ProposalInput& input, const Prepared& made) {
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

CellGroups cells_of(const Prepared& made, const Gathering& gathering) {
  CellGroups groups{std::vector<std::uint32_t>(made.atoms.of_cell.size(), kNoAtom), gathering.deck, {}};
  for (std::size_t k = 0; k < groups.of_cell.size(); ++k)
    if (made.atoms.of_cell[k] != kNoAtom) groups.of_cell[k] = gathering.group[made.atoms.of_cell[k]];
  return groups;
}

// Groups that still have cells, from the highest deck down, in a deck from the left.
std::vector<std::uint32_t> in_order(const ProposalGround& ground, const CellGroups& groups) {
  std::vector<double> area(groups.deck.size(), 0), u(groups.deck.size(), 0);
  for (int j = 0; j < ground.rows; ++j)
    for (int i = 0; i < ground.columns; ++i)
      if (const auto g = groups.of_cell[ground.index(i, j)]; g != kNoAtom) {
        area[g] += ground.area[ground.index(i, j)];
        u[g] += ground.area[ground.index(i, j)] * ground.middle(i, j).x;
      }
  std::vector<std::uint32_t> order;
  for (std::uint32_t g = 0; g < groups.deck.size(); ++g)
    if (area[g] > 0) u[g] /= area[g], order.push_back(g);
  std::ranges::sort(order, [&](std::uint32_t a, std::uint32_t b) {
    return std::pair(-groups.deck[a], u[a]) < std::pair(-groups.deck[b], u[b]);
  });
  return order;
}

// A place just beyond the rim nearest to an end of a seam: the wall's border, or the seam of a giornata that stays.
std::optional<Vec2> beyond_rim(const Network& network, Vec2 end, double reach) {
  const LatticePoint low = to_lattice(to_chart(end - Vec2(reach))), high = to_lattice(to_chart(end + Vec2(reach)));
  double nearest = reach;
  std::optional<Vec2> found;
  for (const SeamId s : network.seams_near(low, high)) {
    const HalfEdgeId h{s.value << 1};
    const bool left_rest =
        network.half_edge(h).face != Network::kOutside && !network.face(network.half_edge(h).face).owner;
    const HalfEdgeId inner = left_rest ? h : Network::twin(h);  // the rest on its left
    const Vec2 a = to_vec(to_chart(network.origin(inner))), b = to_vec(to_chart(network.target(inner))), d = b - a;
    const double along = std::clamp(glm::dot(end - a, d) / glm::dot(d, d), 0.05, 0.95);
    const Vec2 foot = a + along * d;
    const double away = glm::distance(foot, end);
    if (away >= nearest) continue;
    nearest = away;
    const Vec2 out = away > 1e-6 ? (foot - end) / away : Vec2(d.y, -d.x) / glm::length(d);
    found = foot + kBeyond * out;
  }
  return found;
}

// Ends that lie in the rest are led on to the rim and beyond; those that lie beyond it already have crossed it.
std::vector<std::vector<LatticePoint>> laid_lines(const Network& network, const ProposalGround& ground,
                                                  std::span<const LayoutLine> lines) {
  std::vector<std::vector<LatticePoint>> laid;
  const FaceLocator locator(network);
  const auto in_rest = [&](Vec2 p) {
    const FaceId f = locator.face_at(to_lattice(to_chart(p)));
    return f != Network::kOutside && !network.face(f).owner;
  };
  for (const LayoutLine& line : lines) {
    auto at = line.at;
    if (line.first_open && in_rest(at.front()))
      if (const auto on = beyond_rim(network, at.front(), 4 * ground.cell)) at.insert(at.begin(), *on);
    if (line.last_open && in_rest(at.back()))
      if (const auto on = beyond_rim(network, at.back(), 4 * ground.cell)) at.push_back(*on);
    auto& out = laid.emplace_back();
    for (const Vec2& p : at)
      if (const auto q = to_lattice(to_chart(p)); out.empty() || out.back() != q) out.push_back(q);
    if (out.size() < 2) laid.pop_back();
  }
  return laid;
}

class OwnerAt {
 public:
  OwnerAt(const ProposalGround& ground, const CellGroups& groups, std::vector<GiornataId> ids)
      : ground_(ground), groups_(groups), ids_(std::move(ids)) {}
  // Of the cell there, or of the nearest one that has an owner within some cells.
  GiornataId operator()(ChartPoint p) const {
    const Vec2 at = (to_vec(p) - ground_.origin) / ground_.cell;
    const int i = static_cast<int>(std::floor(at.x)), j = static_cast<int>(std::floor(at.y));
    double nearest = 1e300;
    GiornataId found;
    for (int dj = -kAround; dj <= kAround; ++dj)
      for (int di = -kAround; di <= kAround; ++di) {
        if (!ground_.is_free(i + di, j + dj)) continue;
        const auto group = groups_.of_cell[ground_.index(i + di, j + dj)];
        const double away = glm::length(at - Vec2(i + di + 0.5, j + dj + 0.5));
        if (group != kNoAtom && away < nearest) nearest = away, found = ids_[group];
      }
    return found;
  }

 private:
  static constexpr int kAround = 4;
  const ProposalGround& ground_;
  const CellGroups& groups_;
  std::vector<GiornataId> ids_;
};

Proposal proposal_of(const Prepared& made, const Gathering& gathering, const CellGroups& groups,
                     std::span<const std::uint32_t> order, std::span<const GiornataId> ids, Network network) {
  Proposal proposal;
  proposal.network = std::move(network);
  for (const std::uint32_t g : order) {
    proposal.fresh.push_back(ids[g]);
    proposal.deck.push_back(groups.deck[g]);
  }
  proposal.seam_cost = gathering.cost;
  proposal.decks = made.atoms.decks;
  proposal.deck_hours.assign(made.atoms.decks.size(), 0);
  for (std::size_t k = 0; k < groups.of_cell.size(); ++k)
    if (groups.of_cell[k] != kNoAtom)
      proposal.deck_hours[static_cast<std::size_t>(groups.deck[groups.of_cell[k]])] += made.ground.hours[k];
  return proposal;
}

Result<Proposal> lay_lines(const ProposalInput& input, const Prepared& made, const Gathering& gathering,
                           const CellGroups& groups, std::span<const LayoutLine> lines) {
  const auto drawn = laid_lines(made.network, made.ground, lines);
  auto order = in_order(made.ground, groups);
  for (;;) {
    std::vector<GiornataId> ids(groups.deck.size());
    for (std::size_t k = 0; k < order.size(); ++k)
      ids[order[k]] = GiornataId{input.first_id + static_cast<std::uint32_t>(k)};
    auto network = lay_partition(made.network, drawn, OwnerAt(made.ground, groups, ids), input.wall->metric->meter(),
                                 input.wall->chart.get());
    if (!network) return network.problem();
    // A scrap of cells may come to nothing once its seams are led along contours: the others are numbered again.
    if (std::erase_if(order, [&](std::uint32_t g) { return network->faces_of(ids[g]).empty(); }) == 0)
      return proposal_of(made, gathering, groups, order, ids, std::move(*network));
  }
}

Result<Proposal> lay(const ProposalInput& input, const ProposalSettings& settings, const Prepared& made, double cap,
                     Progress* progress) {
  GatherOptions options;
  options.hours = cap;
  options.seed = settings.seed;
  if (settings.from_existing) options.start = present_groups(input, made);
  report(progress, 0.3, "gathering giornate");
  const Gathering gathering = gather(made.atoms.graph, options, progress);
  if (is_cancelled(progress)) return stopped();
  CellGroups groups = cells_of(made, gathering);
  report(progress, 0.6, "thin ends");
  tidy_groups(made.ground, kTipSlack * input.tip_mm / 1000, cap, groups);
  report(progress, 0.65, "seams along contours");
  const auto traced = trace_lines(made.ground, groups);
  std::vector<PlainPlace> plain;
  std::optional<Proposal> best;
  std::size_t least = 0;
  for (std::size_t round = 0; round <= kPlainRounds; ++round) {
    auto lines = traced;
    lead_lines(made.ground, input, lines, plain, progress);
    if (is_cancelled(progress)) return stopped();
    report(progress, 0.85, "laying seams");
    auto laid = lay_lines(input, made, gathering, groups, lines);
    if (!laid && !best) return laid.problem();
    if (!laid) break;
    // Where a seam led along a contour leaves an end thin it goes straight, then along its cells.
    const auto thin = thin_places(input, *laid);
    if (!best || thin.size() < least) best = std::move(*laid), least = thin.size();
    if (thin.empty()) break;
    for (const Vec2& at : thin) plain.push_back({at, round + 1});
  }
  return std::move(*best);
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
  ProposalSettings now = settings;
  std::size_t margin = 0;
  for (int attempt = 0; attempt < kAttempts && margin < kMargins.size(); ++attempt) {
    auto laid = lay(input, now, *made, made->hours * size * kMargins[margin], progress);
    if (!laid && (!best || is_cancelled(progress))) return laid.problem();
    if (!laid) break;
    Proposal& proposal = *laid;
    proposal.hours_each = made->hours;
    proposal.overfull = overfull_zones(input, made->ground, made->hours);
    const Shortcomings left = shortcomings(input, proposal, made->hours);
    if (!best || left < least) best = std::move(proposal), least = left;
    if (least == Shortcomings{}) break;
    // Too long a day wants more room, a circle of water or a thin end another beginning.
    if (left.over > 0)
      ++margin;
    else
      now.seed += 1000;
  }
  for (const double hours : best->deck_hours)
    best->fewest += static_cast<std::size_t>(std::ceil(hours / best->hours_each - 1e-9));
  add_remarks(input, *best, least);
  report(progress, 1, "done");
  return std::move(*best);
}

}  // namespace pontata
