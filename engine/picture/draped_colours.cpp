#include "engine/picture/draped_colours.h"

#include <algorithm>
#include <cmath>

namespace pontata {

namespace {

constexpr int kFinest = -16, kCoarsest = 24;  // levels

// Of floor division by a positive number.
int quotient(int a, int b) { return a >= 0 ? a / b : -((b - 1 - a) / b); }

}  // namespace

double DrapedColours::spacing(int level) const { return std::ldexp(draped_->finest(), level); }

std::shared_ptr<const DrapedColours::Block> DrapedColours::block(const Key& key) {
  std::shared_ptr<Block> out;
  {
    const std::lock_guard lock(mutex_);
    auto& found = blocks_[key];
    out = found.lock();
    if (!out) found = out = std::make_shared<Block>();
  }
  std::call_once(out->drawn, [&] {
    const auto [level, a, b] = key;
    const double s = spacing(level);
    out->raster = draped_->draw({a * kSide * s, b * kSide * s}, s, kSide, kSide);
  });
  return out;
}

const std::uint8_t* DrapedColours::Reader::texel(int level, int x, int y) {
  constexpr std::size_t kMostHeld = 2000;  // 130 MB
  const int a = quotient(x, kSide), b = quotient(y, kSide);
  const Key key{level, a, b};
  if (key != last_ || !last_block_) {
    if (held_.size() >= kMostHeld) held_.clear();
    auto& held = held_[key];
    if (!held) held = colours_.block(key);
    last_ = key, last_block_ = held.get();
  }
  const int row = kSide - 1 - (y - b * kSide), column = x - a * kSide;
  return last_block_->raster.rgba.data() + 4 * (static_cast<std::ptrdiff_t>(row) * kSide + column);
}

SeenColour DrapedColours::Reader::at(ChartPoint p, double footprint) {
  const double wanted = std::log2(std::max(footprint, 1e-6) / colours_.draped_->finest());
  const int level = std::clamp(static_cast<int>(std::floor(wanted + 0.3)), kFinest, kCoarsest);
  const double s = colours_.spacing(level), x = p.u / s - 0.5, y = p.v / s - 0.5;
  const int x0 = static_cast<int>(std::floor(x)), y0 = static_cast<int>(std::floor(y));
  const auto tx = static_cast<float>(x - x0), ty = static_cast<float>(y - y0);
  SeenColour sum{};
  const std::array<std::tuple<int, int, float>, 4> near{
      {{0, 0, (1 - tx) * (1 - ty)}, {1, 0, tx * (1 - ty)}, {0, 1, (1 - tx) * ty}, {1, 1, tx * ty}}};
  for (const auto& [dx, dy, weight] : near) {
    const std::uint8_t* c = texel(level, x0 + dx, y0 + dy);
    const float opacity = weight * static_cast<float>(c[3]) / 255;
    for (std::size_t k = 0; k < 3; ++k) sum[k] += opacity * static_cast<float>(c[k]) / 255;
    sum[3] += opacity;
  }
  return sum;
}

}  // namespace pontata
