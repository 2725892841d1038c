// The contour field: where the colours of the draped pictures change most, with sub-pixel places, on a grid in the
// chart.
//
// Based on: Canny, "A Computational Approach to Edge Detection", 1986 (gradient of a Gaussian, ridge along the gradient
// direction, hysteresis); Di Zenzo, "A note on the gradient of a multi-image", 1986 (colour edges as well as grey);
// CIE 15, "Colorimetry", 1976 L*a*b* (how far colours look apart, here to first order about mid-grey); Grigorescu,
// Petkov and Westenberg, "Contour detection based on nonclassical receptive field inhibition", 2003 (a contour counts
// by what its surroundings hold as well);
// Knutsson and Westin, "Normalized and Differential Convolution", 1993 (colours weighed by their opacity, so that bare
// wall is no colour).
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "engine/base/progress.h"
#include "engine/picture/draped.h"

namespace pontata {

// What the painter may change.
struct ContourSettings {
  double scale_mm = 0;     // how wide a change of colour still is a contour; 0: as fine as the pictures allow
  double strength = 0.10;  // contrast, 0 to 1, that a contour needs somewhere; it goes on down to 0.4 of it
  bool operator==(const ContourSettings&) const = default;
};

// What a sample holds of the contour that passes it. Strength is the colour contrast, 0 to 1 (black to white), of the
// sharp edge that would give this gradient on the surface: the greatest change of colour per surface metre, as far as
// colours look apart (a change of grey counts as it is), times the Gaussian's sigma in metres times sqrt(2 pi).
struct Ridge {
  float strength = 0;   // 0: no contour here
  float direction = 0;  // radians in the chart, across the contour, -pi/2 .. pi/2; the contour itself runs at right
                        // angles to it in the chart
  float offset = 0;     // samples, signed shift along `direction` to the sub-pixel place, within +-0.7
  bool operator==(const Ridge&) const = default;
};

// A square of the field with all that may be a contour, before joining. Immutable.
struct ContourTile {
  static constexpr int kSide = 128;
  static constexpr int kBlock = 8;                // samples along a side of a block
  static constexpr int kBlocks = kSide / kBlock;  // along a side of the tile
  std::vector<std::uint16_t> number;   // of each sample, row by row from the lowest: 1 + its ridge, 0 without; empty
                                       // where there is no ridge at all
  std::vector<std::uint16_t> samples;  // of each ridge, rising
  std::vector<Ridge> ridges;
  std::vector<float> blocks;  // mean strength over all samples of each block, row by row; below 0 where nothing shows
};

struct ContourOrigin;  // what a field was made from

// A grid over the chart's box: sample (i, j) sits at chart place (i, j) * spacing, j upward. Copies share their tiles.
class ContourField {
 public:
  double spacing = 0;         // chart m
  int columns = 0, rows = 0;  // 0: no field

  std::size_t index(int i, int j) const {
    return static_cast<std::size_t>(j) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(i);
  }
  // The contour at a sample; strength 0 where there is none, where no picture shows and off the wall.
  Ridge at(int i, int j) const {
    const std::size_t t = tile_index(i / ContourTile::kSide, j / ContourTile::kSide);
    const ContourTile* tile = tiles_[t].get();
    if (!tile || tile->number.empty()) return {};
    const auto cell = j % ContourTile::kSide * ContourTile::kSide + i % ContourTile::kSide;
    const std::uint32_t number = tile->number[static_cast<std::size_t>(cell)];
    return number > 0 && joined_[first_[t] + number - 1] ? tile->ridges[number - 1] : Ridge{};
  }
  Ridge at(std::size_t sample) const {
    const auto width = static_cast<std::size_t>(columns);
    return at(static_cast<int>(sample % width), static_cast<int>(sample / width));
  }
  // The ridge at a sample however weak, joined to a contour or not: what may guide a line where no contour is plain.
  Ridge faint(int i, int j) const {
    const ContourTile* tile = tiles_[tile_index(i / ContourTile::kSide, j / ContourTile::kSide)].get();
    if (!tile || tile->number.empty()) return {};
    const auto cell = j % ContourTile::kSide * ContourTile::kSide + i % ContourTile::kSide;
    const std::uint32_t number = tile->number[static_cast<std::size_t>(cell)];
    return number > 0 ? tile->ridges[number - 1] : Ridge{};
  }
  Ridge faint(std::size_t sample) const {
    const auto width = static_cast<std::size_t>(columns);
    return faint(static_cast<int>(sample % width), static_cast<int>(sample / width));
  }
  // How busy the picture is about block (a, b), whose samples are [8 a, 8 a + 8) x [8 b, 8 b + 8): the mean strength of
  // all samples, ridges or not, weighed by a bell about 10 samples wide (sigma). 0 where nothing shows.
  float busy(int a, int b) const;
  // Calls each(i, j, ridge) for every contour sample, tile by tile; always in the same order.
  template <class Each>
  void each_ridge(const Each& each) const {
    for (std::size_t t = 0; t < tiles_.size(); ++t) {
      if (!tiles_[t]) continue;
      const int i0 = static_cast<int>(t) % tiles_across() * ContourTile::kSide,
                j0 = static_cast<int>(t) / tiles_across() * ContourTile::kSide;
      for (std::size_t k = 0; k < tiles_[t]->ridges.size(); ++k) {
        const int cell = tiles_[t]->samples[k];
        if (joined_[first_[t] + k])
          each(i0 + cell % ContourTile::kSide, j0 + cell / ContourTile::kSide, tiles_[t]->ridges[k]);
      }
    }
  }

  int tiles_across() const { return (columns + ContourTile::kSide - 1) / ContourTile::kSide; }
  int tiles_up() const { return (rows + ContourTile::kSide - 1) / ContourTile::kSide; }
  // Tile (a, b), counted from the lower left; null where no picture shows.
  const std::shared_ptr<const ContourTile>& tile(int a, int b) const { return tiles_[tile_index(a, b)]; }
  std::size_t bytes() const;  // of memory, shared tiles counted in full

 private:
  friend class ContourMaker;
  friend class ContourJoiner;
  std::size_t tile_index(int a, int b) const {
    return static_cast<std::size_t>(b) * static_cast<std::size_t>(tiles_across()) + static_cast<std::size_t>(a);
  }
  std::vector<std::shared_ptr<const ContourTile>> tiles_;
  std::vector<std::size_t> first_;  // per tile, of its ridges in joined_
  std::vector<bool> joined_;        // per ridge: it belongs to a contour
  std::shared_ptr<const ContourOrigin> origin_;
};

// The contours of all draped pictures together. Where no picture shows there are none, nor along a picture's own edge
// to bare wall; where one picture lies on another there are where the colours differ.
//
// The Gaussian has sigma 1.5 samples of the draped grid or, where that is more, half of scale_mm (turned into chart
// metres by the wall's mean scale), so that an even change of colour over scale_mm counts 86 % of its contrast. Wide
// ones are sought on a coarser grid, whose samples are 2/3 of sigma apart or less.
//
// `before`: tiles whose draped tiles, up to the filter's reach, are the same objects as theirs are taken over. The
// result is the same to the bit with and without it and for any number of threads. It does not keep the draped tiles in
// memory. Cancelled: an empty field (columns 0).
ContourField contour_field(const Draped& draped, const ContourSettings& settings = {},
                           const ContourField* before = nullptr, Progress* progress = nullptr);

// Distance in surface metres from a chart place to the nearest ridge sample at or above `strength`, searched within
// `reach` metres; reach when there is none. Taken with the metric at p: relative error about reach / radius of
// curvature. For review and for the share of a line that lies on a contour.
double distance_to_contour(const ChartedWall& wall, const ContourField& field, ChartPoint p, double reach,
                           double strength);

}  // namespace pontata
