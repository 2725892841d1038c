#include "engine/picture/resample.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

namespace pontata {

namespace {

// Target cell k covers source [k * ratio, (k + 1) * ratio): its first source index and the weights from there.
struct Share {
  int first = 0;
  std::vector<float> weights;
};

std::vector<Share> shares(int from, int to) {
  const double ratio = static_cast<double>(from) / to;
  std::vector<Share> out(static_cast<std::size_t>(to));
  for (int k = 0; k < to; ++k) {
    const double low = k * ratio, high = std::min<double>(from, (k + 1) * ratio);
    auto& share = out[static_cast<std::size_t>(k)];
    share.first = std::min(static_cast<int>(low), from - 1);
    for (int s = share.first; s < from && s < high; ++s) {
      share.weights.push_back(static_cast<float>((std::min(high, s + 1.0) - std::max(low, 1.0 * s)) / (high - low)));
    }
  }
  return out;
}

void reduce_row(const std::uint8_t* from, const std::vector<Share>& across, std::vector<float>& to) {
  for (std::size_t k = 0; k < across.size(); ++k) {
    float r = 0, g = 0, b = 0;
    const std::uint8_t* p = from + 3 * static_cast<std::ptrdiff_t>(across[k].first);
    for (const float w : across[k].weights) {
      r += w * p[0];
      g += w * p[1];
      b += w * p[2];
      p += 3;
    }
    to[3 * k] = r;
    to[3 * k + 1] = g;
    to[3 * k + 2] = b;
  }
}

}  // namespace

Image reduce(const Image& image, int width, int height) {
  width = std::clamp(width, 1, image.width);
  height = std::clamp(height, 1, image.height);
  if (width == image.width && height == image.height) return image;
  const auto across = shares(image.width, width), down = shares(image.height, height);
  Image out{width, height,
            std::vector<std::uint8_t>(3 * static_cast<std::size_t>(width) * static_cast<std::size_t>(height))};
  std::vector<float> sum(3 * static_cast<std::size_t>(width)), row(sum.size());
  int held = -1;
  for (int y = 0; y < height; ++y) {
    std::fill(sum.begin(), sum.end(), 0.5f);
    const auto& share = down[static_cast<std::size_t>(y)];
    for (std::size_t s = 0; s < share.weights.size(); ++s) {
      const int source = share.first + static_cast<int>(s);
      if (source != held) {
        reduce_row(image.rgb.data() + 3 * std::ptrdiff_t{source} * image.width, across, row);
        held = source;
      }
      for (std::size_t k = 0; k < sum.size(); ++k) sum[k] += share.weights[s] * row[k];
    }
    std::uint8_t* to = out.rgb.data() + 3 * std::ptrdiff_t{y} * width;
    for (std::size_t k = 0; k < sum.size(); ++k) to[k] = static_cast<std::uint8_t>(std::min(sum[k], 255.0f));
  }
  return out;
}

PictureRows::PictureRows(const PictureFrame& frame, const Image& image, double spacing) : source_(&image) {
  const double across = frame.width / image.width, down = frame.height / image.height;  // chart metres a pixel
  const int width = spacing > across ? static_cast<int>(std::lround(frame.width / spacing)) : image.width;
  const int height = spacing > down ? static_cast<int>(std::lround(frame.height / spacing)) : image.height;
  if (width < image.width || height < image.height) {
    reduced_ = reduce(image, width, height);
    source_ = nullptr;
  }
  const Image& read = source_ ? *source_ : reduced_;
  origin_ = to_pixel(frame, read, {0, 0});
  along_ = to_pixel(frame, read, {spacing, 0}) - origin_;
  up_ = to_pixel(frame, read, {0, spacing}) - origin_;
}

void PictureRows::row(int first, int j, std::span<float> red, std::span<float> green, std::span<float> blue) const {
  const Image& read = source_ ? *source_ : reduced_;
  const auto width = static_cast<float>(read.width - 1), height = static_cast<float>(read.height - 1);
  const std::ptrdiff_t stride = 3 * std::ptrdiff_t{read.width};
  const Vec2 half(0.5, 0.5);
  for (std::size_t k = 0; k < red.size(); ++k) {
    const Vec2 at = pixel(first + static_cast<double>(k), j) - half;
    const float x = std::clamp(static_cast<float>(at.x), 0.0f, width),
                y = std::clamp(static_cast<float>(at.y), 0.0f, height);
    const int x0 = static_cast<int>(x), y0 = static_cast<int>(y);
    const float tx = x - static_cast<float>(x0), ty = y - static_cast<float>(y0);
    const std::uint8_t* p = read.rgb.data() + y0 * stride + 3 * std::ptrdiff_t{x0};
    const std::uint8_t* q = y0 + 1 < read.height ? p + stride : p;
    const std::ptrdiff_t right = x0 + 1 < read.width ? 3 : 0;
    const float scale = 1.0f / 255, a = (1 - tx) * (1 - ty) * scale, b = tx * (1 - ty) * scale,
                c = (1 - tx) * ty * scale, d = tx * ty * scale;
    red[k] = a * p[0] + b * p[right] + c * q[0] + d * q[right];
    green[k] = a * p[1] + b * p[right + 1] + c * q[1] + d * q[right + 1];
    blue[k] = a * p[2] + b * p[right + 2] + c * q[2] + d * q[right + 2];
  }
}

bool PictureRows::covers(int i, int j) const {
  const Image& read = source_ ? *source_ : reduced_;
  const Vec2 at = pixel(i, j);
  constexpr double slack = 1e-6;
  return at.x >= -slack && at.y >= -slack && at.x <= read.width + slack && at.y <= read.height + slack;
}

}  // namespace pontata
