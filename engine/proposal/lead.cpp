#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "engine/proposal/line_clashes.h"
#include "engine/proposal/lines.h"
#include "engine/seams/hug_path.h"
#include "engine/seams/hug_search.h"

namespace pontata {

namespace {

constexpr double kStrength = 0.10;     // as HugOptions
constexpr double kCorridor = 4.5;      // cells to either side that a line may be led away
constexpr double kSnap = 1.6;          // cells that a junction may be drawn to a contour
constexpr double kTolerance = 0.5e-3;  // m, as HugOptions::simplify_mm
constexpr double kStraight = 0.8;      // cells that a straightened line may lie from its course
constexpr int kMostRounds = 40;
constexpr double kPlainReach = 0.1;  // chart m round a place where lines are to stay plain

using Places = std::map<std::pair<double, double>, Vec2>;
std::pair<double, double> key_of(Vec2 p) { return {p.x, p.y}; }

// The course without its steps: middles of the sides of cells, thinned.
std::vector<Vec2> straightened(const ChartedWall& wall, const std::vector<Vec2>& course, Vec2 from, Vec2 to,
                               double cell) {
  HugPath path;
  path.add(from, HugKind::free);
  for (std::size_t k = 1; k + 2 < course.size(); ++k) path.add(0.5 * (course[k] + course[k + 1]), HugKind::free);
  path.add(to, HugKind::free);
  return simplify(wall, path, kStraight * cell, {}).at;
}

class Leader {
 public:
  Leader(const ProposalGround& ground, const ProposalInput& input, std::vector<LayoutLine>& lines)
      : ground_(ground), input_(input), lines_(lines) {
    if (input.contours && input.contours->columns > 0)
      cost_ = std::make_unique<HugCost>(*input.wall, input.contours.get(), kStrength);
  }

  void run(std::span<const PlainPlace> plain, Progress* progress) {
    snap_junctions();
    std::vector<std::array<std::vector<Vec2>, 3>> ways(lines_.size());
    for (std::size_t l = 0; l < lines_.size(); ++l) {
      const auto& course = lines_[l].at;
      const Vec2 from = place(course.front()), to = place(course.back());
      ways[l][2] = course;
      ways[l][2].front() = from, ways[l][2].back() = to;
      ways[l][1] = straightened(*input_.wall, course, from, to, ground_.cell);
      ways[l][0] = cost_ && !is_cancelled(progress) ? hugged(course, from, to, progress) : ways[l][1];
    }
    settle(ways, plain);  // else all stay along their cells, their junctions where they were: those never clash
  }

 private:
  Vec2 place(Vec2 corner) const {
    const auto it = places_.find(key_of(corner));
    return it == places_.end() ? corner : it->second;
  }

  // Junctions are drawn to the plainest contour close by; those beside a keep-whole zone and on the rim stay.
  void snap_junctions() {
    if (!cost_) return;
    for (const LayoutLine& line : lines_) {
      if (!line.first_open) snap(line.at.front());
      if (!line.last_open) snap(line.at.back());
    }
  }
  void snap(Vec2 corner) {
    if (places_.contains(key_of(corner)) || beside_whole(corner)) return;
    const ContourField& field = *input_.contours;
    const double reach = kSnap * ground_.cell;
    const int around = static_cast<int>(std::ceil(reach / field.spacing));
    const int i0 = static_cast<int>(std::lround(corner.x / field.spacing)),
              j0 = static_cast<int>(std::lround(corner.y / field.spacing));
    double best = 0;
    Vec2 at = corner;
    for (int j = std::max(0, j0 - around); j <= std::min(field.rows - 1, j0 + around); ++j)
      for (int i = std::max(0, i0 - around); i <= std::min(field.columns - 1, i0 + around); ++i) {
        const Ridge ridge = field.at(i, j);
        if (ridge.strength < kStrength) continue;
        const double turn = ridge.direction, off = ridge.offset;
        const Vec2 p = (Vec2(i, j) + off * Vec2(std::cos(turn), std::sin(turn))) * field.spacing;
        const double worth = std::min<double>(ridge.strength, 0.4) * (1 - glm::distance(p, corner) / reach);
        if (worth > best) best = worth, at = p;
      }
    places_[key_of(corner)] = at;
  }
  bool beside_whole(Vec2 corner) const {
    const Vec2 at = (corner - ground_.origin) / ground_.cell;
    const int i = static_cast<int>(std::lround(at.x)), j = static_cast<int>(std::lround(at.y));
    for (int dj = -2; dj < 2; ++dj)
      for (int di = -2; di < 2; ++di)
        if (ground_.is_free(i + di, j + dj) && ground_.whole[ground_.index(i + di, j + dj)] != kNoAtom) return true;
    return false;
  }

  // The cheapest way beside the course.
  std::vector<Vec2> hugged(const std::vector<Vec2>& course, Vec2 from, Vec2 to, Progress* progress) {
    HugCells within(*cost_);
    const int reach = std::max(2, static_cast<int>(std::lround(kCorridor * ground_.cell / cost_->cell())));
    for (std::size_t k = 0; k + 1 < course.size(); ++k) {
      const Vec2 step = course[k + 1] - course[k];
      const int parts = 1 + static_cast<int>(glm::length(step) / (reach * cost_->cell()));
      for (int s = 0; s <= parts; ++s)
        within.add_round(cost_->cell_of(course[k] + step * (static_cast<double>(s) / parts)), reach);
    }
    const HugRegion region{from, to, 1e3, false};
    const HugRoot root{cost_->cell_at(from), 0};
    HugTree tree(*cost_, region, std::span(&root, 1), nullptr, &within, progress);
    const auto cells = tree.path(cost_->cell_at(to));
    if (!cells) return {from, to};
    return simplify(*input_.wall, follow_ridges(*cost_, *cells, from, to), kTolerance, {}).at;
  }

  // Each line takes its best way that clashes with none.
  bool settle(const std::vector<std::array<std::vector<Vec2>, 3>>& ways, std::span<const PlainPlace> plain) {
    std::vector<std::size_t> level(ways.size(), 0);
    for (std::size_t l = 0; l < ways.size(); ++l)
      for (const PlainPlace& p : plain)
        for (const auto& way : ways[l])
          if (std::ranges::any_of(way, [&](Vec2 q) { return glm::distance(q, p.at) < kPlainReach; }))
            level[l] = std::max(level[l], p.way);
    std::vector<LatticeLine> drawn(ways.size());
    const auto draw = [&](std::size_t l) {
      drawn[l].clear();
      for (const Vec2& p : ways[l][level[l]])
        if (const auto at = to_lattice(to_chart(p)); drawn[l].empty() || drawn[l].back() != at) drawn[l].push_back(at);
    };
    for (std::size_t l = 0; l < ways.size(); ++l) {
      draw(l);
      while (level[l] < 2 && enters_whole(drawn[l], input_.zones)) ++level[l], draw(l);
    }
    for (int round = 0; round < kMostRounds; ++round) {
      const auto bad = clashes(drawn);
      if (bad.empty()) break;
      bool changed = false;
      for (const auto& [a, b] : bad) {
        const std::size_t l = level[a] < level[b] || (level[a] == level[b] && shorter(ways, a, b)) ? a : b;
        if (level[l] == 2) continue;
        ++level[l], draw(l), changed = true;
      }
      if (!changed) return false;
      if (round + 1 == kMostRounds) return false;
    }
    for (std::size_t l = 0; l < ways.size(); ++l) lines_[l].at = ways[l][level[l]];
    return true;
  }
  static bool shorter(const std::vector<std::array<std::vector<Vec2>, 3>>& ways, std::size_t a, std::size_t b) {
    return ways[a][2].size() < ways[b][2].size();
  }

  const ProposalGround& ground_;
  const ProposalInput& input_;
  std::vector<LayoutLine>& lines_;
  std::unique_ptr<HugCost> cost_;
  Places places_;
};

}  // namespace

void lead_lines(const ProposalGround& ground, const ProposalInput& input, std::vector<LayoutLine>& lines,
                std::span<const PlainPlace> plain, Progress* progress) {
  Leader(ground, input, lines).run(plain, progress);
}

}  // namespace pontata
