#include "engine/cartoon/pattern_picture.h"

#include <algorithm>
#include <cmath>

namespace pontata {
namespace {

constexpr double kBleed = 2;  // mm beyond the outline

class Canvas {
 public:
  Canvas(int width, int height) : image_{width, height, {}}, set_(size(), 0) { image_.rgb.assign(3 * size(), 255); }

  void put(int x, int y, const Vec3& colour) {
    const std::size_t i = index(x, y);
    for (int c = 0; c < 3; ++c)
      image_.rgb[3 * i + static_cast<std::size_t>(c)] =
          static_cast<std::uint8_t>(std::lround(255 * std::clamp(colour[c], 0.0, 1.0)));
    set_[i] = 1, any_ = true;
  }
  bool any() const { return any_; }

  // Each round every pixel that is not set takes the colour of a neighbour that is.
  void grow(int rounds) {
    std::vector<std::size_t> rim;
    for (std::size_t i = 0; i < size(); ++i)
      if (set_[i]) rim.push_back(i);
    const int w = image_.width, h = image_.height;
    for (int n = 0; n < rounds; ++n) {
      std::vector<std::size_t> next;
      for (const std::size_t i : rim) {
        const int x = static_cast<int>(i % static_cast<std::size_t>(w)),
                  y = static_cast<int>(i / static_cast<std::size_t>(w));
        for (const auto& [dx, dy] : {std::pair{1, 0}, {-1, 0}, {0, 1}, {0, -1}}) {
          if (x + dx < 0 || x + dx >= w || y + dy < 0 || y + dy >= h) continue;
          const std::size_t j = index(x + dx, y + dy);
          if (set_[j]) continue;
          set_[j] = 1;
          for (std::size_t c = 0; c < 3; ++c) image_.rgb[3 * j + c] = image_.rgb[3 * i + c];
          next.push_back(j);
        }
      }
      rim = std::move(next);
    }
  }
  Image take() { return std::move(image_); }

 private:
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
  for (int y = y0; y <= y1; ++y)
    for (int x = x0; x <= x1; ++x) {
      const Vec2 p{x + 0.5, y + 0.5};
      const double b = cross2(p - c[0].at, c[2].at - c[0].at) / whole,
                   d = cross2(c[1].at - c[0].at, p - c[0].at) / whole;
      const double a = 1 - b - d;
      if (a < -1e-9 || b < -1e-9 || d < -1e-9) continue;
      if (const auto colour = picture.at(to_chart(a * c[0].place + b * c[1].place + d * c[2].place)))
        canvas.put(x, y, *colour);
    }
}

}  // namespace

Image sheet_picture(const Pattern& pattern, ChartPicture& picture, const Tiling& tiling, const Tile& tile, int dpi) {
  const double per_mm = dpi / 25.4;
  const int width = static_cast<int>(std::ceil(tiling.window.x * per_mm)),
            height = static_cast<int>(std::ceil(tiling.window.y * per_mm));
  // The picture's pixels fill the window exactly, so across and up they differ from the dpi by less than one in all.
  const Vec2 scale{width / tiling.window.x, height / tiling.window.y};
  Canvas canvas(width, height);
  for (std::size_t t = 0; t < pattern.patch.triangles.size(); ++t) {
    const Triangle& v = pattern.patch.triangles[t];
    std::array<Corner, 3> c;
    for (std::size_t k = 0; k < 3; ++k) {
      const Vec2 p = placed(tiling, 1000.0 * pattern.flat.flat[v[k]]) - tile.corner;
      c[k].at = {p.x * scale.x, (tiling.window.y - p.y) * scale.y};
      c[k].place = to_vec(pattern.patch.corner_place(t, k));
    }
    paint(canvas, width, height, c, picture);
  }
  if (!canvas.any()) return {};
  canvas.grow(static_cast<int>(std::lround(kBleed * per_mm)));
  return canvas.take();
}

}  // namespace pontata
