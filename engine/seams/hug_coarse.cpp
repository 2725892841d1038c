#include <algorithm>

#include "engine/seams/hug_cost.h"

namespace pontata {

namespace {

constexpr std::size_t kAlong = HugCost::kCoarser;              // cells that a step along a coarse cell leads over
constexpr std::size_t kChildren = kAlong * HugCost::kCoarser;  // in a coarse cell

}  // namespace

HugCost::HugCost(HugCost& finer)
    : wall_(finer.wall_),
      finer_(&finer),
      contours_(nullptr),
      strength_(finer.strength_),
      strict_(finer.strict_),
      cell_(kCoarser * finer.cell_),
      origin_(finer.origin_ + 0.5 * (kCoarser - 1) * finer.cell_),
      columns_((finer.columns_ + kCoarser - 1) / kCoarser),
      rows_((finer.rows_ + kCoarser - 1) / kCoarser),
      spans_({}, 0, 1, 0) {
  tiles_.resize(static_cast<std::size_t>(tile_columns()) * static_cast<std::size_t>(tile_rows()));
}

// A contour that runs through a coarse cell along a step has as many of its cells as the step is long, so the mean of
// the cheapest ones, step by step of the four directions, is small there and where it only crosses it is not.
void HugCost::fill_coarse(HugTile& tile, int ti, int tj) const {
  for (int j = tj * HugTile::kSide; j < std::min((tj + 1) * HugTile::kSide, rows_); ++j) {
    for (int i = ti * HugTile::kSide; i < std::min((ti + 1) * HugTile::kSide, columns_); ++i) {
      std::array<std::array<std::uint8_t, kChildren>, 4> factors;
      for (auto& f : factors) f.fill(255);
      const auto own = index_in_tile({i, j});
      std::size_t count = 0;
      for (int y = kCoarser * j; y < std::min(kCoarser * (j + 1), finer_->rows_); ++y) {
        for (int x = kCoarser * i; x < std::min(kCoarser * (i + 1), finer_->columns_); ++x) {
          const HugTile& fine = finer_->tile_of({x, y});
          const auto k = index_in_tile({x, y});
          if (!fine.on_wall[k]) continue;
          tile.on_wall[own] = 1;
          for (std::size_t d = 0; d < 4; ++d) factors[d][count] = fine.factor[k][d];
          ++count;
        }
      }
      for (std::size_t d = 0; d < 4; ++d) {
        std::nth_element(factors[d].begin(), factors[d].begin() + kAlong - 1, factors[d].end());
        unsigned sum = 0;
        for (std::size_t k = 0; k < kAlong; ++k) sum += factors[d][k];
        tile.factor[own][d] = static_cast<std::uint8_t>(sum / kAlong);
      }
    }
  }
}

}  // namespace pontata
