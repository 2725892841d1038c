// Straight lines on the paper, and how long they are on the wall.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "engine/flatten/patch.h"
#include "engine/flatten/strain.h"

namespace pontata {

class PaperLines {
 public:
  // `flat` (m) has every triangle right side up. All three must outlive this. O(n log n).
  PaperLines(const Patch& patch, std::span<const RestTriangle> rest, std::span<const Vec2> flat);

  // Length on the surface, m, of the straight line on the paper between two patch points; nullopt where it leaves the
  // paper: across a rim, a window or a cut. Walks from triangle to triangle (Devillers, Pion, Teillaud, "Walking in a
  // triangulation", 2002): some 2 sqrt(n) of them.
  std::optional<double> surface_length(std::uint32_t a, std::uint32_t b) const;

  // Greatest |printed - surface| length of such a line, and its ends. Looked for between some 100 points spread along
  // the rims and 40 inside, then by moving the ends of the worst few to their neighbours: a lower estimate, short of
  // the true greatest by what lies between neighbouring samples. Some 10 ms for 2,000 triangles.
  struct Worst {
    double difference_m = 0;
    std::pair<std::uint32_t, std::uint32_t> ends{0, 0};
  };
  Worst worst() const;

 private:
  static constexpr std::uint32_t kNone = 0xffffffff;
  // |direction| on the surface is sqrt of xx x^2 + 2 xy x y + yy y^2 for a direction on the paper.
  struct Form {
    double xx = 1, xy = 0, yy = 1;
  };
  std::optional<double> walk(std::uint32_t a, std::uint32_t b) const;
  double difference(std::uint32_t a, std::uint32_t b) const;  // m; 0 where the line leaves the paper
  void find_neighbours();
  std::vector<std::uint32_t> samples() const;
  Worst climbed(Worst from) const;

  const Patch& patch_;
  std::span<const Vec2> flat_;
  std::vector<Form> forms_;                           // per triangle
  std::vector<std::array<std::uint32_t, 3>> across_;  // per triangle: the one beyond side k (corner k to k + 1)
  std::vector<std::uint32_t> fan_, fan_start_;        // triangles round each point
};

}  // namespace pontata
