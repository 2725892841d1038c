#include "engine/cartoon/pattern_picture.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace pontata {
namespace {

constexpr double kBleed = 2;  // mm beyond the outline
constexpr int kBlock = 3072;  // dots, side of what is drawn at a time

class Canvas {
 public:
  Canvas(int width, int height) : image_{width, height, {}}, set_(size(), 0) { image_.rgb.assign(3 * size(), 255); }

  void put(int x, int y, const ChartPicture::Dot& colour) {
    const std::size_t i = index(x, y);
    std::copy(colour.begin(), colour.end(), image_.rgb.begin() + static_cast<std::ptrdiff_t>(3 * i));
    set_[i] = 1, any_ = true;
  }
  bool any() const { return any_; }

  // Each round every pixel that is not set takes the colour of a neighbour that is.
  void grow(int rounds) {
    std::vector<std::size_t> rim;
    for (std::size_t i = 0; i < size(); ++i)
      if (set_[i]) each_bare_neighbour(i, [&](std::size_t) { return rim.push_back(i), false; });
    for (int n = 0; n < rounds; ++n) {
      std::vector<std::size_t> next;
      for (const std::size_t i : rim)
        each_bare_neighbour(i, [&](std::size_t j) {
          set_[j] = 1;
          for (std::size_t c = 0; c < 3; ++c) image_.rgb[3 * j + c] = image_.rgb[3 * i + c];
          next.push_back(j);
          return true;
        });
      rim = std::move(next);
    }
  }
  // What is left without a margin all round.
  Image take(int margin) const {
    Image out{image_.width - 2 * margin, image_.height - 2 * margin, {}};
    out.rgb.reserve(3 * static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height));
    for (int y = margin; y < image_.height - margin; ++y) {
      const auto row = image_.rgb.begin() + static_cast<std::ptrdiff_t>(3 * index(margin, y));
      out.rgb.insert(out.rgb.end(), row, row + 3 * out.width);
    }
    return out;
  }

 private:
  // Until `see` says no.
  template <class F>
  void each_bare_neighbour(std::size_t i, F&& see) const {
    const auto w = static_cast<std::size_t>(image_.width);
    const std::size_t x = i % w, y = i / w;
    if (x + 1 < w && !set_[i + 1] && !see(i + 1)) return;
    if (x > 0 && !set_[i - 1] && !see(i - 1)) return;
    if (y + 1 < static_cast<std::size_t>(image_.height) && !set_[i + w] && !see(i + w)) return;
    if (y > 0 && !set_[i - w]) see(i - w);
  }
  std::size_t size() const { return static_cast<std::size_t>(image_.width) * static_cast<std::size_t>(image_.height); }
  std::size_t index(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(image_.width) + static_cast<std::size_t>(x);
  }
  Image image_;
  std::vector<char> set_;
  bool any_ = false;
};

// Corners on the canvas (pixels, y down) and in the chart (m).
struct Corner {
  Vec2 at, place;
};

void paint(Canvas& canvas, int width, int height, const std::array<Corner, 3>& c, ChartPicture& picture) {
  const double whole = cross2(c[1].at - c[0].at, c[2].at - c[0].at);
  if (!(std::abs(whole) > 0)) return;
  const auto range = [](double a, double b, double d, int end) {
    const double lo = std::min({a, b, d}), hi = std::max({a, b, d});
    return std::pair{static_cast<int>(std::clamp(std::ceil(lo - 0.5), 0.0, static_cast<double>(end))),
                     static_cast<int>(std::clamp(std::floor(hi - 0.5), -1.0, static_cast<double>(end) - 1))};
  };
  const auto [x0, x1] = range(c[0].at.x, c[1].at.x, c[2].at.x, width);
  const auto [y0, y1] = range(c[0].at.y, c[1].at.y, c[2].at.y, height);
  // Barycentric coordinates and the place in the chart change evenly along a row.
  const Vec2 side = c[1].at - c[0].at, other = c[2].at - c[0].at;
  const double b_step = other.y / whole, d_step = -side.y / whole;
  const Vec2 along = b_step * (c[1].place - c[0].place) + d_step * (c[2].place - c[0].place);
  ChartPicture::Dot colour;
  for (int y = y0; y <= y1; ++y) {
    const Vec2 p = Vec2{x0 + 0.5, y + 0.5} - c[0].at;
    const double b0 = cross2(p, other) / whole, d0 = cross2(side, p) / whole;
    const Vec2 place = c[0].place + b0 * (c[1].place - c[0].place) + d0 * (c[2].place - c[0].place);
    for (int x = x0; x <= x1; ++x) {
      const double n = x - x0, b = b0 + n * b_step, d = d0 + n * d_step;
      if (b < -1e-9 || d < -1e-9 || b + d > 1 + 1e-9) continue;
      if (picture.at(to_chart(place + n * along), colour)) canvas.put(x, y, colour);
    }
  }
}

// Dots of the sheet's window, counted from its upper left.
struct Block {
  int left = 0, top = 0, width = 0, height = 0;
};

// The pattern's corners in dots of the window.
std::vector<std::array<Corner, 3>> corners_on(const Pattern& pattern, const Tiling& tiling, const Tile& tile,
                                              double per_mm) {
  std::vector<std::array<Corner, 3>> out;
  for (std::size_t t = 0; t < pattern.patch.triangles.size(); ++t) {
    const Triangle& v = pattern.patch.triangles[t];
    std::array<Corner, 3>& c = out.emplace_back();
    for (std::size_t k = 0; k < 3; ++k) {
      const Vec2 p = placed(tiling, 1000.0 * pattern.flat.flat[v[k]]) - tile.corner;
      c[k].at = per_mm * Vec2{p.x, tiling.window.y - p.y};
      c[k].place = to_vec(pattern.patch.corner_place(t, k));
    }
  }
  return out;
}

bool touches(const std::array<Corner, 3>& c, const Block& b) {
  const auto [x0, x1] = std::minmax({c[0].at.x, c[1].at.x, c[2].at.x});
  const auto [y0, y1] = std::minmax({c[0].at.y, c[1].at.y, c[2].at.y});
  return x1 >= b.left && x0 <= b.left + b.width && y1 >= b.top && y0 <= b.top + b.height;
}

// What of the window the pattern and its bleed reach.
Block reached(const std::vector<std::array<Corner, 3>>& corners, int width, int height, int bleed) {
  Vec2 lo{1e9, 1e9}, hi{-1e9, -1e9};
  for (const auto& c : corners)
    for (const Corner& k : c) lo = glm::min(lo, k.at), hi = glm::max(hi, k.at);
  const auto dot = [](double x, int end) { return static_cast<int>(std::clamp(x, 0.0, static_cast<double>(end))); };
  const int left = dot(std::floor(lo.x) - bleed, width), right = dot(std::ceil(hi.x) + bleed, width),
            top = dot(std::floor(lo.y) - bleed, height), bottom = dot(std::ceil(hi.y) + bleed, height);
  return {left, top, right - left, bottom - top};
}

// The block's dots, drawn with a margin so that the bleed of a neighbouring block reaches into it; empty where no
// picture shows.
Image draw_block(const std::vector<std::array<Corner, 3>>& corners, const Block& block, int bleed,
                 ChartPicture& picture, Progress* progress) {
  const Block wide{block.left - bleed, block.top - bleed, block.width + 2 * bleed, block.height + 2 * bleed};
  Canvas canvas(wide.width, wide.height);
  for (const auto& corner : corners) {
    if (!touches(corner, wide)) continue;
    if (is_cancelled(progress)) return {};
    std::array<Corner, 3> c = corner;
    for (Corner& k : c) k.at -= Vec2{wide.left, wide.top};
    paint(canvas, wide.width, wide.height, c, picture);
  }
  if (!canvas.any()) return {};
  canvas.grow(bleed);
  return canvas.take(bleed);
}

}  // namespace

void draw_sheet_picture(Pages& pages, const Pattern& pattern, ChartPicture& picture, const Tiling& tiling,
                        const Tile& tile, int dpi, Progress* progress) {
  if (!pages.wanted()) return;
  const double per_mm = dpi / 25.4;
  const auto corners = corners_on(pattern, tiling, tile, per_mm);
  const int bleed = static_cast<int>(std::lround(kBleed * per_mm));
  const Block all = reached(corners, static_cast<int>(std::ceil(tiling.window.x * per_mm)),
                            static_cast<int>(std::ceil(tiling.window.y * per_mm)), bleed);
  const Vec2 upper_left{tiling.margins.left, tiling.margins.bottom + tiling.window.y};
  for (int top = all.top; top < all.top + all.height; top += kBlock)
    for (int left = all.left; left < all.left + all.width; left += kBlock) {
      if (is_cancelled(progress)) return;
      const Block block{left, top, std::min(kBlock, all.left + all.width - left),
                        std::min(kBlock, all.top + all.height - top)};
      const Image image = draw_block(corners, block, bleed, picture, progress);
      if (image.width == 0) continue;
      pages.picture(image, upper_left + Vec2{block.left, -(block.top + block.height)} / per_mm,
                    Vec2{block.width, block.height} / per_mm);
    }
}

}  // namespace pontata
