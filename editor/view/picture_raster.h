// A wall's draped pictures as the device holds them: squares of the chart with their coarser copies, made from the
// draped working grid away from the window's thread.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <vector>

#include "editor/view/making_thread.h"
#include "editor/view/wall_drawing.h"
#include "engine/picture/contour_lines.h"

namespace pontata {

// Colours multiplied by opacity, and opacity; rows from the lowest. A square that shows nothing has no pixels.
struct RasterSquare {
  static constexpr int kLevels = 8;  // sides of 128, 64, ... 1
  int across = 0, up = 0;
  std::array<std::vector<std::uint8_t>, kLevels> levels;
};

struct PictureRaster {
  int across = 0, up = 0;  // squares
  double spacing = 1;      // chart m between samples; the first sits at chart (0, 0)
  bool whole = true;       // all squares that show something; otherwise only those that changed
  std::vector<RasterSquare> squares;
};

// A part of the chart, finer than the raster: columns x rows of RGBA as in a square, rows from the lowest.
struct PictureDetail {
  LabelWindow window;
  std::vector<std::uint8_t> rgba;  // empty: none
};

// What one wall shows at a time, by tile, row by row from the lowest; null: nothing.
using ShownTiles = std::vector<std::shared_ptr<const DrapedTile>>;

// Tiles of `draped` that are not those of `before`; all of them when `before` is of another grid or empty. Stopped:
// some are missing.
PictureRaster make_raster(const Draped& draped, const ShownTiles& before, ShownTiles& now,
                          const std::atomic<bool>& stop);
PictureDetail make_detail(const Draped& draped, const LabelWindow& window);

struct PictureJob {
  WallId wall;
  DrapedRef draped;
  ShownTiles before;                  // what the device holds
  std::optional<LabelWindow> detail;  // only this part, finely
  struct Contours {                   // only these, as lines
    WallRef wall;
    std::shared_ptr<const ContourField> field;
    Vec3 origin{0, 0, 0};  // of the wall's drawing
  } contours;
};
struct MadePicture {
  WallId wall;
  DrapedRef draped;
  ShownTiles now;
  PictureRaster raster;
  std::optional<PictureDetail> detail;
  LabelWindow asked;  // for the detail
  std::shared_ptr<const ContourField> contours;
  LinePieces lines;
};
using PictureMaker = MakingThread<PictureJob, MadePicture>;
MadePicture make_picture(const PictureJob& job, const std::atomic<bool>& stop);

}  // namespace pontata
