// One tile of the contour field, from the draped tiles about it.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "engine/picture/contours.h"
#include "engine/picture/metric_grid.h"

namespace pontata {

// The draped working grid with its tiles at hand.
struct DrapedTiles {
  int columns = 0, rows = 0;  // samples
  std::vector<std::shared_ptr<const DrapedTile>> tiles;
  int across() const { return (columns + DrapedTile::kSide - 1) / DrapedTile::kSide; }
  int up() const { return (rows + DrapedTile::kSide - 1) / DrapedTile::kSide; }
  const DrapedTile* at(int a, int b) const {
    return tiles[static_cast<std::size_t>(b) * static_cast<std::size_t>(across()) + static_cast<std::size_t>(a)].get();
  }
  // Opacity of a sample, 0..65535; 0 beyond the grid.
  std::uint16_t opacity(int i, int j) const;
};

// How contours are sought: a sample of the field is the mean of about `factor` x `factor` draped samples about its
// place.
struct ContourFilter {
  int factor = 1;
  double sigma = 1.5;   // field samples, of the whole blur
  float floor = 0.03f;  // weaker ridges are not kept
  double spacing = 0;   // of the field, chart m
  int columns = 0, rows = 0;
  bool operator==(const ContourFilter&) const = default;

  // Field samples beyond a tile that it depends on.
  int reach() const;
  std::vector<float> taps() const;   // of the Gaussian that is left to do, from its middle outward; they sum to 1
  std::vector<float> means() const;  // weights of the mean, along one side
};

// Which draped tiles [a0, a1) x [b0, b1) field tile (a, b) is made from.
struct TileRange {
  int a0 = 0, a1 = 0, b0 = 0, b1 = 0;
};
TileRange draped_range(const ContourFilter& filter, const DrapedTiles& draped, int a, int b);

// Tile (a, b) of the field; null where no picture shows.
std::shared_ptr<const ContourTile> contour_tile(const ContourFilter& filter, const DrapedTiles& draped,
                                                const MetricGrid& metric, int a, int b);

}  // namespace pontata
