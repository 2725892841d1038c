#include "engine/proposal/laying.h"

#include <algorithm>
#include <cmath>

#include "engine/giornate/face_locator.h"
#include "engine/proposal/lines.h"
#include "engine/proposal/shortcomings.h"
#include "engine/seams/partition_edit.h"

namespace pontata {

namespace {

constexpr std::size_t kPlainRounds = 2;  // times that lines are held closer by their course for thin ends
constexpr double kBeyond = 3e-4;         // chart m that a seam leads on beyond the rim it ends on
constexpr double kTipSlack = 1.25;       // wider than a thin end by so much, before seams are led along contours

CellGroups cells_of(const PreparedWall& made, const Gathering& gathering) {
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

Proposal proposal_of(const PreparedWall& made, const Gathering& gathering, const CellGroups& groups,
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

Result<LaidLayout> lay_lines(const ProposalInput& input, const PreparedWall& made, const Gathering& gathering,
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
      return LaidLayout{proposal_of(made, gathering, groups, order, ids, std::move(*network)), 0, gathering.group,
                        order};
  }
}

}  // namespace

Result<LaidLayout> lay_out(const ProposalInput& input, double strict, const PreparedWall& wall, const AtomGraph& graph,
                           const GatherOptions& options, Progress* progress) {
  const Gathering gathering = gather(graph, options, progress);
  if (is_cancelled(progress)) return stopped_laying();
  CellGroups groups = cells_of(wall, gathering);
  report(progress, 0.6, "thin ends");
  tidy_groups(wall.ground, kTipSlack * input.tip_mm / 1000, options.hours, groups);
  report(progress, 0.65, "seams along contours");
  LineLeader leader(wall.ground, input, strict, trace_lines(wall.ground, groups), progress);
  std::vector<PlainPlace> plain;
  std::optional<LaidLayout> best;
  for (std::size_t round = 0; round <= kPlainRounds; ++round) {
    const auto lines = leader.led(plain, progress);
    if (is_cancelled(progress)) return stopped_laying();
    report(progress, 0.85, "laying seams");
    auto laid = lay_lines(input, wall, gathering, groups, lines);
    if (!laid && !best) return laid.problem();
    if (!laid) break;
    // Where a seam led along a contour leaves an end thin it stays closer by its course.
    const auto thin = thin_places(input, laid->proposal);
    laid->thin = thin.size();
    if (!best || thin.size() < best->thin) best = std::move(*laid);
    if (thin.empty()) break;
    for (const Vec2& at : thin) plain.push_back({at, round + 1});
  }
  return std::move(*best);
}

}  // namespace pontata
