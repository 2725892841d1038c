// Draws all pictures of a wall over a block of its samples.
//
// Based on: Porter & Duff, "Compositing digital images", 1984 (over); Carpenter, "The A-buffer, an antialiased hidden
// surface method", 1984 (what each picture covers of a sample is kept as a mask of places within it, so that pictures
// that meet edge to edge leave no gap).
#pragma once

#include <memory>

#include "engine/picture/sample_block.h"
#include "engine/picture/wall_rows.h"

namespace pontata {

// Which samples of rows v = origin + j * spacing lie on the wall, its border included.
class WallSamples {
 public:
  WallSamples(const ChartedWall& wall, double origin, double spacing, int rows);
  // Of the block whose lowest row is row `j`.
  void of(const SampleBlock& block, int j, OnWall& on) const;

 private:
  double origin_ = 0, spacing_ = 1, high_ = 0;
  int count_ = 0;
  std::vector<Ring> rings_;
  WallRows rows_;
};

// For one thread. Its readers keep tiles of the pictures at hand between blocks.
class BlockDrawer {
 public:
  // `pictures`, the lowest first, must outlive it.
  BlockDrawer(WallRef wall, const std::vector<PreparedRef>& pictures);

  // The samples of the block, row by row from the lowest, kMost to a row. `which`: indices of the pictures that may
  // show, rising. Until the next call.
  const std::vector<Float4>& draw(const SampleBlock& block, std::span<const std::size_t> which, const OnWall& on);

  // Opacity of picture k's own pixels over a footprint, 0..1.
  double opacity(std::size_t k, Vec2 pixel, const Footprint& footprint);

 private:
  static constexpr int kCell = SampleBlock::kCell;
  struct Layer;
  PictureReader& reader(std::size_t k);
  void draw_cell(int x, int y, std::span<const std::size_t> which, const OnWall& on);
  void draw_piece(const EvenPiece& piece, std::size_t k, int x, int y, const OnWall& on, Layer& to);
  Float4 composed(std::size_t sample, std::size_t count) const;
  std::uint32_t covered(const EvenPiece& piece, const ShownArea& area, int i, int j, Vec2& pixel) const;

  WallRef wall_;
  const std::vector<PreparedRef>& pictures_;
  const SampleBlock* block_ = nullptr;
  std::vector<std::unique_ptr<PictureReader>> readers_;
  std::vector<BlockMap> maps_;
  std::vector<Layer> layers_;
  std::vector<std::uint8_t> closed_;  // samples of the cell over which nothing below can show
  std::vector<Float4> out_;

 public:
  ~BlockDrawer();
};

}  // namespace pontata
