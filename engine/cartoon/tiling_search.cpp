#include "engine/cartoon/tiling_search.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <tuple>

namespace pontata {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr int kShifts = 8;        // along either side of a core
constexpr int kDegrees = 3;       // from turn to turn
constexpr double kFineness = 14;  // points along the shortest side of a core
constexpr std::size_t kRefined = 8, kKept = 16;

// How good a way to lay the pattern is: sheets, then points on the sheet that shows the fewest (which a shift may
// save).
struct Score {
  int sheets = 1 << 30;
  int least = 1 << 30;
  auto operator<=>(const Score&) const = default;
};

struct Candidate {
  Score score;
  double turned = 0;  // degrees away from upright
  std::size_t shape = 0;
  Laid laid;
};
bool better(const Candidate& a, const Candidate& b) {
  return std::tie(a.score, a.turned, a.shape) < std::tie(b.score, b.turned, b.shape);
}

// Points all over the triangles, on a square lattice of this pitch.
std::vector<Vec2> sampled(const std::vector<Vec2>& corners, double pitch) {
  const Extent e = extent_of(corners, {1, 0});
  const auto columns = static_cast<std::size_t>(e.size().x / pitch) + 1,
             rows = static_cast<std::size_t>(e.size().y / pitch) + 1;
  std::vector<char> hit(columns * rows, 0);
  const auto mark = [&](Vec2 p) {
    const Vec2 q = (p - e.lo) / pitch;
    hit[std::min(static_cast<std::size_t>(std::max(q.y, 0.0)), rows - 1) * columns +
        std::min(static_cast<std::size_t>(std::max(q.x, 0.0)), columns - 1)] = 1;
  };
  for (std::size_t i = 0; i + 2 < corners.size(); i += 3) {
    const Vec2 a = corners[i], b = corners[i + 1] - a, c = corners[i + 2] - a;
    const double longest = std::max({glm::length(b), glm::length(c), glm::length(b - c)});
    const int n = std::max(1, static_cast<int>(std::ceil(longest / (0.7 * pitch))));
    for (int j = 0; j <= n; ++j)
      for (int k = 0; j + k <= n; ++k) mark(a + b * (1.0 * j / n) + c * (1.0 * k / n));
  }
  std::vector<Vec2> out;
  for (std::size_t r = 0; r < rows; ++r)
    for (std::size_t c = 0; c < columns; ++c)
      if (hit[r * columns + c])
        out.push_back(e.lo + pitch * Vec2{static_cast<double>(c) + 0.5, static_cast<double>(r) + 0.5});
  return out;
}

// All shifts of one turn at once: points are counted in cells of an eighth of a core, and sums over rectangles of
// cells tell how many points each core would hold.
class Shifts {
 public:
  Shifts(const std::vector<Vec2>& points, const SheetShape& shape, Vec2 turn) : shape_(shape), turn_(turn) {
    const Extent e = extent_of(points, turn);
    cell_ = shape.step / static_cast<double>(kShifts);
    lo_ = e.lo;
    columns_ = static_cast<int>(e.size().x / cell_.x) + 1, rows_ = static_cast<int>(e.size().y / cell_.y) + 1;
    sums_.assign(static_cast<std::size_t>(columns_ + 1) * static_cast<std::size_t>(rows_ + 1), 0);
    for (const Vec2& p : points) {
      const Vec2 q = (turned_by(turn, p) - lo_) / cell_;
      ++sum(std::min(static_cast<int>(q.x), columns_ - 1) + 1, std::min(static_cast<int>(q.y), rows_ - 1) + 1);
    }
    for (int r = 1; r <= rows_; ++r)
      for (int c = 1; c <= columns_; ++c) sum(c, r) += sum(c - 1, r) + sum(c, r - 1) - sum(c - 1, r - 1);
  }

  // The best shift and its score.
  std::pair<Score, Laid> best() {
    Score least;
    std::array<int, 2> at{};
    for (int y = 0; y < kShifts; ++y)
      for (int x = 0; x < kShifts; ++x)
        if (const Score s = score(x, y); s < least) least = s, at = {x, y};
    return {least, {turn_, lo_ - Vec2{at[0] * cell_.x, at[1] * cell_.y}}};
  }

 private:
  int& sum(int c, int r) {
    return sums_[static_cast<std::size_t>(r) * static_cast<std::size_t>(columns_ + 1) + static_cast<std::size_t>(c)];
  }
  Score score(int x, int y) {
    Score out{0, 1 << 30};
    for (int r = -y; r < rows_; r += kShifts)
      for (int c = -x; c < columns_; c += kShifts) {
        const int c0 = std::max(c, 0), c1 = std::min(c + kShifts, columns_), r0 = std::max(r, 0),
                  r1 = std::min(r + kShifts, rows_);
        const int held = sum(c1, r1) - sum(c0, r1) - sum(c1, r0) + sum(c0, r0);
        if (held > 0) ++out.sheets, out.least = std::min(out.least, held);
      }
    return out;
  }
  const SheetShape& shape_;
  Vec2 turn_, lo_{0, 0}, cell_{0, 0};
  int columns_ = 0, rows_ = 0;
  std::vector<int> sums_;
};

// Laid anyhow, point by point.
class Judge {
 public:
  explicit Judge(const std::vector<Vec2>& points) : points_(points) {}
  Score operator()(const SheetShape& shape, const Laid& laid) {
    const Extent e = extent_of(points_, laid.turn);
    const auto cell = [](double x) { return static_cast<int>(std::floor(x)); };
    const Vec2 lo = (e.lo - laid.start) / shape.step, hi = (e.hi - laid.start) / shape.step;
    const int c0 = cell(lo.x), r0 = cell(lo.y), columns = cell(hi.x) - c0 + 1;
    held_.assign(static_cast<std::size_t>(columns) * static_cast<std::size_t>(cell(hi.y) - r0 + 1), 0);
    for (const Vec2& p : points_) {
      const Vec2 q = (turned_by(laid.turn, p) - laid.start) / shape.step;
      ++held_[static_cast<std::size_t>((cell(q.y) - r0) * columns + cell(q.x) - c0)];
    }
    Score out{0, 1 << 30};
    for (const int n : held_)
      if (n > 0) ++out.sheets, out.least = std::min(out.least, n);
    return out;
  }

 private:
  const std::vector<Vec2>& points_;
  std::vector<int> held_;
};

// Small turns and shifts, halved as long as they help.
void refine(Judge& judge, const std::vector<SheetShape>& shapes, Candidate& c) {
  const SheetShape& shape = shapes[c.shape];
  double angle = 0.5 * kDegrees * kPi / 180;
  Vec2 shift = shape.step / (2.0 * kShifts);
  for (int round = 0; round < 4; ++round, angle /= 2, shift *= 0.5) {
    const Laid from = c.laid;
    const auto try_laid = [&](const Laid& laid) {
      const Score s = judge(shape, laid);
      if (s < c.score) c.score = s, c.laid = laid;
    };
    for (const double a : {-angle, angle}) {
      const Vec2 by{std::cos(a), std::sin(a)};
      try_laid({turned_by(by, from.turn), turned_by(by, from.start)});
    }
    for (const Vec2& d : {Vec2{shift.x, 0}, Vec2{-shift.x, 0}, Vec2{0, shift.y}, Vec2{0, -shift.y}})
      try_laid({from.turn, from.start + d});
  }
  c.turned = std::abs(std::atan2(c.laid.turn.y, c.laid.turn.x)) * 180 / kPi;
}

}  // namespace

std::vector<std::pair<std::size_t, Laid>> promising(const std::vector<Vec2>& corners,
                                                    const std::vector<SheetShape>& shapes) {
  double shortest = 1e300;
  for (const SheetShape& s : shapes) shortest = std::min({shortest, s.step.x, s.step.y});
  const Extent e = extent_of(corners, {1, 0});
  const std::vector<Vec2> points =
      sampled(corners, std::max(shortest / kFineness, std::max(e.size().x, e.size().y) / 200));
  std::vector<Candidate> found;
  for (std::size_t k = 0; k < shapes.size(); ++k)
    for (int deg = -90 + kDegrees; deg <= 90; deg += kDegrees) {
      Vec2 turn{std::cos(deg * kPi / 180), std::sin(deg * kPi / 180)};
      if (deg == 0) turn = {1, 0};
      if (deg == 90) turn = {0, 1};
      const auto [score, laid] = Shifts(points, shapes[k], turn).best();
      found.push_back({score, std::abs(1.0 * deg), k, laid});
    }
  std::sort(found.begin(), found.end(), better);
  // Upright is preferred when it needs no more, so its best shifts are always looked at.
  std::vector<Candidate> out;
  for (const Candidate& c : found)
    if (out.size() < kKept || c.turned == 0) out.push_back(c);
  Judge judge(points);
  for (std::size_t i = 0, kept = out.size(); i < std::min(kRefined, kept); ++i) {
    Candidate c = out[i];
    refine(judge, shapes, c);
    if (c.score < out[i].score) out.push_back(c);
  }
  std::stable_sort(out.begin(), out.end(), better);
  std::vector<std::pair<std::size_t, Laid>> laid;
  for (const Candidate& c : out) laid.emplace_back(c.shape, c.laid);
  return laid;
}

std::vector<Vec2> convex_hull(std::vector<Vec2> p) {
  std::sort(p.begin(), p.end(), [](Vec2 a, Vec2 b) { return std::pair(a.x, a.y) < std::pair(b.x, b.y); });
  if (p.size() < 3) return p;
  std::vector<Vec2> hull;
  const auto add = [&](Vec2 q, std::size_t floor) {
    while (hull.size() > floor + 1 && cross2(hull.back() - hull[hull.size() - 2], q - hull.back()) <= 0)
      hull.pop_back();
    hull.push_back(q);
  };
  for (const Vec2& q : p) add(q, 0);
  const std::size_t lower = hull.size() - 1;
  for (std::size_t i = p.size() - 1; i-- > 0;) add(p[i], lower);
  hull.pop_back();
  return hull;
}

}  // namespace pontata
