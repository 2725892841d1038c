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

}  // namespace pontata
