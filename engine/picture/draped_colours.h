// Colours of a wall's draped pictures at scattered places: drawn in blocks, each when it is first asked for and let go
// when no reader has it at hand.
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
  using Key = std::tuple<int, int, int>;  // level, column and row of a block
  struct Block {
    std::once_flag drawn;
    Raster raster;
  };

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
    std::map<Key, std::shared_ptr<const Block>> held_;
    Key last_{};
    const Block* last_block_ = nullptr;
  };

 private:
  static constexpr int kSide = 128;  // samples of a block
  // Samples of level k (below 0 too, so that edges of pictures are sharp) lie finest() * 2^k apart, sample (x, y) at
  // that times (x + 1/2, y + 1/2), y upward.
  double spacing(int level) const;
  std::shared_ptr<const Block> block(const Key& key);

  DrapedRef draped_;
  std::mutex mutex_;
  std::map<Key, std::weak_ptr<Block>> blocks_;
};

}  // namespace pontata
