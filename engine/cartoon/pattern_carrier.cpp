#include "engine/cartoon/pattern_carrier.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace pontata {
namespace {

constexpr double kJoined = 1e-3;  // mm: pieces whose ends agree to this go on
constexpr double kLeast = 1e-9;   // shares of a stretch

std::array<Vec2, 3> places_of(const Pattern& p, std::size_t t) {
  return {to_vec(p.patch.corner_place(t, 0)), to_vec(p.patch.corner_place(t, 1)), to_vec(p.patch.corner_place(t, 2))};
}

CarriedPoint carried(const Pattern& p, std::size_t t, const std::array<Vec2, 3>& c, Vec2 place) {
  const double whole = cross2(c[1] - c[0], c[2] - c[0]);
  const double b = cross2(place - c[0], c[2] - c[0]) / whole, d = cross2(c[1] - c[0], place - c[0]) / whole;
  const Triangle& v = p.patch.triangles[t];
  const auto& flat = p.flat.flat;
  return {1000.0 * ((1 - b - d) * flat[v[0]] + b * flat[v[1]] + d * flat[v[2]]), to_chart(place)};
}

// Shares of a -> b inside a triangle; nothing where it passes by.
std::optional<std::pair<double, double>> inside(const std::array<Vec2, 3>& c, Vec2 a, Vec2 b) {
  double from = 0, to = 1;
  const double turn = cross2(c[1] - c[0], c[2] - c[0]);
  if (!(std::abs(turn) > 0)) return std::nullopt;
  for (std::size_t k = 0; k < 3; ++k) {
    const Vec2 side = turn > 0 ? c[(k + 1) % 3] - c[k] : c[k] - c[(k + 1) % 3];
    const double at_a = cross2(side, a - c[k]), at_b = cross2(side, b - c[k]);
    if (at_a < 0 && at_b < 0) return std::nullopt;
    if (at_a >= 0 && at_b >= 0) continue;
    const double share = at_a / (at_a - at_b);
    at_a < 0 ? from = std::max(from, share) : to = std::min(to, share);
  }
  if (to - from < kLeast) return std::nullopt;
  return std::pair{from, to};
}

}  // namespace

PatternCarrier::PatternCarrier(const Pattern& pattern) : pattern_(pattern) {
  const std::size_t count = pattern.patch.triangles.size();
  low_ = {1e300, 1e300}, high_ = {-1e300, -1e300};
  for (std::size_t t = 0; t < count; ++t)
    for (const Vec2& p : places_of(pattern, t)) low_ = glm::min(low_, p), high_ = glm::max(high_, p);
  if (count == 0) low_ = high_ = {0, 0};
  const Vec2 size = high_ - low_;
  cell_ = std::max(std::sqrt(std::max(size.x * size.y, 1e-12) / std::max(1.0, 0.5 * static_cast<double>(count))), 1e-6);
  columns_ = 1 + static_cast<int>(size.x / cell_), rows_ = 1 + static_cast<int>(size.y / cell_);
  const auto cells = static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_);
  const auto each = [&](const auto& visit) {
    for (std::size_t t = 0; t < count; ++t) {
      const auto c = places_of(pattern, t);
      const Vec2 lo = glm::min(glm::min(c[0], c[1]), c[2]), hi = glm::max(glm::max(c[0], c[1]), c[2]);
      for (int j = row(lo.y); j <= row(hi.y); ++j)
        for (int i = column(lo.x); i <= column(hi.x); ++i)
          visit(static_cast<std::size_t>(j) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(i), t);
    }
  };
  start_.assign(cells + 1, 0);
  each([&](std::size_t cell, std::size_t) { ++start_[cell + 1]; });
  for (std::size_t k = 0; k < cells; ++k) start_[k + 1] += start_[k];
  items_.resize(start_.back());
  auto next = start_;
  each([&](std::size_t cell, std::size_t t) { items_[next[cell]++] = static_cast<std::uint32_t>(t); });
}

int PatternCarrier::column(double x) const {
  return static_cast<int>(std::clamp(std::floor((x - low_.x) / cell_), 0.0, columns_ - 1.0));
}
int PatternCarrier::row(double y) const {
  return static_cast<int>(std::clamp(std::floor((y - low_.y) / cell_), 0.0, rows_ - 1.0));
}

// Pieces of one stretch in order, none over another: along a side that two triangles share only one counts.
std::vector<PatternCarrier::Piece> PatternCarrier::pieces_of(Vec2 a, Vec2 b) const {
  const Vec2 lo = glm::min(a, b), hi = glm::max(a, b);
  if (hi.x < low_.x || lo.x > high_.x || hi.y < low_.y || lo.y > high_.y) return {};
  std::vector<std::uint32_t> near;
  for (int j = row(lo.y); j <= row(hi.y); ++j)
    for (int i = column(lo.x); i <= column(hi.x); ++i) {
      const auto cell = static_cast<std::size_t>(j) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(i);
      near.insert(near.end(), items_.begin() + start_[cell], items_.begin() + start_[cell + 1]);
    }
  std::sort(near.begin(), near.end());
  near.erase(std::unique(near.begin(), near.end()), near.end());
  std::vector<Piece> found;
  for (const std::uint32_t t : near) {
    const auto c = places_of(pattern_, t);
    if (const auto share = inside(c, a, b))
      found.push_back({share->first, share->second, carried(pattern_, t, c, a + share->first * (b - a)),
                       carried(pattern_, t, c, a + share->second * (b - a))});
  }
  std::sort(found.begin(), found.end(), [](const Piece& x, const Piece& y) { return x.from < y.from; });
  std::vector<Piece> out;
  for (const Piece& piece : found)
    if (out.empty() || piece.from > out.back().to - kLeast) out.push_back(piece);
  return out;
}

std::vector<CarriedLine> PatternCarrier::operator()(std::span<const ChartPoint> line) const {
  std::vector<CarriedLine> out;
  bool open = false;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const auto pieces = pieces_of(to_vec(line[i]), to_vec(line[i + 1]));
    if (pieces.empty()) open = false;
    for (const Piece& piece : pieces) {
      if (piece.from > kLeast && &piece == &pieces.front()) open = false;
      if (!open || glm::distance(out.back().back().at, piece.start.at) > kJoined) out.push_back({piece.start});
      out.back().push_back(piece.end);
      open = true;
    }
    if (!pieces.empty() && pieces.back().to < 1 - kLeast) open = false;
  }
  return out;
}

std::vector<Vec2> shape_of(const CarriedLine& line) {
  std::vector<Vec2> out;
  out.reserve(line.size());
  for (const CarriedPoint& p : line) out.push_back(p.at);
  return out;
}

std::optional<RimSpot> place_on_rim(const Pattern& pattern, ChartPoint place) {
  constexpr double kNear = 1e-5;  // chart m
  std::optional<RimSpot> out;
  double least = kNear;
  for (std::size_t r = 0; r < std::min(pattern.patch.rims.size(), pattern.patch.rim_steps.size()); ++r) {
    const auto& rim = pattern.patch.rims[r];
    const auto& steps = pattern.patch.rim_steps[r];
    for (std::size_t i = 0; i < std::min(rim.size(), steps.size()); ++i) {
      const auto& [from, to] = steps[i];
      const Vec2 a = to_vec(to_chart(from)), d = to_vec(to_chart(to)) - a, p = to_vec(place) - a;
      const double share = std::clamp(glm::dot(p, d) / std::max(glm::dot(d, d), 1e-300), 0.0, 1.0);
      const double off = glm::length(p - share * d);
      const Vec2 f = pattern.flat.flat[rim[i]], g = pattern.flat.flat[rim[(i + 1) % rim.size()]];
      if (off >= least || !(glm::distance(f, g) > 0)) continue;
      least = off;
      const Vec2 along = glm::normalize(g - f);
      out = RimSpot{1000.0 * (f + share * (g - f)), {-along.y, along.x}};
    }
  }
  return out;
}

}  // namespace pontata
