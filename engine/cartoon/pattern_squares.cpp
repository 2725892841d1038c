#include "engine/cartoon/pattern_squares.h"

#include <algorithm>

namespace pontata {
namespace {

struct Piece {
  double from = 0, to = 0;      // along the line in the chart
  Vec2 start{0, 0}, end{0, 0};  // mm
};

// What one triangle shows of the line `at` across coordinate `across` (0: u, 1: v).
std::optional<Piece> piece_in(const Pattern& pattern, std::size_t t, double at, int across) {
  std::array<std::pair<double, Vec2>, 3> met;
  std::size_t count = 0;
  const Triangle& v = pattern.patch.triangles[t];
  for (std::size_t k = 0; k < 3; ++k) {
    const std::size_t n = (k + 1) % 3;
    const Vec2 a = to_vec(pattern.patch.corner_place(t, k)), b = to_vec(pattern.patch.corner_place(t, n));
    if ((a[across] < at) == (b[across] < at)) continue;  // an end on the line counts once
    const double s = (at - a[across]) / (b[across] - a[across]);
    met[count++] = {a[1 - across] + s * (b[1 - across] - a[1 - across]),
                    1000.0 * (pattern.flat.flat[v[k]] + s * (pattern.flat.flat[v[n]] - pattern.flat.flat[v[k]]))};
  }
  if (count != 2) return std::nullopt;
  if (met[0].first > met[1].first) std::swap(met[0], met[1]);
  return Piece{met[0].first, met[1].first, met[0].second, met[1].second};
}

// Pieces that follow one another, joined.
void join(std::vector<Piece> pieces, const std::string& name, std::vector<PatternSquareLine>& out) {
  constexpr double kSame = 1e-4;  // mm
  std::sort(pieces.begin(), pieces.end(), [](const Piece& a, const Piece& b) { return a.from < b.from; });
  for (const Piece& p : pieces) {
    const bool follows =
        !out.empty() && out.back().name == name && glm::distance(out.back().points.back(), p.start) < kSame;
    if (!follows) out.push_back({name, {p.start}});
    out.back().points.push_back(p.end);
  }
}

}  // namespace

std::vector<PatternSquareLine> pattern_squares(const Pattern& pattern, const Squares& squares) {
  std::vector<PatternSquareLine> out;
  for (const SquareLine& line : squares.lines) {
    std::vector<Piece> pieces;
    for (std::size_t t = 0; t < pattern.patch.triangles.size(); ++t)
      if (const auto piece = piece_in(pattern, t, line.at, line.upright ? 0 : 1)) pieces.push_back(*piece);
    join(std::move(pieces), line.name, out);
  }
  return out;
}

Result<std::optional<Squares>> wall_squares(const CartoonWall& wall) {
  if (!(wall.squaring_m > 0)) return std::optional<Squares>{};
  auto squares = squares_on(*wall.wall, wall.squaring_m);
  if (!squares) return squares.problem();
  return std::optional(std::move(*squares));
}

}  // namespace pontata
