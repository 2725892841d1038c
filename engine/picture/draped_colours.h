// Colours of a wall's draped pictures at scattered places: drawn in blocks, each when it is first asked for.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <memory>
#include <mutex>
#include <tuple>

#include "engine/picture/draped.h"

namespace pontata {

// Colour multiplied by opacity, and opacity, 0..1.
using SeenColour = std::array<float, 4>;

class DrapedColours {
 public:
  explicit DrapedColours(DrapedRef draped) : draped_(std::move(draped)) {}

  // One reader a thread.
  class Reader {
   public:
    explicit Reader(DrapedColours& colours) : colours_(colours) {}
    // At a chart place, for a sample about `footprint` chart metres wide. Bilinear.
    SeenColour at(ChartPoint p, double footprint);

   private:
    const std::uint8_t* texel(int level, int x, int y);
    DrapedColours& colours_;
    std::map<std::tuple<int, int, int>, std::shared_ptr<const Raster>> held_;
    std::tuple<int, int, int> last_{-1, 0, 0};
    const Raster* last_block_ = nullptr;
  };

 private:
  static constexpr int kSide = 128;  // samples of a block
  // Samples of level k lie finest() * 2^k apart, sample (x, y) at that times (x + 1/2, y + 1/2), y upward.
  double spacing(int level) const;
  std::shared_ptr<const Raster> block(int level, int a, int b);

  DrapedRef draped_;
  std::mutex mutex_;
  struct Slot {
    std::once_flag once;
    std::shared_ptr<const Raster> raster;
  };
  std::map<std::tuple<int, int, int>, std::shared_ptr<Slot>> blocks_;
};

}  // namespace pontata
