#include "engine/picture/picture_reader.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#ifdef __SSE2__
#include <emmintrin.h>
#endif

namespace pontata {

namespace {

constexpr int kSide = PictureTile::kSide;
constexpr std::size_t kMostHeld = 64;  // tiles
constexpr double kLongest = 8;  // a footprint's longer side in level pixels where the shorter one would allow more

constexpr std::ptrdiff_t kRow = 4 * kSide;  // bytes

struct Pair {
  Float4 left, right;
};

// Two texels side by side, 0..255.
Pair as_floats(const std::uint8_t* texels) {
#ifdef __SSE2__
  __m128i bytes = _mm_setzero_si128();
  std::memcpy(&bytes, texels, 8);
  const __m128i none = _mm_setzero_si128(), words = _mm_unpacklo_epi8(bytes, none);
  return {_mm_cvtepi32_ps(_mm_unpacklo_epi16(words, none)), _mm_cvtepi32_ps(_mm_unpackhi_epi16(words, none))};
#else
  Pair out;
  for (int c = 0; c < 4; ++c) out.left[c] = texels[c], out.right[c] = texels[c + 4];
  return out;
#endif
}

Float4 by_opacity(const Float4& c) {
  const float a = c[3] * (1.0f / 255);
  return c * Float4{a, a, a, 1};
}
Pair multiplied(const std::uint8_t* texels) {
  const Pair p = as_floats(texels);
  return {by_opacity(p.left), by_opacity(p.right)};
}

// Equal colours stay exactly as they are.
Float4 between(const Float4& a, const Float4& b, float t) { return a + (b - a) * t; }

// From the texel at p to its right and lower neighbours, all of one tile.
template <class Load>
Float4 mixed(const std::uint8_t* p, float tx, float ty, const Load& load) {
  const Pair low = load(p), high = load(p + kRow);
  return between(between(low.left, low.right, tx), between(high.left, high.right, tx), ty);
}

// Sum of the probes about the texel at p, tx and ty beyond its middle, all within its tile.
template <class Load>
Float4 probed(const std::uint8_t* p, float tx, float ty, const Footprint& footprint, const Load& load) {
  if (footprint.probes == 1) return mixed(p, tx, ty, load);
  constexpr int kFar = 64;  // more than a probe's distance, so that rounding goes down
  Float4 sum{};
  for (int k = 0; k < footprint.probes; ++k) {
    const auto& d = footprint.at[static_cast<std::size_t>(k)];
    const float x = tx + d[0] + kFar, y = ty + d[1] + kFar;
    const int i = static_cast<int>(x), j = static_cast<int>(y);
    sum += mixed(p + (j - kFar) * kRow + (i - kFar) * 4, x - static_cast<float>(i), y - static_cast<float>(j), load);
  }
  return sum;
}

bool is_opaque(const PictureTile& tile) {
  std::uint8_t least = 255;
  for (std::size_t k = 3; k < tile.rgba.size(); k += 4) least = std::min(least, tile.rgba[k]);
  return least == 255;
}

struct Probes {
  int count = 1;
  double step = 0;  // px
};

Probes probes_along(double side, double texel) {
  const double rest = side * side + 2 - 3 * texel * texel;  // 12 times the variance that is left to the probes
  if (!(rest > 1e-9)) return {};
  const int n = std::clamp(static_cast<int>(std::ceil(std::sqrt(rest / (texel * texel) + 1))), 2, Footprint::kMost);
  return {n, std::sqrt(rest / (n * n - 1.0))};
}

Vec2 along(Vec2 side, double length, double step) { return length > 0 ? side * (step / length) : Vec2(0, 0); }

}  // namespace

Footprint Footprint::of(Vec2 across, Vec2 up, int levels) {
  Footprint f;
  const double a = glm::length(across), b = glm::length(up), longer = std::max(a, b);
  if (!(longer > 1) || !std::isfinite(longer)) return f;
  const double shorter = std::max(std::abs(cross2(across, up)) / longer, longer / kLongest);
  f.level =
      std::clamp(static_cast<int>(std::floor(0.5 * std::log2((shorter * shorter + 2) / 3) + 1e-9)), 0, levels - 1);
  const double texel = std::ldexp(1.0, f.level);
  f.shrink = 1 / texel;
  const Probes pa = probes_along(a, texel), pb = probes_along(b, texel);
  const Vec2 step_a = along(across, a, pa.step) / texel, step_b = along(up, b, pb.step) / texel;
  f.probes = 0;
  for (int j = 0; j < pb.count; ++j)
    for (int i = 0; i < pa.count; ++i) {
      const Vec2 at = step_a * (i - 0.5 * (pa.count - 1)) + step_b * (j - 0.5 * (pb.count - 1));
      f.at[static_cast<std::size_t>(f.probes++)] = {static_cast<float>(at.x), static_cast<float>(at.y)};
      f.reach = std::max(f.reach, static_cast<int>(std::max(std::abs(at.x), std::abs(at.y))) + 2);
    }
  return f;
}

Footprint Footprint::rough(const PictureSource& picture) {
  constexpr int kFew = 4 * kSide;
  Footprint f;
  const auto longer = [&] { return std::max(picture.size_of(f.level).width, picture.size_of(f.level).height); };
  while (longer() > kFew) ++f.level;
  f.shrink = std::ldexp(1.0, -f.level);
  return f;
}

PictureReader::PictureReader(PictureRef source) : source_(std::move(source)) {
  for (int l = 0; l < source_->levels(); ++l) {
    const PictureSize size = source_->size_of(l);
    const int across = (size.width + kSide - 1) / kSide, down = (size.height + kSide - 1) / kSide;
    levels_.push_back(
        {size, across, std::vector<Page>(static_cast<std::size_t>(across) * static_cast<std::size_t>(down))});
  }
}

const PictureReader::Page& PictureReader::page(int level, int i, int j) {
  const Level& of = levels_[static_cast<std::size_t>(level)];
  const Page& found =
      of.pages[static_cast<std::size_t>(j) * static_cast<std::size_t>(of.across) + static_cast<std::size_t>(i)];
  if (!found.texels) load(level, i, j);
  return found;
}

void PictureReader::load(int level, int i, int j) {
  if (held_.size() >= kMostHeld) {
    held_.front().page->texels = nullptr;
    held_.pop_front();
  }
  Level& of = levels_[static_cast<std::size_t>(level)];
  Page& to = of.pages[static_cast<std::size_t>(j) * static_cast<std::size_t>(of.across) + static_cast<std::size_t>(i)];
  held_.push_back({source_->tile(level, i, j), &to});
  to = {held_.back().tile->rgba.data(), is_opaque(*held_.back().tile)};
}

Float4 PictureReader::texel(int level, int x, int y) {
  const PictureSize size = levels_[static_cast<std::size_t>(level)].size;
  x = std::min(x, size.width - 1), y = std::min(y, size.height - 1);
  const std::uint8_t* p = page(level, x / kSide, y / kSide).texels + 4 * (y % kSide * kSide + x % kSide);
  return by_opacity(Float4{1.0f * p[0], 1.0f * p[1], 1.0f * p[2], 1.0f * p[3]});
}

// Across tiles and at the picture's edge.
Float4 PictureReader::bilinear(int level, double x, double y) {
  const PictureSize size = levels_[static_cast<std::size_t>(level)].size;
  x = std::clamp(x, 0.0, size.width - 1.0), y = std::clamp(y, 0.0, size.height - 1.0);
  const int x0 = static_cast<int>(x), y0 = static_cast<int>(y);
  const auto tx = static_cast<float>(x - x0), ty = static_cast<float>(y - y0);
  return between(between(texel(level, x0, y0), texel(level, x0 + 1, y0), tx),
                 between(texel(level, x0, y0 + 1), texel(level, x0 + 1, y0 + 1), tx), ty);
}

Float4 PictureReader::at(Vec2 pixel, const Footprint& footprint) {
  const double x = pixel.x * footprint.shrink - 0.5, y = pixel.y * footprint.shrink - 0.5;
  const PictureSize size = levels_[static_cast<std::size_t>(footprint.level)].size;
  const float share = 1.0f / (255.0f * static_cast<float>(footprint.probes));
  const int reach = footprint.reach;
  if (x >= reach && y >= reach && x < size.width - 1 - reach && y < size.height - 1 - reach) {
    const int x0 = static_cast<int>(x), y0 = static_cast<int>(y), i = x0 % kSide, j = y0 % kSide;
    if (i >= reach && j >= reach && i < kSide - 1 - reach && j < kSide - 1 - reach) {
      const Page& from = page(footprint.level, x0 / kSide, y0 / kSide);
      const std::uint8_t* p = from.texels + j * kRow + i * 4;
      const auto tx = static_cast<float>(x - x0), ty = static_cast<float>(y - y0);
      return share * (from.opaque ? probed(p, tx, ty, footprint, as_floats) : probed(p, tx, ty, footprint, multiplied));
    }
  }
  Float4 sum{};
  for (int k = 0; k < footprint.probes; ++k) {
    const auto& d = footprint.at[static_cast<std::size_t>(k)];
    sum += bilinear(footprint.level, x + static_cast<double>(d[0]), y + static_cast<double>(d[1]));
  }
  return sum * share;
}

}  // namespace pontata
