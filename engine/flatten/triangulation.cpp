#include "engine/flatten/triangulation.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "engine/base/predicates.h"

namespace pontata {
namespace {

int next(int k) { return (k + 1) % 3; }
int prev(int k) { return (k + 2) % 3; }
std::size_t at(int k) { return static_cast<std::size_t>(k); }

// Positive when d lies inside the circle through a b c (counter-clockwise), beyond rounding.
bool in_circle(Vec2 a, Vec2 b, Vec2 c, Vec2 d) {
  a -= d, b -= d, c -= d;
  const double aa = glm::dot(a, a), bb = glm::dot(b, b), cc = glm::dot(c, c);
  const double value = aa * cross2(b, c) + bb * cross2(c, a) + cc * cross2(a, b);
  const double size = aa * std::sqrt(bb * cc) + bb * std::sqrt(aa * cc) + cc * std::sqrt(aa * bb);
  return value > 1e-12 * size;
}

}  // namespace

Triangulation::Triangulation(LatticePoint lo, LatticePoint hi, const Shear& shear) : shear_(shear), origin_(lo) {
  const std::int64_t w = std::max<std::int64_t>({hi.x - lo.x, hi.y - lo.y, 16});
  const std::int64_t cx = (lo.x + hi.x) / 2, cy = (lo.y + hi.y) / 2;
  for (const LatticePoint p : {LatticePoint{cx - 8 * w, cy - 6 * w}, {cx + 8 * w, cy - 6 * w}, {cx, cy + 10 * w}}) {
    places_.push_back(p);
    plane_.push_back(
        shear_.apply({static_cast<double>(p.x - origin_.x) * kPitch, static_cast<double>(p.y - origin_.y) * kPitch}));
    some_triangle_.push_back(0);
  }
  triangles_.push_back({0, 1, 2});
  across_.push_back({kNoneAcross, kNoneAcross, kNoneAcross});
  fixed_.push_back({false, false, false});
  inside_.push_back(0);
}

int Triangulation::corner_of(std::uint32_t t, std::uint32_t v) const {
  for (int k = 0; k < 3; ++k)
    if (triangles_[t][at(k)] == v) return k;
  throw std::logic_error("triangulation: point is not a corner of the triangle");
}

int Triangulation::side_of(std::uint32_t t, std::uint32_t other) const {
  for (int k = 0; k < 3; ++k)
    if (across_[t][at(k)] == other) return k;
  throw std::logic_error("triangulation: triangles are not neighbours");
}

void Triangulation::relink(std::uint32_t t, std::uint32_t from, std::uint32_t to) {
  if (t != kNoneAcross) across_[t][at(side_of(t, from))] = to;
}

// Walks towards p through a side that has p beyond it; turning the side that is tried first keeps it from going in
// circles where the triangles are not Delaunay (Devillers, Pion, Teillaud, "Walking in a triangulation", 2002).
Triangulation::Spot Triangulation::locate(LatticePoint p) {
  std::uint32_t t = last_;
  int turn = 0;
  for (std::size_t steps = 0; steps <= 4 * triangles_.size() + 100; ++steps) {
    int beyond = -1, zero = -1, zeros = 0;
    for (int j = 0; j < 3 && beyond < 0; ++j) {
      const int k = (j + turn) % 3;
      const int s = side(places_[triangles_[t][at(k)]], places_[triangles_[t][at(next(k))]], p);
      if (s < 0) beyond = k;
      if (s == 0) zero = k, ++zeros;
    }
    if (beyond < 0) {
      last_ = t;
      for (int k = 0; k < 3; ++k)
        if (places_[triangles_[t][at(k)]] == p) return {t, -1, k};
      return {t, zeros > 0 ? zero : -1, -1};
    }
    t = across_[t][at(beyond)];
    if (t == kNoneAcross) throw std::logic_error("triangulation: point outside its frame");
    turn = (turn + 1) % 3;
  }
  throw std::logic_error("triangulation: point location does not end");
}

std::uint32_t Triangulation::insert(LatticePoint p) { return insert_at(locate(p), p) - kFrame; }

std::optional<std::uint32_t> Triangulation::insert_inside(LatticePoint p) {
  const Spot spot = locate(p);
  if (!inside_[spot.triangle] || spot.corner >= 0) return std::nullopt;
  if (spot.edge >= 0 && fixed_[spot.triangle][at(spot.edge)]) return std::nullopt;
  return insert_at(spot, p) - kFrame;
}

std::uint32_t Triangulation::insert_at(const Spot& spot, LatticePoint p) {
  if (spot.corner >= 0) return triangles_[spot.triangle][at(spot.corner)];
  const auto v = static_cast<std::uint32_t>(places_.size());
  places_.push_back(p);
  plane_.push_back(
      shear_.apply({static_cast<double>(p.x - origin_.x) * kPitch, static_cast<double>(p.y - origin_.y) * kPitch}));
  some_triangle_.push_back(spot.triangle);
  const auto added = static_cast<std::uint32_t>(triangles_.size());
  split(spot.triangle, v);
  if (spot.edge >= 0) {
    // The flat triangle between the point and its edge (side 0 of one of the three) goes away by flipping that edge.
    const std::uint32_t flat = spot.edge == 0 ? spot.triangle : added + static_cast<std::uint32_t>(spot.edge) - 1;
    const auto [a, b, same] = triangles_[flat];
    const bool was_fixed = fixed_[flat][0];
    flip(flat, 0);
    if (was_fixed) set_fixed(edge(v, a)), set_fixed(edge(v, b));
  }
  legalise_around(v);
  return v;
}

void Triangulation::split(std::uint32_t t, std::uint32_t p) {
  const auto [a, b, c] = triangles_[t];
  const Triangle out = across_[t];
  const Flags f = fixed_[t];
  const auto t1 = static_cast<std::uint32_t>(triangles_.size()), t2 = t1 + 1;
  triangles_[t] = {a, b, p};
  across_[t] = {out[0], t1, t2};
  fixed_[t] = {f[0], false, false};
  triangles_.push_back({b, c, p});
  across_.push_back({out[1], t2, t});
  fixed_.push_back({f[1], false, false});
  triangles_.push_back({c, a, p});
  across_.push_back({out[2], t, t1});
  fixed_.push_back({f[2], false, false});
  inside_.resize(triangles_.size(), inside_[t]);
  relink(out[1], t, t1);
  relink(out[2], t, t2);
  some_triangle_[a] = some_triangle_[b] = some_triangle_[p] = t;
  some_triangle_[c] = t1;
}

void Triangulation::flip(std::uint32_t t, int k) {
  const std::uint32_t s = across_[t][at(k)];
  const int j = side_of(s, t);
  const std::uint32_t a = triangles_[t][at(k)], b = triangles_[t][at(next(k))], c = triangles_[t][at(prev(k))];
  const std::uint32_t d = triangles_[s][at(prev(j))];
  const std::uint32_t t_bc = across_[t][at(next(k))], t_ca = across_[t][at(prev(k))];
  const std::uint32_t s_ad = across_[s][at(next(j))], s_db = across_[s][at(prev(j))];
  const bool f_bc = fixed_[t][at(next(k))], f_ca = fixed_[t][at(prev(k))];
  const bool f_ad = fixed_[s][at(next(j))], f_db = fixed_[s][at(prev(j))];
  triangles_[t] = {a, d, c};
  across_[t] = {s_ad, s, t_ca};
  fixed_[t] = {f_ad, false, f_ca};
  triangles_[s] = {d, b, c};
  across_[s] = {s_db, t_bc, t};
  fixed_[s] = {f_db, f_bc, false};
  relink(s_ad, s, t);
  relink(t_bc, t, s);
  some_triangle_[a] = some_triangle_[c] = t;
  some_triangle_[b] = some_triangle_[d] = s;
}

bool Triangulation::can_flip(std::uint32_t t, int k) const {
  const std::uint32_t s = across_[t][at(k)];
  if (s == kNoneAcross || fixed_[t][at(k)]) return false;
  const LatticePoint a = places_[triangles_[t][at(k)]], b = places_[triangles_[t][at(next(k))]];
  const LatticePoint c = places_[triangles_[t][at(prev(k))]], d = places_[triangles_[s][at(prev(side_of(s, t)))]];
  return side(c, d, b) > 0 && side(d, c, a) > 0;
}

bool Triangulation::wants_flip(std::uint32_t t, int k) const {
  if (!can_flip(t, k)) return false;
  const std::uint32_t s = across_[t][at(k)];
  const Triangle& v = triangles_[t];
  return in_circle(plane_[v[0]], plane_[v[1]], plane_[v[2]], plane_[triangles_[s][at(prev(side_of(s, t)))]]);
}

std::uint32_t Triangulation::next_around(std::uint32_t t, std::uint32_t v) const {
  return across_[t][at(prev(corner_of(t, v)))];
}

void Triangulation::legalise_around(std::uint32_t p) {
  const std::uint32_t first = some_triangle_[p];
  std::uint32_t t = first;
  do {
    stack_.push_back({t, next(corner_of(t, p))});
    t = next_around(t, p);
  } while (t != first && t != kNoneAcross);
  legalise();
}

void Triangulation::legalise() {
  std::size_t flips = 0;
  while (!stack_.empty()) {
    const EdgeRef e = stack_.back();
    stack_.pop_back();
    if (!wants_flip(e.triangle, e.side)) continue;
    if (++flips > 100 * triangles_.size()) break;  // rounding in the quality test must not keep us here
    const std::uint32_t t = e.triangle, s = across_[t][at(e.side)];
    flip(t, e.side);
    for (const std::uint32_t q : {t, s})
      for (int k = 0; k < 3; ++k)
        if (across_[q][at(k)] != (q == t ? s : t)) stack_.push_back({q, k});
  }
  stack_.clear();
}

void Triangulation::restore_delaunay() {
  for (std::uint32_t t = 0; t < triangles_.size(); ++t)
    for (int k = 0; k < 3; ++k)
      if (across_[t][at(k)] != kNoneAcross && t < across_[t][at(k)]) stack_.push_back({t, k});
  legalise();
}

Triangulation::EdgeRef Triangulation::edge(std::uint32_t a, std::uint32_t b) const {
  if (a < kFrame && b >= kFrame) {  // the turn about a corner of the frame is not closed
    const EdgeRef e = edge(b, a);
    if (e.triangle == kNoneAcross) return e;
    const std::uint32_t s = across_[e.triangle][at(e.side)];
    return {s, side_of(s, e.triangle)};
  }
  const std::uint32_t first = some_triangle_[a];
  std::uint32_t t = first;
  do {
    const int k = corner_of(t, a);
    if (triangles_[t][at(next(k))] == b) return {t, k};
    t = next_around(t, a);
  } while (t != first && t != kNoneAcross);
  return {};
}

void Triangulation::set_fixed(EdgeRef e) {
  fixed_[e.triangle][at(e.side)] = true;
  if (const std::uint32_t s = across_[e.triangle][at(e.side)]; s != kNoneAcross)
    fixed_[s][at(side_of(s, e.triangle))] = true;
}

// Edges crossed by a->b up to the first point that lies on it (b at the latest), which is returned.
std::uint32_t Triangulation::crossed_until(std::uint32_t a, std::uint32_t b,
                                           std::vector<std::pair<std::uint32_t, std::uint32_t>>& crossed) const {
  const LatticePoint pa = places_[a], pb = places_[b];
  std::uint32_t t = some_triangle_[a], right = 0, left = 0;
  for (const std::uint32_t first = t;;) {
    const int k = corner_of(t, a);
    right = triangles_[t][at(next(k))], left = triangles_[t][at(prev(k))];
    const int r = side(pa, pb, places_[right]), l = side(pa, pb, places_[left]);
    if (right == b || (r == 0 && on_segment(pa, pb, places_[right]))) return right;
    if (left == b || (l == 0 && on_segment(pa, pb, places_[left]))) return left;
    if (r < 0 && l > 0) break;
    t = next_around(t, a);
    if (t == first || t == kNoneAcross) throw std::logic_error("triangulation: no way towards the point");
  }
  crossed.emplace_back(right, left);
  // March from edge to edge: right stays right of a->b, left stays left.
  std::uint32_t from = t;
  for (;;) {
    int k = 0;
    while (!((triangles_[from][at(k)] == right && triangles_[from][at(next(k))] == left) ||
             (triangles_[from][at(k)] == left && triangles_[from][at(next(k))] == right)))
      ++k;
    const std::uint32_t to = across_[from][at(k)];
    const std::uint32_t apex = triangles_[to][at(prev(side_of(to, from)))];
    const int s = side(pa, pb, places_[apex]);
    if (s == 0) return apex;
    (s > 0 ? left : right) = apex;
    crossed.emplace_back(right, left);
    from = to;
  }
}

bool Triangulation::flip_away(std::uint32_t a, std::uint32_t b,
                              std::vector<std::pair<std::uint32_t, std::uint32_t>>& crossed) {
  const LatticePoint pa = places_[a], pb = places_[b];
  std::size_t tries = 0;
  const std::size_t limit = 1000 + crossed.size() * crossed.size() * 8;
  for (std::size_t i = 0; i < crossed.size(); ++i) {
    const EdgeRef e = edge(crossed[i].first, crossed[i].second);
    if (e.triangle == kNoneAcross || fixed_[e.triangle][at(e.side)]) return false;
    if (++tries > limit) return false;
    if (!can_flip(e.triangle, e.side)) {
      crossed.push_back(crossed[i]);
      continue;
    }
    const std::uint32_t s = across_[e.triangle][at(e.side)];
    const std::uint32_t c = triangles_[e.triangle][at(prev(e.side))];
    const std::uint32_t d = triangles_[s][at(prev(side_of(s, e.triangle)))];
    flip(e.triangle, e.side);
    if (c != a && c != b && d != a && d != b && segments_cross(pa, pb, places_[c], places_[d]))
      crossed.emplace_back(c, d);
  }
  return true;
}

bool Triangulation::fix(std::uint32_t a, std::uint32_t b) {
  a += kFrame, b += kFrame;
  while (a != b) {
    std::uint32_t stop = b;
    if (edge(a, b).triangle == kNoneAcross) {
      std::vector<std::pair<std::uint32_t, std::uint32_t>> crossed;
      stop = crossed_until(a, b, crossed);
      if (!flip_away(a, stop, crossed)) return false;
    }
    const EdgeRef e = edge(a, stop);
    if (e.triangle == kNoneAcross) return false;
    set_fixed(e);
    left_of_.emplace_back(a, stop);
    a = stop;
  }
  return true;
}

bool Triangulation::find_inside() {
  std::vector<std::uint32_t> todo;
  for (const auto& [a, b] : left_of_) {
    const EdgeRef e = edge(a, b);
    if (!inside_[e.triangle]) inside_[e.triangle] = 1, todo.push_back(e.triangle);
  }
  while (!todo.empty()) {
    const std::uint32_t t = todo.back();
    todo.pop_back();
    for (int k = 0; k < 3; ++k) {
      const std::uint32_t s = across_[t][at(k)];
      if (s != kNoneAcross && !fixed_[t][at(k)] && !inside_[s]) inside_[s] = 1, todo.push_back(s);
      if (triangles_[t][at(k)] < kFrame) return false;
    }
  }
  return true;
}

void Triangulation::improve(const Better& better, int sweeps) {
  for (int n = 0; n < sweeps; ++n) {
    std::size_t flips = 0;
    for (std::uint32_t t = 0; t < triangles_.size(); ++t)
      for (int k = 0; inside_[t] && k < 3; ++k) {
        if (!can_flip(t, k)) continue;
        const std::uint32_t s = across_[t][at(k)];
        const Triangle& v = triangles_[t];
        const std::uint32_t d = triangles_[s][at(prev(side_of(s, t)))];
        if (!better(v[at(k)] - kFrame, v[at(next(k))] - kFrame, v[at(prev(k))] - kFrame, d - kFrame)) continue;
        flip(t, k);
        ++flips;
      }
    if (flips == 0) return;
  }
}

Triangulation::Region Triangulation::region() const {
  Region out;
  std::vector<std::uint32_t> number(triangles_.size(), kNoneAcross);
  for (std::uint32_t t = 0; t < triangles_.size(); ++t)
    if (inside_[t]) {
      number[t] = static_cast<std::uint32_t>(out.triangles.size());
      const Triangle& v = triangles_[t];
      out.triangles.push_back({v[0] - kFrame, v[1] - kFrame, v[2] - kFrame});
    }
  for (std::uint32_t t = 0; t < triangles_.size(); ++t)
    if (inside_[t]) {
      Triangle a;
      for (std::size_t k = 0; k < 3; ++k) a[k] = across_[t][k] == kNoneAcross ? kNoneAcross : number[across_[t][k]];
      out.across.push_back(a);
    }
  return out;
}

}  // namespace pontata
