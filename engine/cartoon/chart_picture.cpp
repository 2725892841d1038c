#include "engine/cartoon/chart_picture.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace pontata {

ChartPicture::ChartPicture(DrapedRef draped, int dpi, double strength)
    : draped_(std::move(draped)),
      spacing_(std::max(0.0254 / dpi, draped_->finest())),
      strength_(strength),
      per_m_(1 / spacing_) {
  for (std::size_t c = 0; c < tone_.size(); ++c)
    tone_[c] = static_cast<std::uint8_t>(std::lround(255 - strength_ * (255 - static_cast<double>(c))));
}

const ChartPicture::Square& ChartPicture::square(int across, int up) {
  if (last_square_ && last_ == std::pair(across, up)) return *last_square_;
  last_ = {across, up};
  last_corner_ = {1.0 * across * kSide, 1.0 * up * kSide};
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

bool ChartPicture::at(ChartPoint p, Dot& out) {
  const double x = p.u * per_m_, y = p.v * per_m_;
  double fx = x - last_corner_.x, fy = y - last_corner_.y;
  if (!last_square_ || !(fx >= 0 && fy >= 0 && fx < kSide && fy < kSide)) {
    square(static_cast<int>(std::floor(x / kSide)), static_cast<int>(std::floor(y / kSide)));
    fx = x - last_corner_.x, fy = y - last_corner_.y;
  }
  const int i = std::clamp(static_cast<int>(fx), 0, kSide - 1), j = std::clamp(static_cast<int>(fy), 0, kSide - 1);
  const auto tx = static_cast<std::uint32_t>(256 * (fx - i)), ty = static_cast<std::uint32_t>(256 * (fy - j));
  const std::uint8_t* q = last_square_->data() + 4 * std::ptrdiff_t{(kSide - j) * (kSide + 1) + i};
  constexpr std::ptrdiff_t kUp = -4 * (kSide + 1);
  const std::array<const std::uint8_t*, 4> corners{q, q + 4, q + kUp, q + kUp + 4};
  const std::array<std::uint32_t, 4> shares{(256 - tx) * (256 - ty), tx * (256 - ty), (256 - tx) * ty, tx * ty};
  if ((corners[0][3] & corners[1][3] & corners[2][3] & corners[3][3]) != 255) return translucent(corners, shares, out);
  for (std::size_t c = 0; c < 3; ++c) {
    std::uint32_t sum = 1u << 15;
    for (std::size_t k = 0; k < 4; ++k) sum += shares[k] * corners[k][c];
    out[c] = tone_[sum >> 16];
  }
  return true;
}

bool ChartPicture::translucent(const std::array<const std::uint8_t*, 4>& corners,
                               const std::array<std::uint32_t, 4>& shares, Dot& out) const {
  Vec3 sum{0, 0, 0};
  double opacity = 0;
  for (std::size_t k = 0; k < 4; ++k) {
    const double share = shares[k] / 65536.0 * corners[k][3] / 255.0;
    sum += share * Vec3(corners[k][0], corners[k][1], corners[k][2]);
    opacity += share;
  }
  if (opacity < 1e-3) return false;
  for (int c = 0; c < 3; ++c)
    out[static_cast<std::size_t>(c)] =
        tone_[static_cast<std::size_t>(std::lround(std::clamp(sum[c] + 255 * (1 - opacity), 0.0, 255.0)))];
  return true;
}

}  // namespace pontata
