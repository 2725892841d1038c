#include "engine/picture/draped_colours.h"

#include <algorithm>
#include <cmath>

namespace pontata {

namespace {

constexpr int kMostLevels = 24;

// Of floor division by a positive number.
int quotient(int a, int b) { return a >= 0 ? a / b : -((b - 1 - a) / b); }

}  // namespace

double DrapedColours::spacing(int level) const { return std::ldexp(draped_->finest(), level); }

std::shared_ptr<const Raster> DrapedColours::block(int level, int a, int b) {
  std::shared_ptr<Slot> slot;
  {
    const std::lock_guard lock(mutex_);
    auto& found = blocks_[{level, a, b}];
    if (!found) found = std::make_shared<Slot>();
    slot = found;
  }
  std::call_once(slot->once, [&] {
    const double s = spacing(level);
    slot->raster = std::make_shared<const Raster>(draped_->draw({a * kSide * s, b * kSide * s}, s, kSide, kSide));
  });
  return slot->raster;
}

const std::uint8_t* DrapedColours::Reader::texel(int level, int x, int y) {
  const int a = quotient(x, kSide), b = quotient(y, kSide);
  const std::tuple key{level, a, b};
  if (key != last_ || !last_block_) {
    auto& held = held_[key];
    if (!held) held = colours_.block(level, a, b);
    last_ = key, last_block_ = held.get();
  }
  const int row = kSide - 1 - (y - b * kSide), column = x - a * kSide;
  return last_block_->rgba.data() + 4 * (static_cast<std::ptrdiff_t>(row) * kSide + column);
}

SeenColour DrapedColours::Reader::at(ChartPoint p, double footprint) {
  const double finest = colours_.draped_->finest();
  const int level =
      std::clamp(static_cast<int>(std::lround(std::log2(std::max(1.0, footprint / finest)))), 0, kMostLevels);
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
