// Rows in, tiles out: turns rows upright, cuts them into tiles and makes the smaller levels.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "engine/base/progress.h"
#include "engine/picture/picture_source.h"
#include "engine/picture/tile_store.h"

namespace pontata {

// How stored rows and columns become upright ones, for an Exif orientation 1..8 of a picture stored width x height.
struct Turn {
  int width = 0, height = 0;            // as stored
  bool quarter = false;                 // stored columns are upright rows
  bool flip_x = false, flip_y = false;  // stored columns run leftwards, stored rows upwards
  Turn(int stored_width, int stored_height, int orientation);
  PictureSize upright() const { return quarter ? PictureSize{height, width} : PictureSize{width, height}; }
};

// The levels of a picture of this size, as PictureSource counts them.
struct LevelPlan {
  struct Level {
    PictureSize size;
    int across, down;   // tiles
    std::size_t first;  // number of its first tile
  };
  std::vector<Level> levels;
  std::size_t count = 0;  // of all tiles
  explicit LevelPlan(PictureSize size);
  std::size_t number(int level, int i, int j) const;
};

// The picture made of rows (4 bytes a pixel, 4 * turn.width bytes, from the top as stored), asked for one after
// another. Holds 256 rows and a few tiles in memory besides the store. Cancelled: Problem "stopped".
using RowMaker = std::function<Outcome(std::uint8_t* to)>;
struct BuildOptions {
  std::string path;              // of the picture, for messages
  bool large = false;            // its tiles go to a scratch file
  Progress* progress = nullptr;  // told from `from` to 1
  double from = 0;
};
Result<PictureRef> build_picture(const Turn& turn, const RowMaker& next_row, const BuildOptions& options);

}  // namespace pontata
