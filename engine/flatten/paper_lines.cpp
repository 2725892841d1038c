#include "engine/flatten/paper_lines.h"

#include <algorithm>
#include <cmath>

namespace pontata {
namespace {

constexpr std::size_t kOnRims = 100, kInside = 40, kClimbed = 6;

void add_spread(std::vector<std::uint32_t>& out, const std::vector<std::uint32_t>& from, std::size_t wanted) {
  const std::size_t count = std::min(wanted, from.size());
  for (std::size_t i = 0; i < count; ++i) out.push_back(from[i * from.size() / count]);
}

}  // namespace

PaperLines::PaperLines(const Patch& patch, std::span<const RestTriangle> rest, std::span<const Vec2> flat)
    : patch_(patch), flat_(flat) {
  for (std::size_t t = 0; t < rest.size(); ++t) {
    const Triangle& v = patch.triangles[t];
    const Gradient g = gradient(rest[t], flat[v[0]], flat[v[1]], flat[v[2]]);
    const double square = g.det() * g.det();  // the form is the inverse of J J^T
    forms_.push_back({(g.yx * g.yx + g.yy * g.yy) / square, -(g.xx * g.yx + g.xy * g.yy) / square,
                      (g.xx * g.xx + g.xy * g.xy) / square});
  }
  find_neighbours();
}

void PaperLines::find_neighbours() {
  struct Side {
    std::uint32_t from, to, triangle, k;
  };
  std::vector<Side> sides;
  fan_start_.assign(patch_.points.size() + 1, 0);
  for (std::uint32_t t = 0; t < patch_.triangles.size(); ++t)
    for (std::uint32_t k = 0; k < 3; ++k) {
      const Triangle& v = patch_.triangles[t];
      sides.push_back({v[k], v[(k + 1) % 3], t, k});
    }
  const auto less = [](const Side& a, const Side& b) { return std::tie(a.from, a.to) < std::tie(b.from, b.to); };
  std::sort(sides.begin(), sides.end(), less);
  across_.assign(patch_.triangles.size(), {kNone, kNone, kNone});
  for (const Side& s : sides) {
    fan_.push_back(s.triangle);
    ++fan_start_[s.from + 1];
    const auto twin = std::lower_bound(sides.begin(), sides.end(), Side{s.to, s.from, 0, 0}, less);
    if (twin != sides.end() && twin->from == s.to && twin->to == s.from) across_[s.triangle][s.k] = twin->triangle;
  }
  for (std::size_t v = 1; v < fan_start_.size(); ++v) fan_start_[v] += fan_start_[v - 1];
}

// From a to b; a point on the line counts as left of it, so that the line passes through no point.
std::optional<double> PaperLines::walk(std::uint32_t a, std::uint32_t b) const {
  const Vec2 from = flat_[a], way = flat_[b] - from;
  const auto side = [&](std::uint32_t v) { return cross2(way, flat_[v] - from); };
  std::uint32_t t = kNone, k = 0;  // the triangle we are in and the side we leave it by
  for (std::uint32_t i = fan_start_[a]; i < fan_start_[a + 1] && t == kNone; ++i) {
    const Triangle& v = patch_.triangles[fan_[i]];
    for (std::uint32_t c = 0; c < 3; ++c)
      if (v[c] == a && side(v[(c + 1) % 3]) < 0 && side(v[(c + 2) % 3]) >= 0) t = fan_[i], k = (c + 1) % 3;
  }
  double length = 0, passed = 0;
  for (std::size_t n = 0; t != kNone && n <= patch_.triangles.size(); ++n) {
    const Triangle& v = patch_.triangles[t];
    const Form& f = forms_[t];
    const double pace = std::sqrt(f.xx * way.x * way.x + 2 * f.xy * way.x * way.y + f.yy * way.y * way.y);
    const std::uint32_t right = v[k], left = v[(k + 1) % 3];
    if (right == b || left == b || v[(k + 2) % 3] == b) return length + pace * (1 - passed);
    const double sr = side(right), sl = side(left), share = sl == sr ? 0 : sr / (sr - sl);
    const Vec2 out = flat_[right] + share * (flat_[left] - flat_[right]) - from;
    const double reached = glm::dot(out, way) / glm::dot(way, way);
    length += pace * (reached - passed), passed = reached;
    t = across_[t][k];
    if (t == kNone) break;
    const Triangle& next = patch_.triangles[t];
    const auto c = static_cast<std::uint32_t>(std::find(next.begin(), next.end(), left) - next.begin());
    // the side we came by runs from `left` to `right` in it; we leave by one of the two others
    k = side(next[(c + 2) % 3]) >= 0 ? (c + 1) % 3 : (c + 2) % 3;
  }
  return std::nullopt;
}

std::optional<double> PaperLines::surface_length(std::uint32_t a, std::uint32_t b) const {
  if (a == b) return 0;
  if (const auto length = walk(a, b)) return length;
  return walk(b, a);  // a line along a straight rim has the paper on one side only
}

double PaperLines::difference(std::uint32_t a, std::uint32_t b) const {
  const auto length = surface_length(a, b);
  return length ? std::abs(glm::distance(flat_[a], flat_[b]) - *length) : 0;
}

std::vector<std::uint32_t> PaperLines::samples() const {
  std::vector<std::uint32_t> rim, inside, out;
  std::vector<bool> on_rim(patch_.points.size(), false);
  for (const auto& r : patch_.rims)
    for (const std::uint32_t v : r)
      if (!on_rim[v]) on_rim[v] = true, rim.push_back(v);
  for (std::uint32_t v = 0; v < patch_.points.size(); ++v)
    if (!on_rim[v]) inside.push_back(v);
  add_spread(out, rim, kOnRims);
  add_spread(out, inside, kInside);
  return out;
}

// Moves either end to a neighbour as long as that makes the difference greater.
PaperLines::Worst PaperLines::climbed(Worst best) const {
  for (bool moved = true; moved;) {
    moved = false;
    for (const bool second : {false, true}) {
      const std::uint32_t end = second ? best.ends.second : best.ends.first;
      const std::uint32_t other = second ? best.ends.first : best.ends.second;
      for (std::uint32_t i = fan_start_[end]; i < fan_start_[end + 1]; ++i)
        for (const std::uint32_t v : patch_.triangles[fan_[i]]) {
          const double d = difference(v, other);
          if (d > best.difference_m * (1 + 1e-9) + 1e-9) best = {d, {v, other}}, moved = true;
        }
      if (moved) break;
    }
  }
  return best;
}

PaperLines::Worst PaperLines::worst() const {
  std::vector<Worst> found;
  const auto worse = [](const Worst& a, const Worst& b) { return a.difference_m > b.difference_m; };
  const std::vector<std::uint32_t> points = samples();
  for (std::size_t i = 0; i < points.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) found.push_back({difference(points[i], points[j]), {points[i], points[j]}});
  const auto few = std::min(kClimbed, found.size());
  std::partial_sort(found.begin(), found.begin() + static_cast<std::ptrdiff_t>(few), found.end(), worse);
  Worst best;
  for (std::size_t i = 0; i < few; ++i)
    if (const Worst w = climbed(found[i]); worse(w, best)) best = w;
  return best;
}

}  // namespace pontata
