#include "engine/cartoon/isolines.h"

#include <array>
#include <cmath>
#include <cstdint>
#include <map>

namespace pontata {

namespace {

// Grid edges are numbered 2 (row * width + column) for the one to the right of a cell's middle, + 1 for the one below.
class Tracer {
 public:
  Tracer(const DepthRaster& raster, double level) : raster_(raster), level_(level) {}
  std::vector<Isoline> lines();

 private:
  struct Step {
    std::int64_t to = 0;
    bool used = false;
  };
  void add_square(int x, int y);
  void add_step(std::int64_t from, std::int64_t to) { steps_.emplace(from, Step{to, false}); }
  std::int64_t edge(int x, int y, int side) const;
  Vec2 place(std::int64_t edge) const;
  Isoline follow(std::int64_t from);

  const DepthRaster& raster_;
  double level_;
  std::map<std::int64_t, Step> steps_;
};

// Side 0 bottom, 1 right, 2 top, 3 left of the square whose upper left middle is (x, y).
std::int64_t Tracer::edge(int x, int y, int side) const {
  const int column = side == 1 ? x + 1 : x, row = side == 0 ? y + 1 : y;
  return 2 * (static_cast<std::int64_t>(row) * raster_.width + column) + (side == 1 || side == 3 ? 1 : 0);
}

Vec2 Tracer::place(std::int64_t e) const {
  const int x = static_cast<int>(e / 2 % raster_.width), y = static_cast<int>(e / 2 / raster_.width);
  const bool down = e % 2 == 1;
  const double here = raster_.at(x, y), next = down ? raster_.at(x, y + 1) : raster_.at(x + 1, y);
  const double s = (level_ - here) / (next - here);
  return {x + 0.5 + (down ? 0 : s), raster_.height - (y + 0.5 + (down ? s : 0))};
}

void Tracer::add_square(int x, int y) {
  // Corners counter-clockwise from the lower left; sides run from corner k to corner k + 1: bottom, right, top, left.
  const std::array<double, 4> v{raster_.at(x, y + 1), raster_.at(x + 1, y + 1), raster_.at(x + 1, y), raster_.at(x, y)};
  for (const double value : v)
    if (std::isnan(value)) return;
  const auto high = [&](std::size_t k) { return v[k % 4] >= level_; };
  // Walking round with the square on the left, high ground is left behind at a side from high to low: a line that keeps
  // it on its left comes in there and goes out where it is met again.
  std::array<int, 2> in{}, out{};
  std::size_t ins = 0, outs = 0;
  for (std::size_t k = 0; k < 4; ++k) {
    if (high(k) && !high(k + 1)) in[ins++] = static_cast<int>(k);
    if (!high(k) && high(k + 1)) out[outs++] = static_cast<int>(k);
  }
  if (ins == 0) return;
  if (ins == 1) return add_step(edge(x, y, in[0]), edge(x, y, out[0]));
  const bool together = v[0] + v[1] + v[2] + v[3] >= 4 * level_;
  for (const int side : in) {
    const int next = (side + 1) % 4, before = (side + 3) % 4;
    add_step(edge(x, y, side), edge(x, y, together ? next : before));
  }
}

Isoline Tracer::follow(std::int64_t from) {
  Isoline line{level_, false, {place(from)}};
  for (auto at = steps_.find(from); at != steps_.end() && !at->second.used; at = steps_.find(at->second.to)) {
    at->second.used = true;
    line.closed = at->second.to == from;
    if (!line.closed) line.points.push_back(place(at->second.to));
  }
  return line;
}

std::vector<Isoline> Tracer::lines() {
  for (int y = 0; y + 1 < raster_.height; ++y)
    for (int x = 0; x + 1 < raster_.width; ++x) add_square(x, y);
  std::map<std::int64_t, int> entered;
  for (const auto& [from, step] : steps_) ++entered[step.to];
  std::vector<Isoline> out;
  for (const auto& [from, step] : steps_)
    if (!entered.contains(from)) out.push_back(follow(from));
  for (const auto& [from, step] : steps_)
    if (!step.used) out.push_back(follow(from));
  return out;
}

}  // namespace

std::vector<Isoline> isolines(const DepthRaster& raster, double level) { return Tracer(raster, level).lines(); }

}  // namespace pontata
