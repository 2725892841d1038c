// All pictures of a wall as they lie on it together.
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "engine/base/progress.h"
#include "engine/picture/placed_picture.h"

namespace pontata {

struct DrapeInput {
  WallRef wall;
  std::vector<PlacedRef> pictures;  // the lowest first; those without pixels show nothing
  std::vector<WallRef> others;      // walls that may stand between an eye and this wall
  bool operator==(const DrapeInput&) const = default;
};

// A square of samples, row by row from the lowest: colour multiplied by opacity, and opacity, 0..65535 each.
struct DrapedTile {
  static constexpr int kSide = 128;
  std::vector<std::uint16_t> rgba;  // 4 * kSide * kSide
};

// Colours, not multiplied, and opacity, 0..255; row by row from the top.
struct Raster {
  int width = 0, height = 0;
  std::vector<std::uint8_t> rgba;
};
Image over_white(const Raster& raster);

class Draped {
 public:
  // The working grid over the chart's box: sample (i, j) sits at chart place (i, j) * spacing, j upward; samples off
  // the wall show nothing. The spacing is that of the finest picture's pixels on the wall (pixel_on_wall in
  // drape_extent.h: it does not change when a picture is moved a little), at least 1 mm and so that there are at most
  // 16 million samples, unless one is given.
  // `before`: of the same wall and spacing, tiles that show the same pictures in the same places are taken over from
  // it, not made again. Nothing is drawn yet: milliseconds.
  static std::shared_ptr<const Draped> make(DrapeInput input, std::shared_ptr<const Draped> before = nullptr,
                                            double spacing = 0);

  const DrapeInput& input() const { return input_; }
  double spacing() const { return spacing_; }
  int columns() const { return columns_; }
  int rows() const { return rows_; }
  int tiles_across() const { return (columns_ + DrapedTile::kSide - 1) / DrapedTile::kSide; }
  int tiles_up() const { return (rows_ + DrapedTile::kSide - 1) / DrapedTile::kSide; }
  // Tile (a, b), counted from the lower left; null where nothing shows. Made when first asked for, then kept; the same
  // object as in `before` where it was taken over. Safe from several threads; two make two tiles side by side.
  std::shared_ptr<const DrapedTile> tile(int a, int b) const;

  // Some picture shows at this place of the wall, with pixels of its own that are not wholly transparent about there
  // (within 1/1000 of its longer side). A microsecond; a ray more for each picture that is seen from one place.
  bool covers(ChartPoint p) const;

  // The draped pictures at any spacing (chart m), read from the pictures themselves: pixel (x, y) of the raster sits at
  // corner + ((x + 1/2), (height - y - 1/2)) * spacing. On all threads; the same bytes for any number of them.
  // Cancelled: an empty raster.
  Raster draw(ChartPoint corner, double spacing, int width, int height, Progress* progress = nullptr) const;

  // Chart metres of the finest picture's pixel: finer than this nothing is to be seen.
  double finest() const { return finest_; }

  ~Draped();

 private:
  struct Kept;
  explicit Draped(DrapeInput input);
  void prepare(const Draped* before, double spacing);
  void take_over(const Draped& before);
  std::shared_ptr<const DrapedTile> drawn(int a, int b) const;
  DrapeInput input_;
  double spacing_ = 0, finest_ = 0;
  int columns_ = 0, rows_ = 0;
  std::unique_ptr<Kept> kept_;
};
using DrapedRef = std::shared_ptr<const Draped>;

// The whole chart as one raster of at most `side` pixels a side, no finer than finest().
Raster draw_whole(const Draped& draped, int side, Progress* progress = nullptr);

}  // namespace pontata
