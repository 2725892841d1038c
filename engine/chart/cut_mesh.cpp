#include "engine/chart/cut_mesh.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "engine/chart/thickness.h"
#include "engine/chart/topology.h"

namespace pontata {

namespace {

constexpr double kNear = 128;  // pitches (0.5 micrometres): no new point so near to one that is there
constexpr double kFar = 4096;  // pitches (15 micrometres): as far as a line gives way where there is no room for it

std::size_t at(int k) { return static_cast<std::size_t>(k % 3); }

Vec2 step(LatticePoint from, LatticePoint to) {
  return {static_cast<double>(to.x - from.x), static_cast<double>(to.y - from.y)};
}
double distance(LatticePoint a, LatticePoint b) { return glm::length(step(a, b)); }

// Share of the way from a to b at which p lies.
double along(LatticePoint a, LatticePoint b, LatticePoint p) {
  const Vec2 ab = step(a, b);
  return std::clamp(glm::dot(step(a, p), ab) / glm::dot(ab, ab), 0.0, 1.0);
}
double distance_to_segment(LatticePoint a, LatticePoint b, LatticePoint p) {
  return glm::length(step(a, p) - along(a, b, p) * step(a, b));
}

bool inside(LatticePoint a, LatticePoint b, LatticePoint c, LatticePoint p) {
  const auto [x0, x1] = std::minmax({a.x, b.x, c.x});
  const auto [y0, y1] = std::minmax({a.y, b.y, c.y});
  return x0 <= p.x && p.x <= x1 && y0 <= p.y && p.y <= y1 && side(a, b, p) >= 0 && side(b, c, p) >= 0 &&
         side(c, a, p) >= 0;
}

}  // namespace

CutMesh::CutMesh(const SurfaceMesh& mesh, const std::vector<LatticePoint>& places) : mesh_(mesh), places_(places) {
  Topology topology;
  build_topology(mesh_.triangles, mesh_.points.size(), topology);
  across_ = std::move(topology.across);
  marks_.assign(across_.size(), {0, 0, 0});
  alive_.assign(across_.size(), 1);
  find_fans();
}

void CutMesh::find_fans() {
  some_.assign(places_.size(), kNone);
  for (std::uint32_t t = 0; t < alive_.size(); ++t)
    if (alive_[t])
      for (const auto v : mesh_.triangles[t]) some_[v] = t;
}

int CutMesh::side_towards(std::uint32_t t, std::uint32_t other) const {
  return across_[t][0] == other ? 0 : (across_[t][1] == other ? 1 : 2);
}

std::vector<CutMesh::Side> CutMesh::fan(std::uint32_t v) const {
  const auto corner_in = [&](std::uint32_t t) {
    const auto& c = mesh_.triangles[t];
    return c[0] == v ? 0 : (c[1] == v ? 1 : 2);
  };
  Side begin{some_[v], 0};
  if (begin.triangle == kNone) return {};
  begin.k = corner_in(begin.triangle);
  for (Side s = begin;;) {  // clockwise over the edge that leaves v
    const auto next = across_[s.triangle][at(s.k)];
    if (next == kNone) begin = s;
    if (next == kNone || next == begin.triangle) break;
    s = {next, corner_in(next)};
  }
  std::vector<Side> found;
  for (Side s = begin;;) {
    found.push_back(s);
    const auto next = across_[s.triangle][at(s.k + 2)];
    if (next == kNone || next == begin.triangle) return found;
    s = {next, corner_in(next)};
  }
}

std::vector<std::uint32_t> CutMesh::border_points() const {
  std::vector<std::uint32_t> found;
  for (std::uint32_t t = 0; t < alive_.size(); ++t)
    for (std::size_t k = 0; alive_[t] && k < 3; ++k)
      if (across_[t][k] == kNone) found.push_back(mesh_.triangles[t][k]);
  std::sort(found.begin(), found.end());
  return found;
}

std::optional<std::uint32_t> CutMesh::triangle_at(LatticePoint p) const {
  for (std::uint32_t t = 0; t < alive_.size(); ++t)
    if (alive_[t] && inside(place_of(t, 0), place_of(t, 1), place_of(t, 2), p)) return t;
  return std::nullopt;
}

bool CutMesh::sound(LatticePoint a, LatticePoint b, LatticePoint c) const {
  const Int128 area2 = orient(a, b, c);
  return area2 > 0 && thick(area2, a, b, c);
}

bool CutMesh::can_split_edge(Side edge, LatticePoint p) const {
  const auto halves = [&](Side e) {
    const LatticePoint a = places_[corner(e)], b = places_[corner(e, 1)], c = places_[corner(e, 2)];
    return sound(a, p, c) && sound(p, b, c);
  };
  if (!halves(edge)) return false;
  const auto other = across_[edge.triangle][at(edge.k)];
  return other == kNone || halves({other, side_towards(other, edge.triangle)});
}

std::optional<std::uint32_t> CutMesh::insert_on(Side edge, LatticePoint p) {
  const std::uint32_t a = corner(edge), b = corner(edge, 1);
  const double to_a = distance(places_[a], p), to_b = distance(places_[b], p);
  const std::uint32_t nearer = to_a <= to_b ? a : b;
  if (std::min(to_a, to_b) < kNear) return nearer;
  if (can_split_edge(edge, p)) return split_edge(edge, p);
  if (std::min(to_a, to_b) < kFar) return nearer;
  return std::nullopt;
}

std::optional<std::uint32_t> CutMesh::insert(std::uint32_t t, LatticePoint p) {
  struct Near {
    double distance;
    int k;
    bool operator<(const Near& o) const { return distance != o.distance ? distance < o.distance : k < o.k; }
  };
  std::array<Near, 3> corners, sides;
  for (int k = 0; k < 3; ++k) {
    corners[at(k)] = {distance(place_of(t, at(k)), p), k};
    sides[at(k)] = {distance_to_segment(place_of(t, at(k)), place_of(t, at(k + 1)), p), k};
  }
  std::sort(corners.begin(), corners.end());
  std::sort(sides.begin(), sides.end());
  if (corners[0].distance < kNear) return mesh_.triangles[t][at(corners[0].k)];
  const auto split_sides = [&](double reach, bool border_too) -> std::optional<std::uint32_t> {
    for (const auto& [off, k] : sides)
      if (off < reach && (border_too || off == 0 || !on_border({t, k})) && can_split_edge({t, k}, p))
        return split_edge({t, k}, p);
    return std::nullopt;
  };
  if (const auto v = split_sides(kNear, false)) return v;
  const LatticePoint a = place_of(t, 0), b = place_of(t, 1), c = place_of(t, 2);
  if (sound(a, b, p) && sound(b, c, p) && sound(c, a, p)) return split_triangle(t, p);
  if (const auto v = split_sides(kFar, true)) return v;
  if (corners[0].distance < kFar) return mesh_.triangles[t][at(corners[0].k)];
  return std::nullopt;
}

std::uint32_t CutMesh::add_normal(std::uint32_t t, const Vec3& shares) {
  const auto& [a, b, c] = mesh_.corner_normals[t];
  const Vec3 sum = shares.x * mesh_.normals[a] + shares.y * mesh_.normals[b] + shares.z * mesh_.normals[c];
  mesh_.normals.push_back(glm::normalize(sum));
  return static_cast<std::uint32_t>(mesh_.normals.size() - 1);
}

std::uint32_t CutMesh::add_point(std::uint32_t t, const Vec3& shares, LatticePoint p) {
  mesh_.points.push_back(position(mesh_, {t, shares}));
  places_.push_back(p);
  some_.push_back(t);
  return static_cast<std::uint32_t>(places_.size() - 1);
}

std::uint32_t CutMesh::add_triangle(const Triangle& corners, const Triangle& normals, const Triangle& across,
                                    const std::array<int, 3>& marks) {
  mesh_.triangles.push_back(corners);
  mesh_.corner_normals.push_back(normals);
  across_.push_back(across);
  marks_.push_back(marks);
  alive_.push_back(1);
  return static_cast<std::uint32_t>(across_.size() - 1);
}

void CutMesh::relink(std::uint32_t t, std::uint32_t from, std::uint32_t to) {
  if (t != kNone) across_[t][at(side_towards(t, from))] = to;
}

Vec3 CutMesh::weights(std::uint32_t t, LatticePoint p) const {
  const LatticePoint a = place_of(t, 0), b = place_of(t, 1), c = place_of(t, 2);
  const auto share = [&](Int128 twice) { return static_cast<double>(twice) / static_cast<double>(orient(a, b, c)); };
  return {share(orient(b, c, p)), share(orient(c, a, p)), share(orient(a, b, p))};
}

// Each of the two triangles a b c keeps the half a p c; the half p b c is added. The new point lies in the plane of the
// triangle that holds p, so that its place in the chart is exact; p leaves the edge by rounding only.
std::uint32_t CutMesh::split_edge(Side edge, LatticePoint p) {
  const auto other = across_[edge.triangle][at(edge.k)];
  const Side twin{other, other == kNone ? 0 : side_towards(other, edge.triangle)};
  const std::uint32_t a = corner(edge), b = corner(edge, 1);
  const auto on_edge = [&](Side e) {
    Vec3 w{0, 0, 0};
    const double share = along(places_[corner(e)], places_[corner(e, 1)], p);
    w[e.k % 3] = 1 - share, w[(e.k + 1) % 3] = share;
    return w;
  };
  const std::uint32_t holder = other == kNone || side(places_[a], places_[b], p) >= 0 ? edge.triangle : other;
  const std::uint32_t v = add_point(holder, weights(holder, p), p);
  const Triangle before = mesh_.corner_normals[edge.triangle];
  const std::uint32_t normal_here = add_normal(edge.triangle, on_edge(edge));
  std::uint32_t normal_there = normal_here;
  if (other != kNone) {
    const Triangle& there = mesh_.corner_normals[other];
    if (there[at(twin.k)] != before[at(edge.k + 1)] || there[at(twin.k + 1)] != before[at(edge.k)])
      normal_there = add_normal(other, on_edge(twin));
  }
  const auto halve = [&](Side e, std::uint32_t normal) {
    const std::size_t i = at(e.k), j = at(e.k + 1), l = at(e.k + 2);
    const Triangle c = mesh_.triangles[e.triangle], n = mesh_.corner_normals[e.triangle], x = across_[e.triangle];
    const auto m = marks_[e.triangle];
    const auto added = add_triangle({v, c[j], c[l]}, {normal, n[j], n[l]}, {kNone, x[j], e.triangle}, {m[i], m[j], 0});
    relink(x[j], e.triangle, added);
    mesh_.triangles[e.triangle][j] = v, mesh_.corner_normals[e.triangle][j] = normal;
    across_[e.triangle][j] = added, marks_[e.triangle][j] = 0;
    some_[c[j]] = added, some_[c[i]] = some_[c[l]] = e.triangle;
    return added;
  };
  const auto half = halve(edge, normal_here);
  if (other != kNone) {
    const auto other_half = halve(twin, normal_there);
    across_[edge.triangle][at(edge.k)] = other_half, across_[other_half][0] = edge.triangle;
    across_[half][0] = other, across_[other][at(twin.k)] = half;
    some_[a] = edge.triangle, some_[b] = half;
  }
  return v;
}

std::uint32_t CutMesh::split_triangle(std::uint32_t t, LatticePoint p) {
  const Vec3 shares = weights(t, p);
  const std::uint32_t v = add_point(t, shares, p), normal = add_normal(t, shares);
  const auto [a, b, c] = mesh_.triangles[t];
  const auto [na, nb, nc] = mesh_.corner_normals[t];
  const Triangle x = across_[t];
  const auto m = marks_[t];
  const auto t1 = static_cast<std::uint32_t>(across_.size()), t2 = t1 + 1;
  add_triangle({b, c, v}, {nb, nc, normal}, {x[1], t2, t}, {m[1], 0, 0});
  add_triangle({c, a, v}, {nc, na, normal}, {x[2], t, t1}, {m[2], 0, 0});
  relink(x[1], t, t1);
  relink(x[2], t, t2);
  mesh_.triangles[t] = {a, b, v}, mesh_.corner_normals[t] = {na, nb, normal};
  across_[t] = {x[0], t1, t2}, marks_[t] = {m[0], 0, 0};
  some_[a] = some_[b] = some_[v] = t;
  some_[c] = t1;
  return v;
}

void CutMesh::mark(std::uint32_t v, std::uint32_t w) {
  const auto count = [&](Side s, int n) {
    marks_[s.triangle][at(s.k)] += n;
    const auto other = across_[s.triangle][at(s.k)];
    if (other != kNone) marks_[other][at(side_towards(other, s.triangle))] -= n;
  };
  for (const Side s : fan(v)) {
    if (corner(s, 1) == w) return count(s, 1);
    if (corner(s, 2) == w && on_border({s.triangle, (s.k + 2) % 3})) return count({s.triangle, (s.k + 2) % 3}, -1);
  }
}

std::vector<std::uint32_t> CutMesh::left_of_marks() {
  std::vector<std::uint32_t> found;
  std::vector<char> seen(alive_.size(), 0);
  for (std::uint32_t t = 0; t < alive_.size(); ++t)
    if (alive_[t] && *std::max_element(marks_[t].begin(), marks_[t].end()) > 0) seen[t] = 1, found.push_back(t);
  for (std::size_t i = 0; i < found.size(); ++i)
    for (std::size_t k = 0; k < 3; ++k) {
      const auto other = across_[found[i]][k];
      if (other == kNone || seen[other] || marks_[found[i]][k] != 0) continue;
      seen[other] = 1;
      found.push_back(other);
    }
  marks_.assign(alive_.size(), {0, 0, 0});
  return found;
}

void CutMesh::remove(const std::vector<std::uint32_t>& triangles) {
  for (const auto t : triangles) {
    alive_[t] = 0;
    for (const auto other : across_[t]) relink(other, t, kNone);
    across_[t] = {kNone, kNone, kNone};
  }
  find_fans();
}

std::vector<std::vector<std::uint32_t>> CutMesh::parts() const {
  std::vector<std::vector<std::uint32_t>> found;
  std::vector<char> seen(alive_.size(), 0);
  for (std::uint32_t first = 0; first < alive_.size(); ++first) {
    if (!alive_[first] || seen[first]) continue;
    auto& part = found.emplace_back(1, first);
    seen[first] = 1;
    for (std::size_t i = 0; i < part.size(); ++i)
      for (const auto other : across_[part[i]])
        if (other != kNone && !seen[other]) seen[other] = 1, part.push_back(other);
  }
  std::stable_sort(found.begin(), found.end(),
                   [&](const auto& a, const auto& b) { return twice_chart_area(a) > twice_chart_area(b); });
  return found;
}

Int128 CutMesh::twice_chart_area(const std::vector<std::uint32_t>& triangles) const {
  Int128 sum = 0;
  for (const auto t : triangles) sum += orient(place_of(t, 0), place_of(t, 1), place_of(t, 2));
  return sum;
}

std::optional<std::uint32_t> CutMesh::pinched_point() const {
  const auto border = border_points();
  const auto twice = std::adjacent_find(border.begin(), border.end());
  return twice == border.end() ? std::nullopt : std::optional(*twice);
}

CutMesh::Surface CutMesh::surface() const {
  Surface out;
  std::vector<std::uint32_t> point(places_.size(), kNone), normal(mesh_.normals.size(), kNone);
  for (std::uint32_t t = 0; t < alive_.size(); ++t)
    for (std::size_t k = 0; alive_[t] && k < 3; ++k)
      point[mesh_.triangles[t][k]] = 0, normal[mesh_.corner_normals[t][k]] = 0;
  for (std::uint32_t v = 0; v < point.size(); ++v) {
    if (point[v] == kNone) continue;
    point[v] = static_cast<std::uint32_t>(out.places.size());
    out.places.push_back(places_[v]);
    out.mesh.points.push_back(mesh_.points[v]);
  }
  for (std::uint32_t n = 0; n < normal.size(); ++n) {
    if (normal[n] == kNone) continue;
    normal[n] = static_cast<std::uint32_t>(out.mesh.normals.size());
    out.mesh.normals.push_back(mesh_.normals[n]);
  }
  for (std::uint32_t t = 0; t < alive_.size(); ++t) {
    if (!alive_[t]) continue;
    const auto& c = mesh_.triangles[t];
    const auto& n = mesh_.corner_normals[t];
    out.mesh.triangles.push_back({point[c[0]], point[c[1]], point[c[2]]});
    out.mesh.corner_normals.push_back({normal[n[0]], normal[n[1]], normal[n[2]]});
  }
  return out;
}

}  // namespace pontata
