// A wall's draped pictures read place by place, as finely as a sheet prints them.
#pragma once

#include <array>
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

  using Dot = std::array<std::uint8_t, 3>;
  // Colour over white paper, bilinear, into `out`; false where no picture shows. Squares of the chart are drawn when
  // first asked for; about 80 MB of them are kept. Not for several threads at once. Some 15 ns where neighbours are
  // asked for.
  bool at(ChartPoint p, Dot& out);

 private:
  static constexpr int kSide = 256;          // samples across a square; one more is shared with the next
  static constexpr std::size_t kMost = 300;  // squares kept
  using Square = std::vector<std::uint8_t>;  // RGBA, rows from the top
  const Square& square(int across, int up);
  bool translucent(const std::array<const std::uint8_t*, 4>& corners, const std::array<std::uint32_t, 4>& shares,
                   Dot& out) const;

  DrapedRef draped_;
  double spacing_;   // chart m
  double strength_;  // 0..1
  std::map<std::pair<int, int>, Square> squares_;
  std::deque<std::pair<int, int>> order_;
  std::pair<int, int> last_{};  // neighbouring places mostly lie in one square
  const Square* last_square_ = nullptr;
  double per_m_ = 1;                    // samples
  Vec2 last_corner_{0, 0};              // of that square, in samples
  std::array<std::uint8_t, 256> tone_;  // a colour lightened by the strength
};

}  // namespace pontata
