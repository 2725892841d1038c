#include "engine/document/seam_files/curves.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

namespace pontata {

namespace {

constexpr int kMostChords = 1 << 16;  // of one curve: finer than any curve on a wall can ask for

int chords(double wanted) {
  if (!(wanted > 1)) return 1;  // also what is no number
  return wanted < kMostChords ? static_cast<int>(std::ceil(wanted)) : kMostChords;
}

Vec2 lerp(const Vec2& a, const Vec2& b, double t) { return a + (b - a) * t; }

double off_chord(const Vec2& p, const Vec2& a, const Vec2& b) {
  const Vec2 along = b - a;
  const double length2 = glm::dot(along, along);
  const double t = length2 > 0 ? std::clamp(glm::dot(p - a, along) / length2, 0.0, 1.0) : 0;
  return glm::length(p - a - along * t);
}

}  // namespace

Affine Affine::operator*(const Affine& o) const {
  return {a * o.a + c * o.b, b * o.a + d * o.b,     a * o.c + c * o.d,
          b * o.c + d * o.d, a * o.e + c * o.f + e, b * o.e + d * o.f + f};
}

double Affine::greatest_scale() const {
  const double p = std::hypot(a + d, b - c), q = std::hypot(a - d, b + c);
  return 0.5 * (p + q);
}

void add_cubic(Points& out, const std::array<Vec2, 4>& k, double tolerance) {
  const double bend = std::max(glm::length(k[0] - 2.0 * k[1] + k[2]), glm::length(k[1] - 2.0 * k[2] + k[3]));
  const int n = chords(std::sqrt(6 * bend / (8 * tolerance)));
  for (int i = 1; i < n; ++i) {
    const double t = static_cast<double>(i) / n;
    const Vec2 a = lerp(k[0], k[1], t), b = lerp(k[1], k[2], t), c = lerp(k[2], k[3], t);
    out.push_back(lerp(lerp(a, b, t), lerp(b, c, t), t));
  }
  out.push_back(k[3]);
}

void add_quadratic(Points& out, const std::array<Vec2, 3>& k, double tolerance) {
  const int n = chords(std::sqrt(2 * glm::length(k[0] - 2.0 * k[1] + k[2]) / (8 * tolerance)));
  for (int i = 1; i < n; ++i) {
    const double t = static_cast<double>(i) / n;
    out.push_back(lerp(lerp(k[0], k[1], t), lerp(k[1], k[2], t), t));
  }
  out.push_back(k[2]);
}

void add_arc(Points& out, const Affine& map, double from, double sweep, double tolerance) {
  const double radius = map.greatest_scale();
  const double step = tolerance < radius ? 2 * std::acos(1 - tolerance / radius) : std::numbers::pi / 2;
  const int n = chords(std::abs(sweep) / std::min(step, std::numbers::pi / 2));
  for (int i = 1; i <= n; ++i) {
    const double angle = from + sweep * i / n;
    out.push_back(map({std::cos(angle), std::sin(angle)}));
  }
}

void add_svg_arc(Points& out, const Vec2& from, const Vec2& to, const SvgArc& arc, const Affine& map,
                 double tolerance) {
  double rx = std::abs(arc.radii.x), ry = std::abs(arc.radii.y);
  if (from == to) return;                                  // F.6.2: left out
  if (!(rx > 0 && ry > 0)) return out.push_back(map(to));  // F.6.2: a straight line
  const double turn = arc.turn_deg * std::numbers::pi / 180, cos = std::cos(turn), sin = std::sin(turn);
  const Vec2 half = (from - to) * 0.5;
  const Vec2 p{cos * half.x + sin * half.y, -sin * half.x + cos * half.y};  // F.6.5.1
  const double over = p.x * p.x / (rx * rx) + p.y * p.y / (ry * ry);
  if (over > 1) rx *= std::sqrt(over), ry *= std::sqrt(over);  // F.6.6
  const double left = std::max(0.0, 1 / std::max(over, 1e-300) - 1);
  const double side = (arc.large == arc.sweep ? -1 : 1) * std::sqrt(over > 1 ? 0 : left);
  const Vec2 unit{side * p.y / ry, -side * p.x / rx};  // F.6.5.2, the centre in the unit circle's frame
  const Vec2 begins{p.x / rx - unit.x, p.y / ry - unit.y}, ends{-p.x / rx - unit.x, -p.y / ry - unit.y};
  const double angle = std::atan2(begins.y, begins.x);
  double sweep = std::atan2(cross2(begins, ends), glm::dot(begins, ends));
  if (arc.sweep && sweep < 0) sweep += 2 * std::numbers::pi;
  if (!arc.sweep && sweep > 0) sweep -= 2 * std::numbers::pi;
  const Vec2 centre{cos * rx * unit.x - sin * ry * unit.y + (from.x + to.x) / 2,
                    sin * rx * unit.x + cos * ry * unit.y + (from.y + to.y) / 2};  // F.6.5.3
  add_arc(out, map * Affine{cos * rx, sin * rx, -sin * ry, cos * ry, centre.x, centre.y}, angle, sweep, tolerance);
  if (!out.empty()) out.back() = map(to);
}

void add_bulge(Points& out, const Vec2& a, const Vec2& b, double bulge, double tolerance) {
  const Vec2 chord = b - a;
  if (bulge == 0 || (chord.x == 0 && chord.y == 0)) return out.push_back(b);
  // Half the angle is 2 atan(bulge); the centre lies off the chord's middle by (1 - bulge^2) / (4 bulge) of the chord.
  const double off = (1 - bulge * bulge) / (4 * bulge);
  const Vec2 centre = (a + b) * 0.5 + Vec2(-chord.y, chord.x) * off, arm = a - centre;
  add_arc(out, {arm.x, arm.y, -arm.y, arm.x, centre.x, centre.y}, 0, 4 * std::atan(bulge), tolerance);
  out.back() = b;
}

bool Spline::sound() const {
  if (degree < 1 || degree > 25 || control.size() < static_cast<std::size_t>(degree) + 1) return false;
  if (knots.size() != control.size() + static_cast<std::size_t>(degree) + 1) return false;
  if (!weights.empty() && weights.size() != control.size()) return false;
  const auto good = [](double weight) { return weight > 0 && std::isfinite(weight); };
  return std::is_sorted(knots.begin(), knots.end()) && std::all_of(weights.begin(), weights.end(), good);
}

namespace {

// The spline's place at t of knot span k (knots[k] <= t <= knots[k + 1], not empty), in homogeneous coordinates.
Vec2 place_at(const Spline& s, std::size_t k, double t) {
  const auto p = static_cast<std::size_t>(s.degree);
  std::vector<Vec3> d(p + 1);
  for (std::size_t j = 0; j <= p; ++j) {
    const double w = s.weights.empty() ? 1 : s.weights[j + k - p];
    d[j] = Vec3(s.control[j + k - p] * w, w);
  }
  for (std::size_t r = 1; r <= p; ++r)
    for (std::size_t j = p; j >= r; --j) {
      const double low = s.knots[j + k - p], high = s.knots[j + 1 + k - r];
      const double share = high > low ? (t - low) / (high - low) : 0;
      d[j] = d[j - 1] * (1 - share) + d[j] * share;
    }
  return Vec2(d[p]) / d[p].z;
}

struct Piece {
  double from = 0, to = 0;
  Vec2 begins{0, 0}, ends{0, 0};
};

void halve(Points& out, const std::function<Vec2(double)>& at, const Piece& piece, double tolerance, int depth) {
  const auto inner = [&](double share) { return at(piece.from + (piece.to - piece.from) * share); };
  const Vec2 middle = inner(0.5);
  const auto off = [&](const Vec2& p) { return off_chord(p, piece.begins, piece.ends); };
  const bool straight = off(middle) <= tolerance && off(inner(0.25)) <= tolerance && off(inner(0.75)) <= tolerance;
  if (straight || depth == 0) return out.push_back(piece.ends);
  const double half = 0.5 * (piece.from + piece.to);
  halve(out, at, {piece.from, half, piece.begins, middle}, tolerance, depth - 1);
  halve(out, at, {half, piece.to, middle, piece.ends}, tolerance, depth - 1);
}

}  // namespace

Points spline_points(const Spline& s, double tolerance) {
  constexpr int kDepth = 12;  // 4096 chords in a span at most
  const auto p = static_cast<std::size_t>(s.degree);
  Points out;
  for (std::size_t k = p; k + p + 1 < s.knots.size(); ++k) {
    if (!(s.knots[k] < s.knots[k + 1])) continue;
    const std::function<Vec2(double)> at = [&](double t) { return place_at(s, k, t); };
    const double from = s.knots[k], to = s.knots[k + 1];
    const Vec2 begins = at(from);
    if (out.empty()) out.push_back(begins);
    for (int half = 0; half < 2; ++half) {  // an odd curve may cross its chord in the middle and at the quarters
      const double low = from + (to - from) * half * 0.5, high = from + (to - from) * (half + 1) * 0.5;
      halve(out, at, {low, high, at(low), at(high)}, tolerance, kDepth);
    }
  }
  return out;
}

}  // namespace pontata
