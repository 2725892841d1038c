#include "engine/seams/hug_cost.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace pontata {

namespace {

constexpr double kPlainCell = 0.002;  // m, where there is no picture
constexpr int kMostCells = 8192;      // a side
constexpr float kCalm = 0.1f;         // of `strength`: how busy even the calmest ground counts
constexpr float kOwn = 0.16f;         // of its strength, that a straight contour adds to how busy its own ground is
constexpr float kHalf = 0.7f;         // a ridge that stands out so far over its surroundings takes off half
constexpr float kBeside = 0.7f;       // of that, in the cells next to its own
constexpr std::size_t kAngles = 128;  // directions told apart, over half a turn

struct Cells {
  double cell = 1;
  int columns = 1, rows = 1;
};

Cells lay_out(const ChartBox& box, const ContourField* contours) {
  Cells c;
  if (contours && contours->columns > 0) {
    c.cell = contours->spacing;
    c.columns = contours->columns;
    c.rows = contours->rows;
  } else {
    c.cell = std::max(kPlainCell, std::max(box.width, box.height) / kMostCells);
    c.columns = static_cast<int>(box.width / c.cell) + 1;
    c.rows = static_cast<int>(box.height / c.cell) + 1;
  }
  return c;
}

// How far steps 0..3 run along a contour whose gradient has angle pi k / kAngles: 1 within about 27 degrees (on the
// grid some step is always within 22.5), 0 beyond 60.
std::array<std::array<float, 4>, kAngles> alignments() {
  std::array<std::array<float, 4>, kAngles> out{};
  for (std::size_t k = 0; k < kAngles; ++k) {
    const double angle = std::numbers::pi * static_cast<double>(k) / kAngles;
    const Vec2 tangent(-std::sin(angle), std::cos(angle));
    for (std::size_t d = 0; d < 4; ++d) {
      const double cosine = glm::dot(glm::normalize(Vec2(kHugSteps[d].i, kHugSteps[d].j)), tangent);
      const double t = std::clamp((cosine * cosine - 0.25) / (0.80 - 0.25), 0.0, 1.0);
      out[k][d] = static_cast<float>(t * t * (3 - 2 * t));
    }
  }
  return out;
}

}  // namespace

float stands_out(const Ridge& ridge, float busy, double strength) {
  return ridge.strength / (std::max(0.0f, busy - kOwn * ridge.strength) + kCalm * static_cast<float>(strength));
}

HugCost::HugCost(const ChartedWall& wall, const ContourField* contours, double strength, const HugStrictness& strict)
    : wall_(&wall),
      contours_(contours && contours->columns > 0 ? contours : nullptr),
      strength_(std::max(strength, 1e-3)),
      strict_(strict),
      spans_({}, 0, 1, 0) {
  const auto cells = lay_out(wall.chart->box(), contours_);
  cell_ = cells.cell;
  columns_ = cells.columns;
  rows_ = cells.rows;
  spans_ = WallRows(wall.chart->border_rings(), origin_, cell_, rows_);
  tiles_.resize(static_cast<std::size_t>(tile_columns()) * static_cast<std::size_t>(tile_rows()));
}

HugCell HugCost::cell_of(Vec2 p) const {
  const auto nearest = [&](double x, int count) {
    return static_cast<int>(std::clamp(std::floor((x - origin_) / cell_ + 0.5), 0.0, count - 1.0));
  };
  return {nearest(p.x, columns_), nearest(p.y, rows_)};
}

HugCell HugCost::cell_at(Vec2 p) {
  const HugCell own = cell_of(p);
  HugCell best = own;
  double least = std::numeric_limits<double>::infinity();
  for (int dj = -2; dj <= 2; ++dj) {
    for (int di = -2; di <= 2; ++di) {
      const HugCell c{own.i + di, own.j + dj};
      if (c.i < 0 || c.j < 0 || c.i >= columns_ || c.j >= rows_) continue;
      const double d = glm::length(centre(c) - p);
      if (d < least && tile_of(c).on_wall[index_in_tile(c)]) {
        least = d;
        best = c;
      }
    }
  }
  return best;
}

const HugTile& HugCost::tile(int ti, int tj) {
  auto& slot =
      tiles_[static_cast<std::size_t>(tj) * static_cast<std::size_t>(tile_columns()) + static_cast<std::size_t>(ti)];
  if (!slot) {
    slot = std::make_unique<HugTile>();
    fill(*slot, ti, tj);
  }
  return *slot;
}

void HugCost::fill(HugTile& tile, int ti, int tj) const {
  const int i0 = ti * HugTile::kSide, j0 = tj * HugTile::kSide;
  constexpr int half = HugTile::kSide / 2;
  const Vec2 middle = centre({std::min(i0 + half, columns_ - 1), std::min(j0 + half, rows_ - 1)});
  tile.form = form_near(*wall_, to_chart(middle));
  for (std::size_t d = 0; d < 4; ++d) {
    tile.length[d] = static_cast<float>(step_length(tile.form, Vec2(kHugSteps[d].i, kHugSteps[d].j) * cell_));
  }
  for (auto& f : tile.factor) f.fill(255);
  tile.ridge.fill(HugTile::kNoRidge);
  tile.on_wall.fill(0);
  if (finer_) return fill_coarse(tile, ti, tj);
  for (int j = j0; j < std::min(j0 + HugTile::kSide, rows_); ++j) {
    for (const auto& span : spans_.spans(j)) {
      const int first = std::max(i0, static_cast<int>(std::ceil((span.from - origin_) / cell_)));
      const int last =
          std::min({i0 + HugTile::kSide - 1, columns_ - 1, static_cast<int>(std::floor((span.to - origin_) / cell_))});
      for (int i = first; i <= last; ++i) tile.on_wall[index_in_tile({i, j})] = 1;
    }
  }
  if (contours_) fill_contours(tile, ti, tj);
}

namespace {

// How busy the ground is about the samples [i0, i1) x [j0, j1), between the middles of the field's blocks.
class Busy {
 public:
  Busy(const ContourField& field, int i0, int j0, int i1, int j1)
      : a0_(block(i0)), b0_(block(j0)), across_(block(i1 - 1) - a0_ + 2), up_(block(j1 - 1) - b0_ + 2) {
    for (int b = 0; b < up_; ++b)
      for (int a = 0; a < across_; ++a) means_.push_back(field.busy(std::max(a0_ + a, 0), std::max(b0_ + b, 0)));
  }
  float at(int i, int j) const {
    const int a = block(i) - a0_, b = block(j) - b0_;
    const float x = part(i), y = part(j);
    const auto mean = [&](int p, int q) { return means_[static_cast<std::size_t>(q * across_ + p)]; };
    return (1 - y) * ((1 - x) * mean(a, b) + x * mean(a + 1, b)) +
           y * ((1 - x) * mean(a, b + 1) + x * mean(a + 1, b + 1));
  }

 private:
  static constexpr int n = ContourTile::kBlock;
  // The block whose middle is at or before the sample, and how far on toward the next one that is.
  static int block(int i) { return (i + n / 2) / n - 1; }
  static float part(int i) { return (static_cast<float>((i + n / 2) % n) + 0.5f) / n; }
  int a0_, b0_, across_, up_;
  std::vector<float> means_;
};

}  // namespace

void HugCost::fill_contours(HugTile& tile, int ti, int tj) const {
  const auto& field = *contours_;
  constexpr int n = HugTile::kSide;
  const int i0 = ti * n, j0 = tj * n;
  const int i1 = std::min(i0 + n + 1, field.columns), j1 = std::min(j0 + n + 1, field.rows);
  const Busy busy(field, std::max(i0 - 1, 0), std::max(j0 - 1, 0), i1, j1);
  std::array<float, HugTile::kCells> shares{};
  std::array<Ridge, HugTile::kCells> guide{};
  const auto guided = [&](int x, int y, const Ridge& ridge, float share) {
    if (x < 0 || y < 0 || x >= n || y >= n) return;
    const auto cell = static_cast<std::size_t>(y * n + x);
    if (shares[cell] >= share) return;
    shares[cell] = share;
    guide[cell] = ridge;
  };
  for (int j = std::max(j0 - 1, 0); j < j1; ++j) {
    for (int i = std::max(i0 - 1, 0); i < i1; ++i) {
      const Ridge ridge = field.faint(i, j);
      if (ridge.strength <= 0) continue;
      const int x = i - i0, y = j - j0;
      if (x >= 0 && y >= 0 && x < n && y < n)
        tile.ridge[static_cast<std::size_t>(y * n + x)] = static_cast<std::uint32_t>(field.index(i, j));
      const float stands = stands_out(ridge, busy.at(i, j), strength_);
      const bool plain = strict_.plain > 0 && static_cast<double>(field.at(i, j).strength) >= strength_;
      const float share = std::max(stands / (stands + kHalf), plain ? strict_.plain : 0);
      for (int dy = -1; dy <= 1; ++dy)
        for (int dx = -1; dx <= 1; ++dx) guided(x + dx, y + dy, ridge, dx == 0 && dy == 0 ? share : kBeside * share);
    }
  }
  for (std::size_t k = 0; k < HugTile::kCells; ++k) {
    if (shares[k] > 0) tile.factor[k] = factors(guide[k], shares[k]);
  }
}

std::array<std::uint8_t, 4> HugCost::factors(const Ridge& ridge, float share) const {
  static const auto table = alignments();
  const float most = 255 * (1 - strict_.least) * share;
  const float turn = ridge.direction / std::numbers::pi_v<float> + 1;  // 0.5 .. 1.5 half turns
  const auto& aligned = table[static_cast<std::size_t>(turn * kAngles + 0.5f) % kAngles];
  std::array<std::uint8_t, 4> out{};
  for (std::size_t d = 0; d < 4; ++d) out[d] = static_cast<std::uint8_t>(255.5f - most * aligned[d]);
  return out;
}

}  // namespace pontata
