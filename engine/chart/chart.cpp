#include "engine/chart/chart.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/base/predicates.h"
#include "engine/chart/forms.h"

namespace pontata {

namespace {

bool holds(const std::vector<LatticePoint>& places, const Triangle& t, LatticePoint p) {
  const LatticePoint a = places[t[0]], b = places[t[1]], c = places[t[2]];
  return orient(a, b, p) >= 0 && orient(b, c, p) >= 0 && orient(c, a, p) >= 0;
}

Vec3 clipped(Vec3 w) {
  w = glm::max(w, Vec3{0, 0, 0});
  return w / (w.x + w.y + w.z);
}

}  // namespace

LatticePoint Chart::border_start(std::uint32_t edge) const {
  const auto& e = border_edges_[edge];
  return places_[mesh_->triangles[e.triangle][static_cast<std::size_t>(e.side)]];
}

LatticePoint Chart::border_end(std::uint32_t edge) const {
  const auto& e = border_edges_[edge];
  return places_[mesh_->triangles[e.triangle][static_cast<std::size_t>((e.side + 1) % 3)]];
}

ChartStretch Chart::stretch_of(std::uint32_t t) const {
  const auto& [i, j, k] = mesh_->triangles[t];
  const ChartPoint a = to_chart(places_[i]), b = to_chart(places_[j]), c = to_chart(places_[k]);
  const auto [least, greatest] =
      principal_scales(linear_form(mesh_->points[j] - mesh_->points[i], mesh_->points[k] - mesh_->points[i],
                                   {b.u - a.u, b.v - a.v}, {c.u - a.u, c.v - a.v}));
  return {least, greatest};
}

std::vector<Ring> Chart::border_rings() const {
  std::vector<Ring> rings;
  for (const auto& loop : loops_) {
    auto& ring = rings.emplace_back();
    for (const auto point : loop) ring.push_back(places_[point]);
  }
  return rings;
}

std::optional<std::uint32_t> Chart::triangle_at(LatticePoint p) const {
  for (const auto t : grid_.near(p))
    if (holds(places_, mesh_->triangles[t], p)) return t;
  return std::nullopt;
}

std::optional<WallPoint> Chart::locate(ChartPoint p) const {
  if (!fits_lattice(p)) return std::nullopt;
  const auto t = triangle_at(to_lattice(p));
  if (!t) return std::nullopt;
  return WallPoint{*t, clipped(weights(*t, p))};
}

std::optional<Chart::BorderPlace> Chart::other_side(BorderPlace at) const {
  const auto other = across_cut(at.edge);
  if (other == kNoTriangle) return std::nullopt;
  return BorderPlace{other, 1 - at.along};
}

Chart::BorderPlace Chart::nearest_border(ChartPoint p) const {
  const auto found = border_grid_.nearest(to_vec(p));
  return {found.edge, found.along};
}

ChartPoint Chart::clamp(ChartPoint p) const {
  if (fits_lattice(p) && triangle_at(to_lattice(p))) return p;
  const auto border = nearest_border(p);
  const ChartPoint a = to_chart(border_start(border.edge)), b = to_chart(border_end(border.edge));
  const ChartPoint foot{a.u + border.along * (b.u - a.u), a.v + border.along * (b.v - a.v)};
  const LatticePoint centre = to_lattice(foot);
  if (triangle_at(centre)) return to_chart(centre);
  constexpr std::int64_t kReach = 3;
  std::optional<LatticePoint> best;
  double least = std::numeric_limits<double>::infinity();
  for (std::int64_t dy = -kReach; dy <= kReach; ++dy)
    for (std::int64_t dx = -kReach; dx <= kReach; ++dx) {
      const LatticePoint q{centre.x + dx, centre.y + dy};
      const double distance = std::hypot(to_chart(q).u - foot.u, to_chart(q).v - foot.v);
      if (distance < least && triangle_at(q)) least = distance, best = q;
    }
  if (best) return to_chart(*best);
  return border.along < 0.5 ? a : b;  // a corner sharper than the search: its own point
}

ChartPoint Chart::address(const WallPoint& p) const {
  const auto& t = mesh_->triangles[p.triangle];
  const ChartPoint a = to_chart(places_[t[0]]), b = to_chart(places_[t[1]]), c = to_chart(places_[t[2]]);
  return {a.u + p.weights.y * (b.u - a.u) + p.weights.z * (c.u - a.u),
          a.v + p.weights.y * (b.v - a.v) + p.weights.z * (c.v - a.v)};
}

Vec3 Chart::weights(std::uint32_t t, ChartPoint p) const {
  const auto& corner = mesh_->triangles[t];
  const ChartPoint a = to_chart(places_[corner[0]]), b = to_chart(places_[corner[1]]), c = to_chart(places_[corner[2]]);
  const Vec2 ab{b.u - a.u, b.v - a.v}, ac{c.u - a.u, c.v - a.v}, ap{p.u - a.u, p.v - a.v};
  const double det = cross2(ab, ac);
  const double wb = cross2(ap, ac) / det, wc = cross2(ab, ap) / det;
  return {1 - wb - wc, wb, wc};
}

}  // namespace pontata
