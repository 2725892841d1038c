// Proposals beside a general graph partitioner, and what they are worth on pictures. A table of: seconds to a proposal
// of 2,000 atoms, giornate (and the fewest that their hours allow), giornate over their hours and in more than one
// piece, share of seam on contours, of the same layout shifted by 100 mm, and where contours exist (within 10 mm of
// one; within two pixels; within 10 mm where the nearest is 400 mm long or more); of a photograph the share within two
// pixels of what any of its people drew, and of the layout shifted; then the cost of seam on the same atoms for as many
// groups, ours and METIS's (tests/fixtures/graph_peer.h), and how many of its groups are over the hours or in more than
// one piece. bench_proposal [EVERY [FIRST]]: of the photographs that people drew contours on, every so many beginning
// with number FIRST (20 and 0 where not given); their folder is named by PONTATA_BSDS500
// (tests/fixtures/human_contours.h).
#include <chrono>
#include <cstdio>
#include <numbers>
#include <random>
#include <set>

#include "engine/proposal/gather.h"
#include "engine/review/layout_figures.h"
#include "engine/seams/ring_claim.h"
#include "tests/fixtures/graph_peer.h"
#include "tests/fixtures/human_contours.h"
#include "tests/proposal/drawn_patches.h"
#include "tests/proposal/shifted_lines.h"

using namespace pontata;

namespace {

constexpr double kWidth = 5;    // m of wall that a picture fills
constexpr double kShift = 0.1;  // m
constexpr double kLong = 0.4;   // m, a contour that nobody takes for texture

// Share of lines within two pixels of what any of the photograph's people drew; beside the picture nothing is counted.
double people_share(const fixtures::DrawnPhotograph& photograph, const Lines& lines, double height) {
  const double pixel = kWidth / photograph.image.width;
  std::size_t all = 0, near = 0;
  for (const auto& line : lines) {
    fixtures::PixelLine at;
    for (const ChartPoint p : line) at.push_back(Vec2(p.u / pixel - 0.5, (height - p.v) / pixel - 0.5));
    const auto inside = [&](Vec2 q) {
      return q.x >= 0 && q.y >= 0 && q.x < photograph.image.width && q.y < photograph.image.height;
    };
    if (!std::ranges::all_of(at, inside)) continue;
    std::vector<double> least;
    for (std::size_t person = 0; person < photograph.distance.size(); ++person) {
      std::vector<double> own;
      fixtures::add_distances(photograph, person, at, own);
      if (person == 0) least = own;
      for (std::size_t k = 0; k < own.size(); ++k) least[k] = std::min(least[k], own[k]);
    }
    all += least.size();
    near += static_cast<std::size_t>(std::ranges::count_if(least, [](double d) { return d <= 2; }));
  }
  return all > 0 ? static_cast<double>(near) / static_cast<double>(all) : 0;
}

// Samples of the contours, each with how many hang together with it without a turn.
class Chains {
 public:
  explicit Chains(const ContourField& field) : field_(field), length_(field.index(0, field.rows), 0) {
    field.each_ridge([&](int i, int j, const Ridge& ridge) {
      if (ridge.strength >= kStrength && length_[field_.index(i, j)] == 0) follow(i, j);
    });
  }
  // Of seam where the nearest contour that runs its way, within kContourNear, is so long, the share within near_m of
  // it.
  double share_on(const Lines& lines, double least_m, double near_m) const {
    double all = 0, on = 0;
    for (const auto& line : lines) {
      const Vec2 a = to_vec(line[0]), way = to_vec(line[1]) - a;
      const double length = glm::length(way);
      const int parts = std::max(1, static_cast<int>(std::ceil(length / 0.01)));
      for (int k = 0; k < parts && length > 0; ++k) {
        const auto [away, samples] = nearest(a + (k + 0.5) / parts * way, way / length);
        if (samples * field_.spacing < least_m) continue;
        all += length / parts;
        if (away < near_m) on += length / parts;
      }
    }
    return all > 0 ? on / all : 0;
  }

 private:
  static constexpr float kStrength = 0.10f;
  static constexpr double kAlong = 0.6;  // radians, as contour_share

  void follow(int i, int j) {
    std::vector<std::pair<int, int>> chain{{i, j}};
    length_[field_.index(i, j)] = 1;
    for (std::size_t at = 0; at < chain.size(); ++at)
      for (int k = 0; k < 9; ++k) {
        const auto [i0, j0] = chain[at];
        const int x = i0 + k % 3 - 1, y = j0 + k / 3 - 1;
        if (x < 0 || y < 0 || x >= field_.columns || y >= field_.rows || length_[field_.index(x, y)] > 0) continue;
        const Ridge here = field_.at(i0, j0), next = field_.at(x, y);
        if (next.strength < kStrength || std::abs(std::cos(next.direction - here.direction)) < 0.7f) continue;
        length_[field_.index(x, y)] = 1;
        chain.emplace_back(x, y);
      }
    for (const auto& [x, y] : chain) length_[field_.index(x, y)] = static_cast<int>(chain.size());
  }
  // How far it is, and of how many samples; kContourNear and 0 where there is none.
  std::pair<double, int> nearest(Vec2 p, Vec2 way) const {
    const int reach = static_cast<int>(kContourNear / field_.spacing) + 1;
    const int ci = static_cast<int>(std::lround(p.x / field_.spacing)),
              cj = static_cast<int>(std::lround(p.y / field_.spacing));
    std::pair<double, int> best{kContourNear, 0};
    for (int j = std::max(0, cj - reach); j <= std::min(field_.rows - 1, cj + reach); ++j)
      for (int i = std::max(0, ci - reach); i <= std::min(field_.columns - 1, ci + reach); ++i) {
        const Ridge ridge = field_.at(i, j);
        if (ridge.strength < kStrength) continue;
        const Vec2 across(std::cos(ridge.direction), std::sin(ridge.direction)), along(-across.y, across.x);
        if (std::abs(glm::dot(along, way)) < std::cos(kAlong)) continue;
        Vec2 d = (Vec2(i, j) + across * static_cast<double>(ridge.offset)) * field_.spacing - p;
        d -= along * std::clamp(glm::dot(d, along), -0.6 * field_.spacing, 0.6 * field_.spacing);
        if (glm::length(d) < best.first) best = {glm::length(d), length_[field_.index(i, j)]};
      }
    return best;
  }

  const ContourField& field_;
  std::vector<int> length_;
};

void row(const std::string& name, const Image& image, const fixtures::DrawnPhotograph* drawn = nullptr) {
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
  constexpr int kTurns = 8;
  double aside = 0, people = 0, people_aside = 0;
  if (drawn) people = people_share(*drawn, shifted(proposal->network, {0, 0}), height);
  for (int k = 0; k < kTurns; ++k) {
    const double turn = 2 * std::numbers::pi * static_cast<double>(chance()) / static_cast<double>(std::mt19937::max());
    const Lines lines = shifted(proposal->network, kShift * Vec2(std::cos(turn), std::sin(turn)));
    aside += contour_share(*wall, lines, input.contours.get(), input.draped.get(), input.contour_mm).on_contour();
    if (drawn) people_aside += people_share(*drawn, lines, height);
  }
  aside /= kTurns, people_aside /= kTurns;
  const double two_pixels_mm = 2000 * kWidth / image.width;
  const auto loosely = contour_share(*wall, proposal->network, input.contours.get(), input.draped.get(), two_pixels_mm);
  const double along_long =
      Chains(*input.contours).share_on(shifted(proposal->network, {0, 0}), kLong, input.contour_mm / 1000);
  AtomGraph graph = atoms_of(input).value();
  for (AtomBorder& b : graph.borders) b.falls_m = b.rises_m = 0;  // the peer knows nothing of water
  GatherOptions options;
  options.hours = proposal->hours_each;
  const Gathering ours = gather(graph, options);
  const fixtures::GraphPeer peer = fixtures::graph_peer(graph, ours.deck.size(), options.hours);
  std::printf(
      "%-14s %6.2f %4zu (%2zu) %5zu %7zu  %5.1f %% %5.1f %% %5.1f %% %5.1f %% %5.1f %%  %5.1f %% %5.1f %%  %4zu %8.2f "
      "%8.2f "
      "%6zu %7zu\n",
      name.c_str(), seconds, proposal->fresh.size(), proposal->fewest, over, broken, 100 * share.on_contour(),
      100 * aside, 100 * share.where_contours(), 100 * loosely.where_contours(), 100 * along_long, 100 * people,
      100 * people_aside, ours.deck.size(), ours.cost, peer.cost, peer.over, peer.broken);
  std::fflush(stdout);
}

}  // namespace

int main(int count, char** given) {
  std::printf("%-14s %6s %9s %5s %7s  %7s %7s %7s %7s %7s  %7s %7s  %4s %8s %8s %6s %7s\n", "picture", "s", "giornate",
              "over", "broken", "on", "shifted", "where", "2 px", "long", "people", "shifted", "k", "ours", "peer",
              "over", "broken");
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
  for (std::size_t k = number(2, 0); k < names.size(); k += std::max<std::size_t>(1, number(1, 20))) {
    const auto drawn = fixtures::drawn_photograph(*folder, names[k]);
    row(names[k], drawn.image, &drawn);
  }
  return 0;
}
