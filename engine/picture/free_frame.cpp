#include "engine/picture/free_frame.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <queue>

namespace pontata {

namespace {

struct Side {
  Vec2 a, b;
};
using SideList = std::shared_ptr<const std::vector<std::uint32_t>>;

Vec2 turned(const Vec2& p, double c, double s) { return {c * p.x - s * p.y, s * p.x + c * p.y}; }

// Distance in the maximum norm. Along the side it is the greater of two convex functions, piecewise linear, so its
// least value lies at an end, where one of them is least or where the two cross.
double distance(const Side& side, const Vec2& p) {
  const Vec2 a = side.a - p, d = side.b - side.a;
  double least = std::min(std::max(std::abs(a.x), std::abs(a.y)), std::max(std::abs(a.x + d.x), std::abs(a.y + d.y)));
  const auto look = [&](double over, double under) {
    if (under == 0) return;
    const double t = over / under;
    if (t > 0 && t < 1) least = std::min(least, std::max(std::abs(a.x + t * d.x), std::abs(a.y + t * d.y)));
  };
  look(-a.x, d.x);
  look(-a.y, d.y);
  look(a.y - a.x, d.x - d.y);
  look(-a.y - a.x, d.x + d.y);
  return least;
}

class Area {
 public:
  Area(std::span<const Ring> rings, double aspect, double turn_deg) {
    const double turn = -turn_deg * std::numbers::pi / 180, c = std::cos(turn), s = std::sin(turn);
    const auto place = [&](LatticePoint p) { return turned(to_vec(to_chart(p)), c, s) * Vec2(1, aspect); };
    for (const Ring& ring : rings)
      for (std::size_t k = 0; k < ring.size(); ++k) add({place(ring[k]), place(ring[(k + 1) % ring.size()])});
    sort_into_bands();
  }

  bool empty() const { return sides_.empty(); }
  Vec2 low() const { return low_; }
  Vec2 high() const { return high_; }
  const Side& side(std::uint32_t k) const { return sides_[k]; }
  std::size_t size() const { return sides_.size(); }

  bool inside(const Vec2& p) const {
    if (!(p.y >= low_.y && p.y <= high_.y)) return false;
    bool in = false;
    for (const std::uint32_t k : bands_[band(p.y)]) {
      const auto& [a, b] = sides_[k];
      if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * ((p.y - a.y) / (b.y - a.y))) in = !in;
    }
    return in;
  }

 private:
  void add(const Side& side) {
    low_ = sides_.empty() ? glm::min(side.a, side.b) : glm::min(low_, glm::min(side.a, side.b));
    high_ = sides_.empty() ? glm::max(side.a, side.b) : glm::max(high_, glm::max(side.a, side.b));
    sides_.push_back(side);
  }

  void sort_into_bands() {
    bands_.resize(std::clamp<std::size_t>(sides_.size() / 4, 1, 4096));
    for (std::uint32_t k = 0; k < sides_.size(); ++k) {
      const auto [from, to] = std::minmax(sides_[k].a.y, sides_[k].b.y);
      for (std::size_t b = band(from); b <= band(to); ++b) bands_[b].push_back(k);
    }
  }
  std::size_t band(double y) const {
    const double share = high_.y > low_.y ? (y - low_.y) / (high_.y - low_.y) : 0;
    return std::min(bands_.size() - 1, static_cast<std::size_t>(share * static_cast<double>(bands_.size())));
  }

  std::vector<Side> sides_;
  std::vector<std::vector<std::uint32_t>> bands_;  // by height
  Vec2 low_{0, 0}, high_{0, 0};
};

// A square of places still to be searched.
struct Cell {
  Vec2 middle;
  double half = 0;
  double reach = 0;  // from the middle to the rim; negative outside
  SideList nearest;  // holds every side that is nearest to some place of the cell
  double bound() const { return reach + half; }
  bool operator<(const Cell& o) const { return bound() < o.bound(); }
};

Cell cell_at(const Area& area, const Vec2& middle, double half, const std::vector<std::uint32_t>& from) {
  std::vector<double> distances;
  double least = std::numeric_limits<double>::infinity();
  for (const std::uint32_t k : from) {
    distances.push_back(distance(area.side(k), middle));
    least = std::min(least, distances.back());
  }
  auto near = std::make_shared<std::vector<std::uint32_t>>();
  for (std::size_t i = 0; i < from.size(); ++i)
    if (distances[i] <= least + 2 * half) near->push_back(from[i]);
  return {middle, half, area.inside(middle) ? least : -least, std::move(near)};
}

// Middle and half side of the largest square, half side within `tolerance`.
std::pair<Vec2, double> largest_square(const Area& area, double tolerance) {
  std::vector<std::uint32_t> all(area.size());
  for (std::uint32_t k = 0; k < all.size(); ++k) all[k] = k;
  const Vec2 extent = area.high() - area.low();
  std::priority_queue<Cell> cells;
  cells.push(cell_at(area, 0.5 * (area.low() + area.high()), 0.5 * std::max(extent.x, extent.y), all));
  Vec2 best_middle = cells.top().middle;
  double best = cells.top().reach;
  while (!cells.empty() && cells.top().bound() > std::max(best, 0.0) + tolerance) {
    const Cell cell = cells.top();
    cells.pop();
    const double half = 0.5 * cell.half;
    for (const Vec2& corner : {Vec2(-1, -1), Vec2(1, -1), Vec2(-1, 1), Vec2(1, 1)}) {
      Cell part = cell_at(area, cell.middle + half * corner, half, *cell.nearest);
      if (part.reach > best) best = part.reach, best_middle = part.middle;
      if (part.bound() > std::max(best, 0.0) + tolerance) cells.push(std::move(part));
    }
  }
  return {best_middle, best};
}

}  // namespace

std::optional<PictureFrame> largest_frame(std::span<const Ring> rings, PictureSize picture, double turn_deg,
                                          double tolerance) {
  const double aspect = static_cast<double>(picture.width) / picture.height;
  const Area area(rings, aspect, turn_deg);
  if (area.empty()) return std::nullopt;
  const auto [middle, half] = largest_square(area, 0.5 * tolerance);
  if (2 * half <= tolerance) return std::nullopt;
  const double turn = turn_deg * std::numbers::pi / 180;
  const Vec2 corner = turned((middle - Vec2(half)) / Vec2(1, aspect), std::cos(turn), std::sin(turn));
  return PictureFrame{to_chart(corner), 2 * half, 2 * half / aspect, turn_deg};
}

}  // namespace pontata
