// Colours of a picture averaged over the small parallelogram that one sample of the wall takes on it.
//
// Based on: Williams, "Pyramidal parametrics", 1983 (a pyramid of levels); McCormack, Perry, Farkas, Jouppi, "Feline:
// fast elliptical lines for anisotropic texture mapping", 1999 (several probes of a finer level along the footprint);
// Porter & Duff, "Compositing digital images", 1984 (colours multiplied by opacity).
#pragma once

#include <array>
#include <deque>
#include <memory>
#include <vector>

#include "engine/picture/picture_source.h"

namespace pontata {

// Red, green, blue multiplied by opacity, and opacity.
using Float4 = float __attribute__((vector_size(16)));

// Which level is read and at which places about the middle, so that the weights' variance along either side of the
// parallelogram is that of the mean over it: with level pixels t = 2^level picture pixels wide, their own box and the
// bilinear tent have a variance of t^2/4 - 1/12; the rest of (r^2 + 1)/12, for a side of r pixels, is what n probes
// evenly d <= t apart add, d^2 (n^2 - 1)/12. A picture as fine as the samples or coarser is read bilinearly.
struct Footprint {
  static constexpr int kMost = 8;  // probes along a side
  int level = 0;
  double shrink = 1;  // level pixels a picture pixel
  int probes = 1;
  int reach = 1;  // level pixels that it goes beyond the one its middle lies in, to either side
  std::array<std::array<float, 2>, kMost * kMost> at{};  // level pixels from the middle

  // A single probe of a level that a few tiles hold, for rough questions at many places.
  static Footprint rough(const PictureSource& picture);
  // `across` and `up`: sides of the parallelogram, px.
  static Footprint of(Vec2 across, Vec2 up, int levels);
};

// Reads one picture from one thread; keeps the tiles it needed last (16 MB) at hand.
class PictureReader {
 public:
  explicit PictureReader(PictureRef source);
  // At a place of the picture (px, x right, y down), 0..1 each; beyond the picture its edge goes on.
  Float4 at(Vec2 pixel, const Footprint& footprint);

 private:
  struct Page {
    const std::uint8_t* texels = nullptr;  // null: not at hand
    bool opaque = false;
  };
  struct Level {
    PictureSize size;
    int across = 0;  // tiles
    std::vector<Page> pages;
  };
  struct Held {
    std::shared_ptr<const PictureTile> tile;
    Page* page;
  };
  const Page& page(int level, int i, int j);
  void load(int level, int i, int j);
  Float4 bilinear(int level, double x, double y);
  Float4 texel(int level, int x, int y);

  PictureRef source_;
  std::vector<Level> levels_;
  std::deque<Held> held_;
};

}  // namespace pontata
