// What a step of a hugging line costs, on a grid of cells over the chart, made tile by tile as a search asks for it.
//
// A step costs its surface length times a factor: 1 where nothing guides, down to HugStrictness::least along a contour
// that runs along the step. What counts is how far a ridge stands out: its strength over that of its surroundings
// (Grigorescu, Petkov and Westenberg 2003), so that texture guides little and a weak contour on calm ground does. The
// share taken off rises evenly from the weakest ridge on: a line that has to choose between weak contours still follows
// the better one.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <vector>

#include "engine/picture/contours.h"
#include "engine/picture/metric_grid.h"
#include "engine/picture/wall_rows.h"

namespace pontata {

struct HugCell {
  int i = 0, j = 0;
  bool operator==(const HugCell&) const = default;
};

// Steps 0..7, counter-clockwise from +u; d and d + 4 are opposite.
inline constexpr std::array<HugCell, 8> kHugSteps{
    {{1, 0}, {1, 1}, {0, 1}, {-1, 1}, {-1, 0}, {-1, -1}, {0, -1}, {1, -1}}};

struct HugTile {
  static constexpr int kSide = 16;
  static constexpr std::size_t kCells = kSide * kSide;
  static constexpr std::uint32_t kNoRidge = 0xffffffffu;
  Metric::FirstForm form;                                  // of the tile's middle
  std::array<float, 4> length{};                           // surface metres of steps 0..3
  std::array<std::array<std::uint8_t, 4>, kCells> factor;  // 255 is 1; steps 0..3
  std::array<std::uint32_t, kCells> ridge;                 // sample of the contour field, or kNoRidge
  std::array<std::uint8_t, kCells> on_wall;
};

// How far a ridge stands out of ground that is so busy about it (ContourField::busy): about 5 for a lone contour
// plainer than `strength`, 1 to 2 in the midst of texture.
float stands_out(const Ridge& ridge, float busy, double strength);

// How strictly a line keeps to contours.
struct HugStrictness {
  float least =
      0.15f;        // factor along the plainest contour; higher makes lines straighter, lower lets them go far round
  float plain = 0;  // share of a step's cost that any contour of `strength` takes off at least, amid texture too
};

class HugCost {
 public:
  // `contours` may be null. Both must outlive this. A ridge of strength `strength` on calm ground takes off most of a
  // step's cost, weaker ones less and less.
  HugCost(const ChartedWall& wall, const ContourField* contours, double strength, const HugStrictness& strict = {});

  // The same ground on cells kCoarser times as wide, for finding the way roughly: a step costs what the cheapest
  // quarter of its cells would. `finer` must outlive this; its tiles are made as these are asked for.
  static constexpr int kCoarser = 4;
  explicit HugCost(HugCost& finer);

  double cell() const { return cell_; }  // chart metres
  int columns() const { return columns_; }
  int rows() const { return rows_; }
  int tile_columns() const { return (columns_ + HugTile::kSide - 1) / HugTile::kSide; }
  int tile_rows() const { return (rows_ + HugTile::kSide - 1) / HugTile::kSide; }
  const ContourField* contours() const { return contours_; }

  Vec2 centre(HugCell c) const { return {origin_ + c.i * cell_, origin_ + c.j * cell_}; }
  HugCell cell_of(Vec2 p) const;  // that p lies in, or the grid's rim
  // The cell on the wall nearest to p among the few around it; p's own cell when none is.
  HugCell cell_at(Vec2 p);
  // Made when first asked; not for two threads at once.
  const HugTile& tile(int ti, int tj);
  const HugTile& tile_of(HugCell c) { return tile(c.i / HugTile::kSide, c.j / HugTile::kSide); }
  std::size_t tile_number(HugCell c) const {
    return static_cast<std::size_t>(c.j / HugTile::kSide * tile_columns() + c.i / HugTile::kSide);
  }
  static std::size_t index_in_tile(HugCell c) {
    return static_cast<std::size_t>(c.j % HugTile::kSide) * HugTile::kSide +
           static_cast<std::size_t>(c.i % HugTile::kSide);
  }
  // The ridge of a cell; kNoRidge when it has none strong enough.
  std::uint32_t ridge(HugCell c) { return tile_of(c).ridge[index_in_tile(c)]; }

 private:
  void fill(HugTile& tile, int ti, int tj) const;
  void fill_contours(HugTile& tile, int ti, int tj) const;
  std::array<std::uint8_t, 4> factors(const Ridge& ridge, float share) const;
  void fill_coarse(HugTile& tile, int ti, int tj) const;

  const ChartedWall* wall_;
  HugCost* finer_ = nullptr;
  const ContourField* contours_;
  double strength_;
  HugStrictness strict_;
  double cell_ = 1, origin_ = 0;  // chart metres; the middle of cell (0, 0) is (origin, origin)
  int columns_ = 0, rows_ = 0;
  WallRows spans_;
  std::vector<std::unique_ptr<HugTile>> tiles_;
};

}  // namespace pontata
