#include "engine/cartoon/chart_picture.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace pontata {

ChartPicture::ChartPicture(DrapedRef draped, int dpi, double strength)
    : draped_(std::move(draped)), spacing_(std::max(0.0254 / dpi, draped_->finest())), strength_(strength) {}

const ChartPicture::Square& ChartPicture::square(int across, int up) {
  if (last_square_ && last_ == std::pair(across, up)) return *last_square_;
  last_ = {across, up};
  const auto found = squares_.find(last_);
  if (found != squares_.end()) return *(last_square_ = &found->second);
  if (order_.size() >= kMost) {
    squares_.erase(order_.front());
    order_.pop_front();
  }
  order_.emplace_back(across, up);
  const double side = kSide * spacing_;
  const ChartPoint corner{across * side - 0.5 * spacing_, up * side - 0.5 * spacing_};
  Square& made = squares_[last_];
  made = draped_->draw(corner, spacing_, kSide + 1, kSide + 1).rgba;
  return *(last_square_ = &made);
}

std::optional<Vec3> ChartPicture::at(ChartPoint p) {
  const double x = p.u / spacing_, y = p.v / spacing_;
  const int across = static_cast<int>(std::floor(x / kSide)), up = static_cast<int>(std::floor(y / kSide));
  const Square& from = square(across, up);
  const double fx = x - 1.0 * across * kSide, fy = y - 1.0 * up * kSide;
  const int i = std::clamp(static_cast<int>(fx), 0, kSide - 1), j = std::clamp(static_cast<int>(fy), 0, kSide - 1);
  const double tx = fx - i, ty = fy - j;
  Vec3 sum{0, 0, 0};
  double opacity = 0;
  for (const auto& [di, dj, w] : std::array<std::tuple<int, int, double>, 4>{
           {{0, 0, (1 - tx) * (1 - ty)}, {1, 0, tx * (1 - ty)}, {0, 1, (1 - tx) * ty}, {1, 1, tx * ty}}}) {
    const std::uint8_t* q = from.data() + 4 * std::ptrdiff_t{(kSide - j - dj) * (kSide + 1) + i + di};
    const double share = w * q[3] / 255.0;
    sum += share / 255.0 * Vec3(q[0], q[1], q[2]);
    opacity += share;
  }
  if (opacity < 1e-3) return std::nullopt;
  return strength_ * (sum + Vec3(1 - opacity)) + Vec3(1 - strength_);
}

}  // namespace pontata
