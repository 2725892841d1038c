#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "engine/base/units.h"
#include "engine/picture/metric_grid.h"
#include "engine/review/seam_walk.h"

namespace pontata {

namespace {

constexpr double kStep = 0.02;      // m between places tried
constexpr double kLeastSeam = 0.1;  // m: shorter ones are left alone

struct RibPiece {
  Vec2 a{0, 0}, b{0, 0};
};

// Pieces of ribs by squares of the chart.
class RibGrid {
 public:
  RibGrid(const WallRibs& ribs, double side) : side_(side) {
    for (const auto& line : ribs.lines)
      for (std::size_t k = 0; k + 1 < line.size(); ++k) {
        const RibPiece piece{to_vec(line[k]), to_vec(line[k + 1])};
        each_square(glm::min(piece.a, piece.b), glm::max(piece.a, piece.b),
                    [&](std::pair<long, long> s) { squares_[s].push_back(piece); });
      }
  }
  template <class Visit>
  void near(Vec2 low, Vec2 high, const Visit& visit) const {
    each_square(low, high, [&](std::pair<long, long> s) {
      if (const auto it = squares_.find(s); it != squares_.end())
        for (const RibPiece& p : it->second) visit(p);
    });
  }

 private:
  template <class Visit>
  void each_square(Vec2 low, Vec2 high, const Visit& visit) const {
    for (long y = std::lround(std::floor(low.y / side_)); y <= std::lround(std::floor(high.y / side_)); ++y)
      for (long x = std::lround(std::floor(low.x / side_)); x <= std::lround(std::floor(high.x / side_)); ++x)
        visit({x, y});
  }
  double side_;
  std::map<std::pair<long, long>, std::vector<RibPiece>> squares_;
};

double distance(const ChartedWall& wall, const RibGrid& grid, Vec2 p, double reach) {
  const auto form = form_near(wall, to_chart(p));
  const double widest = 2 * reach / std::max(1e-6, wall.chart->stretch().least);
  double least = reach;
  grid.near(p - Vec2(widest), p + Vec2(widest), [&](const RibPiece& r) {
    const Vec2 d = r.b - r.a;
    const double t = std::clamp(glm::dot(p - r.a, d) / std::max(1e-300, glm::dot(d, d)), 0.0, 1.0);
    least = std::min(least, step_length(form, r.a + t * d - p));
  });
  return least;
}

bool crosses(Vec2 p, Vec2 q, const RibPiece& r) {
  const double a = cross2(q - p, r.a - p), b = cross2(q - p, r.b - p), c = cross2(r.b - r.a, p - r.a),
               d = cross2(r.b - r.a, q - r.a);
  return a * b < 0 && c * d < 0;
}

void judge(const Case& c, const RibGrid& grid, const SeamChain& chain, Findings& out) {
  const MeasuredLine line = measured_line(c.network(), chain);
  const double reach = c.settings.rib_mm / 1000;
  double along = 0;
  std::vector<Vec2> across;
  const int parts = std::max(1, static_cast<int>(line.total() / kStep));
  std::vector<char> beside(static_cast<std::size_t>(parts), 0);
  for (int k = 0; k < parts; ++k) {
    const Vec2 p = line.place(line.total() * (k + 0.5) / parts);
    beside[static_cast<std::size_t>(k)] = distance(c.wall(), grid, p, reach) < reach;
    if (beside[static_cast<std::size_t>(k)]) along += line.total() / parts;
  }
  // A crossing is one where the seam keeps off the rib before and after.
  for (int k = 0; k < parts; ++k) {
    const Vec2 p = line.place(line.total() * k / parts), q = line.place(line.total() * (k + 1) / parts);
    const auto clear = [&](double m) {
      return m < 0 || m > line.total() || distance(c.wall(), grid, line.place(m), reach) >= reach;
    };
    grid.near(glm::min(p, q), glm::max(p, q), [&](const RibPiece& r) {
      const double m = line.total() * (k + 0.5) / parts;
      if (crosses(p, q, r) && clear(m - 3 * reach) && clear(m + 3 * reach) &&
          (across.empty() || glm::distance(across.back(), p) > 2 * reach))
        across.push_back(0.5 * (p + q));
    });
  }
  std::vector<GiornataId> ids{chain.first};
  if (chain.second) ids.push_back(chain.second);
  const std::string names = c.names(chain.first, chain.second);
  if (line.total() >= kLeastSeam && along > c.settings.rib_share * line.total()) {
    Finding f = c.at("along-rib", Severity::note, ids, to_chart(line.place(0.5 * line.total())));
    f.value = along;
    f.stretches = {line.stretch(0, line.total())};
    f.says = fmt::format(
        "The seam between {} runs along an arris or rib for {} m: it hides there, but the edge breaks easily.", names,
        format_fixed(along, 2));
    f.remedy = "Lay one of the two round the arris by a hand's breadth, or see that both edges are pressed well.";
    out.push_back(std::move(f));
  }
  if (!across.empty()) {
    Finding f = c.at("across-rib", Severity::note, ids, to_chart(across.front()));
    f.value = static_cast<double>(across.size());
    f.says = fmt::format("The seam between {} crosses an arris or rib {}.", names,
                         across.size() == 1 ? "once" : fmt::format("{} times", across.size()));
    f.remedy = "Let it meet the arris square on, and cut the edge clean there.";
    out.push_back(std::move(f));
  }
}

}  // namespace

void find_ribs_crossed(const Case& c, Findings& out) {
  if (!c.input.ribs || c.input.ribs->lines.empty()) return;
  const RibGrid grid(*c.input.ribs, 0.1);
  for (const SeamChain& chain : seam_chains(c)) judge(c, grid, chain, out);
}

}  // namespace pontata
