// A wall's draped pictures read place by place, as finely as a sheet prints them.
#pragma once

#include <cstdint>
#include <deque>
#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "engine/picture/draped.h"

namespace pontata {

inline constexpr double kFaded = 0.35;  // strength of a faded picture

class ChartPicture {
 public:
  // `dpi`: dots to the inch wanted; no finer than the pictures are. `strength`: of the colours, 1 as they are, less
  // lightened towards white, so that lines show upon them.
  ChartPicture(DrapedRef draped, int dpi, double strength = 1);

  // Colour over white paper, 0..1 each, bilinear; nothing where no picture shows. Squares of the chart are drawn when
  // first asked for; about 80 MB of them are kept. Not for several threads at once.
  std::optional<Vec3> at(ChartPoint p);

 private:
  static constexpr int kSide = 256;          // samples across a square; one more is shared with the next
  static constexpr std::size_t kMost = 300;  // squares kept
  using Square = std::vector<std::uint8_t>;  // RGBA, rows from the top
  const Square& square(int across, int up);

  DrapedRef draped_;
  double spacing_;   // chart m
  double strength_;  // 0..1
  std::map<std::pair<int, int>, Square> squares_;
  std::deque<std::pair<int, int>> order_;
  std::pair<int, int> last_{};  // neighbouring places mostly lie in one square
  const Square* last_square_ = nullptr;
};

}  // namespace pontata
