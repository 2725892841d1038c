// A block of samples of the wall, and where on a picture they fall.
//
// The way chart -> place on the wall -> pixel is taken exactly at nodes and, between them, bilinearly where that is no
// further off than a twentieth of a pixel (of a sample, where those are larger) at the middles of the sides and of the
// cell; elsewhere (arrises, borders, strongly bent places) cells are quartered, from 16 samples a side to 4 and then
// sample by sample. What an eye sees is asked at the same nodes, and likewise in finer cells where they disagree or
// where the outline of a wall may pass.
#pragma once

#include <span>
#include <vector>

#include "engine/picture/prepared_picture.h"

namespace pontata {

// Sample (i, j) sits at origin + (i, j) * spacing, j upward.
struct SampleBlock {
  static constexpr int kMost = 128;  // samples a side
  static constexpr int kCell = 16;
  ChartPoint origin;
  double spacing = 1;
  int width = kMost, height = kMost;
  ChartPoint at(double i, double j) const { return {origin.u + i * spacing, origin.v + j * spacing}; }
};

// A square of samples whose pixels run evenly from corner to corner, or a single one.
struct EvenPiece {
  int x = 0, y = 0, side = 1;  // first sample, samples
  Vec2 corner[4];              // px at (x, y), (x + side, y), (x, y + side), (x + side, y + side)
  Vec2 across, up;             // px a sample, at its middle
};

// Which samples of a block lie on the wall; rows of kMost.
using OnWall = std::vector<std::uint8_t>;

class BlockMap {
 public:
  BlockMap();
  // Until the next start(): `block`, `picture` and `on` must stay.
  void start(const ChartedWall& wall, const SampleBlock& block, const PreparedPicture& picture, const OnWall& on);

  // Pieces that together hold every sample of the cell at (x, y) on which the picture may show; a sample of a piece
  // may still lie beside the picture or the wall.
  template <class Take>
  void cell(int x, int y, const Take& take) {
    visit(x, y, SampleBlock::kCell, take);
  }

 private:
  static constexpr int kNodes = SampleBlock::kMost + 1;
  enum class State : std::uint8_t { unasked, none, there };
  enum class Seen : std::uint8_t { unasked, no, yes };
  struct Node {
    Vec2 pixel;
    std::uint32_t triangle = 0;
    State state = State::unasked;
    Seen seen = Seen::unasked;
  };
  struct Nine;
  const Node& node(int i, int j);
  bool seen(int i, int j);
  std::optional<std::uint32_t> triangle(int i, int j);
  Vec3 place(std::uint32_t triangle, ChartPoint p) const;
  Nine nine(int x, int y, int side);
  bool even_sight(const Nine& nine, int x, int y, int side);
  std::optional<EvenPiece> even(const Nine& nine, int x, int y, int side) const;
  std::optional<EvenPiece> single(int x, int y);
  bool any_on(int x, int y, int side) const;
  bool on(int i, int j) const { return i < block_->width && j < block_->height && (*on_)[index(i, j)] != 0; }
  static std::size_t index(int i, int j) {
    return static_cast<std::size_t>(j) * SampleBlock::kMost + static_cast<std::size_t>(i);
  }

  template <class Take>
  void visit(int x, int y, int side, const Take& take);

  const ChartedWall* wall_ = nullptr;
  const SampleBlock* block_ = nullptr;
  const PreparedPicture* picture_ = nullptr;
  const OnWall* on_ = nullptr;
  std::uint32_t last_ = 0;  // triangle found last
  std::vector<Node> nodes_;
};

// Exact values of a cell: corners as in EvenPiece, middles of the lower, left, right and upper side, its middle.
struct BlockMap::Nine {
  const Node* at[9];
  bool all = true;  // there
  PixelBox box;     // of those that are there
};

template <class Take>
void BlockMap::visit(int x, int y, int side, const Take& take) {
  constexpr int kLeast = 4;
  if (!any_on(x, y, side)) return;
  const Nine values = nine(x, y, side);
  const auto piece = values.all ? even(values, x, y, side) : std::nullopt;
  if (values.all) {
    // A cell whose image lies further from what shows than it is large shows nothing, whether even or not.
    const double far = piece ? 0.5 * (std::abs(piece->across.x) + std::abs(piece->up.x) + std::abs(piece->across.y) +
                                      std::abs(piece->up.y))
                             : std::max(values.box.right - values.box.left, values.box.bottom - values.box.top);
    const PixelBox &b = values.box, &a = picture_->area().box();
    if (b.left - far > a.right || b.right + far < a.left || b.top - far > a.bottom || b.bottom + far < a.top) return;
  }
  if (piece && (!picture_->has_sight() || even_sight(values, x, y, side))) {
    if (!picture_->has_sight() || seen(x, y)) take(*piece);
    return;
  }
  if (side > kLeast) {
    const int half = side / 2;
    for (const auto& [dx, dy] : {std::pair{0, 0}, std::pair{half, 0}, std::pair{0, half}, std::pair{half, half}})
      visit(x + dx, y + dy, half, take);
    return;
  }
  for (int j = y; j < y + side; ++j)
    for (int i = x; i < x + side; ++i)
      if (on(i, j))
        if (const auto one = single(i, j)) take(*one);
}

}  // namespace pontata
