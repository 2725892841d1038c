// Rings that lie side by side along the cut, joined over it into the line that was drawn.
#include <algorithm>
#include <cmath>

#include "engine/chart/cut_crossing.h"
#include "engine/chart/cut_runs.h"

namespace pontata {

namespace {

constexpr double kOnePlace = 6 * kPitch;  // m: places of the two sides, rounded to the lattice

Vec2 vec(LatticePoint p) { return to_vec(to_chart(p)); }

double away(Vec2 p, Vec2 a, Vec2 b) {
  const Vec2 along = b - a;
  const double square = glm::dot(along, along);
  const double share = square > 0 ? std::clamp(glm::dot(p - a, along) / square, 0.0, 1.0) : 0;
  return glm::length(p - a - share * along);
}

class Opener {
 public:
  Opener(const Chart& chart, std::span<const Ring> rings) : chart_(chart), rings_(rings) {}

  std::optional<std::vector<LatticePoint>> open() {
    for (const Ring& ring : rings_)
      if (!take_parts(ring)) return std::nullopt;
    std::vector<LatticePoint> line;
    std::size_t part = 0;
    for (std::size_t left = parts_.size(); left > 0; --left) {
      const auto& points = parts_[part];
      line.insert(line.end(), points.begin() + 1, points.end() - 1);  // its ends are crossings
      const auto next = begins_across(points.back());
      if (!next || (*next == 0) != (left == 1)) return std::nullopt;
      part = *next;
    }
    return line.size() >= 3 ? std::optional(line) : std::nullopt;
  }

 private:
  // The same place as the other side of the cut has it; nullopt off the cut.
  std::optional<Vec2> across(Vec2 p) const {
    const auto at = chart_.nearest_border(to_chart(p));
    if (glm::length(to_vec(border_place(chart_, at)) - p) > kOnePlace) return std::nullopt;
    const auto other = chart_.other_side(at);
    return other ? std::optional(to_vec(border_place(chart_, *other))) : std::nullopt;
  }
  bool on_rim(Vec2 p) const {
    for (const Ring& ring : rings_)
      for (std::size_t i = 0; i < ring.size(); ++i)
        if (away(p, vec(ring[i]), vec(ring[(i + 1) % ring.size()])) <= kOnePlace) return true;
    return false;
  }
  // The step runs along the cut, with another part of the zone beyond.
  bool inside(LatticePoint a, LatticePoint b) const {
    const Vec2 p = vec(a), q = vec(b);
    if (!across(p) || !across(q)) return false;
    const auto beyond = across(0.5 * (p + q));
    return beyond && on_rim(*beyond);
  }
  // The ring's stretches between those along the cut, each from crossing to crossing. False where there is none.
  bool take_parts(const Ring& ring) {
    const std::size_t n = ring.size();
    std::vector<bool> cut(n);
    for (std::size_t i = 0; i < n; ++i) cut[i] = inside(ring[i], ring[(i + 1) % n]);
    const auto first = static_cast<std::size_t>(std::find(cut.begin(), cut.end(), true) - cut.begin());
    if (first == n) return false;
    for (std::size_t k = 1; k <= n; ++k) {
      const std::size_t i = (first + k) % n, before = (first + k - 1) % n;
      if (cut[i]) continue;
      if (cut[before]) parts_.push_back({ring[i]});
      parts_.back().push_back(ring[(i + 1) % n]);
    }
    return true;
  }
  std::optional<std::size_t> begins_across(LatticePoint end) const {
    const auto there = across(vec(end));
    for (std::size_t i = 0; there && i < parts_.size(); ++i)
      if (glm::length(vec(parts_[i].front()) - *there) <= kOnePlace) return i;
    return std::nullopt;
  }

  const Chart& chart_;
  std::span<const Ring> rings_;
  std::vector<std::vector<LatticePoint>> parts_;
};

}  // namespace

std::optional<std::vector<LatticePoint>> opened_along_cuts(const Chart& chart, std::span<const Ring> rings) {
  if (rings.size() == 1) return rings.front();
  return Opener(chart, rings).open();
}

}  // namespace pontata
