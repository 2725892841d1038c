// Proposals beside a general graph partitioner, and what they are worth on pictures. A table of: seconds to a proposal
// of 2,000 atoms, giornate (and the fewest that their hours allow), giornate over their hours and in more than one
// piece, share of seam on contours, of the same layout shifted by 100 mm, and where contours exist; then the cost of
// seam on the same atoms for as many groups, ours and METIS's (Karypis and Kumar 1998; its groups held to the same
// hours), and how many of its groups are over them or in more than one piece.
// bench_proposal [EVERY [FIRST]]: of the photographs that people drew contours on, every so many beginning with number
// FIRST (20 and 0 where not given); their folder is named by PONTATA_BSDS500 (tests/fixtures/human_contours.h).
#include <metis.h>

#include <chrono>
#include <cstdio>
#include <numbers>
#include <random>
#include <set>

#include "engine/proposal/gather.h"
#include "engine/review/layout_figures.h"
#include "engine/seams/ring_claim.h"
#include "tests/fixtures/human_contours.h"
#include "tests/proposal/drawn_patches.h"

using namespace pontata;

namespace {

constexpr double kWidth = 5;    // m of wall that a picture fills
constexpr double kShift = 0.1;  // m

struct Peer {
  double cost = 0;
  std::size_t over = 0, broken = 0;
};

std::size_t in_pieces(const AtomGraph& graph, const std::vector<idx_t>& part, idx_t parts) {
  std::vector<std::vector<std::uint32_t>> beside(graph.atoms.size());
  for (const AtomBorder& b : graph.borders) beside[b.a].push_back(b.b), beside[b.b].push_back(b.a);
  std::vector<char> seen(graph.atoms.size(), 0);
  std::vector<int> pieces(static_cast<std::size_t>(parts), 0);
  for (std::uint32_t a = 0; a < graph.atoms.size(); ++a) {
    if (seen[a]) continue;
    ++pieces[static_cast<std::size_t>(part[a])];
    std::vector<std::uint32_t> stack{a};
    seen[a] = 1;
    while (!stack.empty()) {
      const auto b = stack.back();
      stack.pop_back();
      for (const auto c : beside[b])
        if (!seen[c] && part[c] == part[a]) seen[c] = 1, stack.push_back(c);
    }
  }
  return static_cast<std::size_t>(std::ranges::count_if(pieces, [](int n) { return n > 1; }));
}

// The same atoms in as many groups by the reference library, the best of five seeds.
Peer peer_of(const AtomGraph& graph, std::size_t groups, double hours) {
  std::vector<std::vector<std::pair<idx_t, idx_t>>> links(graph.atoms.size());
  for (const AtomBorder& b : graph.borders) {
    const auto weight = std::max<idx_t>(1, static_cast<idx_t>(std::lround(1e5 * b.cost)));
    links[b.a].emplace_back(static_cast<idx_t>(b.b), weight);
    links[b.b].emplace_back(static_cast<idx_t>(b.a), weight);
  }
  std::vector<idx_t> start{0}, to, cost, load;
  double sum = 0;
  for (std::size_t a = 0; a < links.size(); ++a) {
    for (const auto& [other, weight] : links[a]) to.push_back(other), cost.push_back(weight);
    start.push_back(static_cast<idx_t>(to.size()));
    load.push_back(static_cast<idx_t>(std::lround(1e5 * graph.atoms[a].hours)));
    sum += graph.atoms[a].hours;
  }
  auto count = static_cast<idx_t>(links.size()), constraints = idx_t{1}, parts = static_cast<idx_t>(groups),
       cut = idx_t{0};
  Peer best;
  for (idx_t seed = 1; seed <= 5; ++seed) {
    idx_t options[METIS_NOPTIONS];
    METIS_SetDefaultOptions(options);
    options[METIS_OPTION_SEED] = seed;
    options[METIS_OPTION_CONTIG] = 1;
    options[METIS_OPTION_NCUTS] = 4;
    options[METIS_OPTION_UFACTOR] =
        std::max<idx_t>(1, static_cast<idx_t>(1000 * (hours / (sum / static_cast<double>(groups)) - 1)));
    std::vector<idx_t> part(links.size());
    if (METIS_PartGraphKway(&count, &constraints, start.data(), to.data(), load.data(), nullptr, cost.data(), &parts,
                            nullptr, nullptr, options, &cut, part.data()) != METIS_OK)
      continue;
    Peer now;
    for (const AtomBorder& b : graph.borders)
      if (part[b.a] != part[b.b]) now.cost += b.cost;
    std::vector<double> sums(groups, 0);
    for (std::size_t a = 0; a < part.size(); ++a) sums[static_cast<std::size_t>(part[a])] += graph.atoms[a].hours;
    now.over = static_cast<std::size_t>(std::ranges::count_if(sums, [&](double s) { return s > hours; }));
    now.broken = in_pieces(graph, part, parts);
    if (seed == 1 || now.cost < best.cost) best = now;
  }
  return best;
}

std::vector<std::vector<ChartPoint>> shifted(const Network& n, Vec2 by) {
  std::vector<std::vector<ChartPoint>> lines;
  for (std::uint32_t s = 0; s < n.half_edge_slots() / 2; ++s)
    if (n.alive(SeamId{s}) && !n.on_border({s}))
      lines.push_back(
          {to_chart(to_vec(to_chart(n.origin({s << 1}))) + by), to_chart(to_vec(to_chart(n.target({s << 1}))) + by)});
  return lines;
}

void row(const std::string& name, const Image& image) {
  const double height = kWidth * image.height / image.width;
  const WallRef wall = fixtures::flat_wall(kWidth, height);
  const Network network = Network::from_border(wall->chart->border_rings(), wall->metric->meter()).value();
  ProposalInput input;
  input.wall = wall;
  input.network = &network;
  input.draped = fixtures::draped(wall, image, PictureFrame{{0, 0}, kWidth, height, 0});
  input.contours = std::make_shared<const ContourField>(contour_field(*input.draped));
  input.calendar.rate_m2_per_h = kWidth * height / 70;  // ten giornate of 7 h
  input.calendar.levels_m = {0};
  input.calendar.reach_m = {100};
  const auto began = std::chrono::steady_clock::now();
  const auto proposal = propose_layout(input);
  const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
  if (!proposal) {
    std::printf("%-14s %s\n", name.c_str(), proposal.problem().message().c_str());
    return;
  }
  std::size_t over = 0, broken = 0;
  std::vector<Giornata> records;
  for (const GiornataId id : proposal->fresh) {
    Giornata g;
    g.id = id;
    records.push_back(g);
    broken += pieces_of(proposal->network, proposal->network.faces_of(id), nullptr).size() > 1;
  }
  for (const GiornataMeasure& m : measure_wall(*wall, proposal->network, records).giornate)
    over += *painting_hours(*wall, proposal->network, m, {}, input.calendar).hours > proposal->hours_each;
  const auto share =
      contour_share(*wall, proposal->network, input.contours.get(), input.draped.get(), input.contour_mm);
  std::mt19937 chance(7);
  double aside = 0;
  for (int k = 0; k < 8; ++k) {
    const double turn = 2 * std::numbers::pi * static_cast<double>(chance()) / static_cast<double>(std::mt19937::max());
    aside += contour_share(*wall, shifted(proposal->network, kShift * Vec2(std::cos(turn), std::sin(turn))),
                           input.contours.get(), input.draped.get(), input.contour_mm)
                 .on_contour() /
             8;
  }
  const AtomGraph graph = atoms_of(input).value();
  GatherOptions options;
  options.hours = proposal->hours_each;
  const Gathering ours = gather(graph, options);
  const Peer peer = peer_of(graph, ours.deck.size(), options.hours);
  std::printf("%-14s %6.2f %4zu (%2zu) %5zu %7zu  %5.1f %% %5.1f %% %5.1f %%  %4zu %8.2f %8.2f %6zu %7zu\n",
              name.c_str(), seconds, proposal->fresh.size(), proposal->fewest, over, broken, 100 * share.on_contour(),
              100 * aside, 100 * share.where_contours(), ours.deck.size(), ours.cost, peer.cost, peer.over,
              peer.broken);
  std::fflush(stdout);
}

}  // namespace

int main(int count, char** given) {
  std::printf("%-14s %6s %9s %5s %7s  %7s %7s %7s  %4s %8s %8s %6s %7s\n", "picture", "s", "giornate", "over", "broken",
              "on", "shifted", "where", "k", "ours", "peer", "over", "broken");
  for (const auto& [across, up] : {std::pair{7, 5}, {10, 8}, {16, 12}})
    row("patches " + std::to_string(across) + "x" + std::to_string(up), drawn_patches(1600, 1000, across, up));
  const auto folder = fixtures::photographs_folder();
  if (!folder) {
    std::printf("photographs skipped: PONTATA_BSDS500 names no folder with them\n");
    return 0;
  }
  const auto number = [&](int k, std::size_t otherwise) {
    return k < count ? static_cast<std::size_t>(std::strtoul(given[k], nullptr, 10)) : otherwise;
  };
  const auto names = fixtures::photograph_names(*folder);
  for (std::size_t k = number(2, 0); k < names.size(); k += std::max<std::size_t>(1, number(1, 20)))
    if (const auto image = read_image((*folder / "images/train" / (names[k] + ".jpg")).string())) row(names[k], *image);
  return 0;
}
