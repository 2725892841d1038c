#include "engine/picture/contour_tile.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <tuple>
#include <utility>

namespace pontata {

namespace {

constexpr int kSide = ContourTile::kSide;
constexpr int kRim = 2;                       // blurred samples about a tile: one for gradients, one for ridges
constexpr std::uint16_t kLeastOpacity = 656;  // about 1 %: less is bare wall
constexpr float kBelowTop = 0.85f;            // a sample's strength over its ridge's, at least, for sigma >= 1.4

// A square of samples with planes for red, green and blue, each times opacity, and opacity: 0..1.
struct Block {
  explicit Block(int side_) : side(side_) {
    for (auto& plane : planes) plane.assign(static_cast<std::size_t>(side_) * static_cast<std::size_t>(side_), 0.0f);
  }
  std::size_t index(int i, int j) const {
    return static_cast<std::size_t>(j) * static_cast<std::size_t>(side) + static_cast<std::size_t>(i);
  }
  int side;
  std::array<std::vector<float>, 4> planes;
};

int floor_div(int a, int b) { return a >= 0 ? a / b : -((b - 1 - a) / b); }

// Draped samples of row j, columns [first, first + count), into the four spans; beyond the grid nothing shows.
void read_row(const DrapedTiles& draped, int first, int j, int count, const std::array<float*, 4>& out) {
  constexpr int n = DrapedTile::kSide;
  for (auto* plane : out) std::fill(plane, plane + count, 0.0f);
  if (j < 0 || j >= draped.rows) return;
  for (int i = std::max(first, 0); i < std::min(first + count, draped.columns);) {
    const int end = std::min({(i / n + 1) * n, first + count, draped.columns});
    if (const DrapedTile* tile = draped.at(i / n, j / n)) {
      const std::uint16_t* from = tile->rgba.data() + 4 * (j % n * n + i % n);
      for (int k = 0; k < end - i; ++k)
        for (std::size_t c = 0; c < 4; ++c)
          out[c][i - first + k] = static_cast<float>(from[4 * k + static_cast<int>(c)]) * (1.0f / 65535);
    }
    i = end;
  }
}

// Samples [i0, i0 + side) x [j0, j0 + side) of the field, each the mean of the draped samples about it.
Block read_block(const ContourFilter& filter, const DrapedTiles& draped, int i0, int j0, int side) {
  Block block(side);
  const auto means = filter.means();
  const int width = static_cast<int>(means.size()), before = width / 2, f = filter.factor;
  const int count = (side - 1) * f + width;
  std::array<std::vector<float>, 4> rows;
  std::array<float*, 4> at{};
  for (std::size_t c = 0; c < 4; ++c) {
    rows[c].resize(static_cast<std::size_t>(count));
    at[c] = rows[c].data();
  }
  for (int j = 0; j < side; ++j) {
    for (int y = 0; y < width; ++y) {
      read_row(draped, i0 * f - before, (j0 + j) * f - before + y, count, at);
      for (std::size_t c = 0; c < 4; ++c) {
        float* to = block.planes[c].data() + block.index(0, j);
        for (int x = 0; x < width; ++x) {
          const float w = means[static_cast<std::size_t>(y)] * means[static_cast<std::size_t>(x)];
          for (int i = 0; i < side; ++i) to[i] += w * at[c][i * f + x];
        }
      }
    }
  }
  return block;
}

bool is_opaque(const Block& block) {
  return std::all_of(block.planes[3].begin(), block.planes[3].end(), [](float a) { return a > 0.99999f; });
}

// to[i] = sum of taps over from[i - k step .. i + k step], sixteen at a time.
void blur_row(const float* from, std::ptrdiff_t step, const std::vector<float>& taps, int count, float* to) {
  constexpr int kLanes = 16;
  const auto radius = static_cast<std::ptrdiff_t>(taps.size()) - 1;
  for (int i = 0; i < count; i += kLanes) {
    std::array<float, kLanes> sum{};
    const int lanes = std::min(kLanes, count - i);
    if (lanes == kLanes) {
      for (int l = 0; l < kLanes; ++l) sum[static_cast<std::size_t>(l)] = taps[0] * from[i + l];
      for (std::ptrdiff_t k = 1; k <= radius; ++k) {
        const float w = taps[static_cast<std::size_t>(k)];
        const float *low = from + i - k * step, *high = from + i + k * step;
        for (int l = 0; l < kLanes; ++l) sum[static_cast<std::size_t>(l)] += w * (low[l] + high[l]);
      }
      std::copy(sum.begin(), sum.end(), to + i);
      continue;
    }
    for (int l = 0; l < lanes; ++l) {
      float s = taps[0] * from[i + l];
      for (std::ptrdiff_t k = 1; k <= radius; ++k)
        s += taps[static_cast<std::size_t>(k)] * (from[i + l - k * step] + from[i + l + k * step]);
      to[i + l] = s;
    }
  }
}

// The block without its outer samples, which only serve the blur.
std::vector<float> blurred(const Block& block, std::size_t plane, const std::vector<float>& taps) {
  const int radius = static_cast<int>(taps.size()) - 1, side = block.side - 2 * radius;
  const auto width = static_cast<std::size_t>(side);
  std::vector<float> along(width * static_cast<std::size_t>(block.side)), out(width * width);
  for (int j = 0; j < block.side; ++j)
    blur_row(block.planes[plane].data() + block.index(radius, j), 1, taps, side,
             along.data() + static_cast<std::size_t>(j) * width);
  for (int j = 0; j < side; ++j)
    blur_row(along.data() + static_cast<std::size_t>(j + radius) * width, side, taps, side,
             out.data() + static_cast<std::size_t>(j) * width);
  return out;
}

// Blurred colours without opacity: the blur of the colours so far as they show, by the blur of how far they do.
std::array<std::vector<float>, 3> smooth_colours(const Block& block, const std::vector<float>& taps) {
  std::array<std::vector<float>, 3> colours;
  for (std::size_t c = 0; c < 3; ++c) colours[c] = blurred(block, c, taps);
  if (is_opaque(block)) return colours;
  const auto shown = blurred(block, 3, taps);
  for (auto& plane : colours)
    for (std::size_t k = 0; k < plane.size(); ++k) plane[k] = shown[k] > 1e-6f ? plane[k] / shown[k] : 0.0f;
  return colours;
}

// Strengths over a tile and one sample about it, and the gradient's direction as the cosine and sine of twice its
// angle, times a length.
struct Strengths {
  static constexpr int kWidth = kSide + 2;
  std::vector<float> strength, cosine, sine;
  Strengths() {
    for (auto* plane : {&strength, &cosine, &sine}) plane->assign(static_cast<std::size_t>(kWidth) * kWidth, 0.0f);
  }
};

// The metric along field row j, samples [first, first + kWidth), from nodes of the metric's own grid.
struct FormRow {
  std::array<float, Strengths::kWidth> E{}, F{}, G{};
  FormRow(const ContourFilter& filter, const MetricGrid& metric, int first, int j) {
    const double step = metric.spacing / filter.spacing;  // samples between nodes
    int node = -1000000;
    Metric::FirstForm left{}, right{};
    for (int k = 0; k < Strengths::kWidth; ++k) {
      const double x = (first + k) / step;
      const int at = static_cast<int>(std::floor(x));
      if (at != node) {
        left = metric.at({at * metric.spacing, j * filter.spacing});
        right = metric.at({(at + 1) * metric.spacing, j * filter.spacing});
        node = at;
      }
      const double t = x - at;
      const auto slot = static_cast<std::size_t>(k);
      E[slot] = static_cast<float>(left.E + t * (right.E - left.E));
      F[slot] = static_cast<float>(left.F + t * (right.F - left.F));
      G[slot] = static_cast<float>(left.G + t * (right.G - left.G));
    }
  }
};

// L*, a* and b* over 100 of a small change of sRGB at mid-grey (CIE 15; IEC 61966-2-1), scaled so that a change of grey
// by one is one.
constexpr float kLight[3] = {0.2116f, 0.7172f, 0.0712f}, kRedness[3] = {0.958f, -1.470f, 0.512f},
                kYellowness[3] = {0.336f, 1.046f, -1.382f};

inline float along(const float (&axis)[3], float r, float g, float b) {
  return axis[0] * r + axis[1] * g + axis[2] * b;
}

// Di Zenzo: the greatest change of colour per surface step is the greatest eigenvalue of the colour tensor J against
// the metric g; here as the contrast (0..1) of the sharp edge that would show it after blurring.
void fill_strengths(const std::array<std::vector<float>, 3>& colours, const FormRow& form, float gain, int row,
                    Strengths& out) {
  constexpr int width = Strengths::kWidth, wide = width + 2;
  const auto at = static_cast<std::size_t>(row + 1) * wide + 1;
  const float *r = colours[0].data() + at, *g = colours[1].data() + at, *b = colours[2].data() + at;
  float* __restrict strength = out.strength.data() + row * width;
  float* __restrict cosine = out.cosine.data() + row * width;
  float* __restrict sine = out.sine.data() + row * width;
  for (int i = 0; i < width; ++i) {
    const float rx = 0.5f * (r[i + 1] - r[i - 1]), ry = 0.5f * (r[i + wide] - r[i - wide]);
    const float gx = 0.5f * (g[i + 1] - g[i - 1]), gy = 0.5f * (g[i + wide] - g[i - wide]);
    const float bx = 0.5f * (b[i + 1] - b[i - 1]), by = 0.5f * (b[i + wide] - b[i - wide]);
    const float lx = along(kLight, rx, gx, bx), ly = along(kLight, ry, gy, by);
    const float ax = along(kRedness, rx, gx, bx), ay = along(kRedness, ry, gy, by);
    const float cx = along(kYellowness, rx, gx, bx), cy = along(kYellowness, ry, gy, by);
    const float xx = lx * lx + ax * ax + cx * cx, xy = lx * ly + ax * ay + cx * cy, yy = ly * ly + ay * ay + cy * cy;
    const auto slot = static_cast<std::size_t>(i);
    const float E = form.E[slot], F = form.F[slot], G = form.G[slot];
    const float det = E * G - F * F, half = 0.5f * (G * xx - 2 * F * xy + E * yy) / det;
    const float rest = (xx * yy - xy * xy) / det;
    const float inside = half * half - rest;
    const float greatest = half + std::sqrt(inside > 0.0f ? inside : 0.0f);
    strength[i] = std::sqrt(gain * greatest);
    cosine[i] = xx - yy;
    sine[i] = 2 * xy;
  }
}

// Unit direction of half the angle, x >= 0.
Vec2 half_angle(float cosine, float sine) {
  const double c = cosine, s = sine, length = std::hypot(c, s);
  if (length <= 0) return {1, 0};
  if (c >= 0) {
    const double x = std::sqrt(0.5 * (1 + c / length));
    return {x, 0.5 * s / (length * x)};
  }
  const double y = std::sqrt(0.5 * (1 - c / length)), x = 0.5 * s / (length * y);
  return x < 0 ? Vec2(-x, -y) : Vec2(x, y);
}

// A ridge where the quadratic through the 3 x 3 strengths has its top across the contour within this sample's cell.
Ridge ridge_at(const Strengths& field, std::size_t k) {
  constexpr auto w = static_cast<std::ptrdiff_t>(Strengths::kWidth);
  const float* m = field.strength.data() + k;
  const Vec2 across = half_angle(field.cosine[k], field.sine[k]);
  const auto x = static_cast<float>(across.x), y = static_cast<float>(across.y);
  const float gx = 0.5f * (m[1] - m[-1]), gy = 0.5f * (m[w] - m[-w]);
  const float hxx = m[1] - 2 * m[0] + m[-1], hyy = m[w] - 2 * m[0] + m[-w];
  const float hxy = 0.25f * (m[w + 1] - m[w - 1] - m[1 - w] + m[-w - 1]);
  const float slope = gx * x + gy * y, bend = hxx * x * x + 2 * hxy * x * y + hyy * y * y;
  if (bend >= 0) return {};
  const float shift = -slope / bend;
  if (std::abs(shift * x) > 0.55f || std::abs(shift * y) > 0.55f || std::abs(shift) > 0.7f) return {};
  return {std::min(1.0f, m[0] + 0.5f * slope * shift), std::atan2(y, x), shift};
}

void find_ridges(const ContourFilter& filter, const DrapedTiles& draped, const Strengths& field, int i0, int j0,
                 ContourTile& tile) {
  for (int j = std::max(j0, 1); j < std::min(j0 + kSide, filter.rows - 1); ++j)
    for (int i = std::max(i0, 1); i < std::min(i0 + kSide, filter.columns - 1); ++i) {
      const auto k = static_cast<std::size_t>((j - j0 + 1) * Strengths::kWidth + i - i0 + 1);
      if (field.strength[k] < kBelowTop * filter.floor) continue;
      const Ridge ridge = ridge_at(field, k);
      if (ridge.strength < filter.floor || draped.opacity(i * filter.factor, j * filter.factor) < kLeastOpacity)
        continue;
      tile.samples.push_back(static_cast<std::uint16_t>((j - j0) * kSide + i - i0));
      tile.ridges.push_back(ridge);
    }
  if (tile.ridges.empty()) return;
  tile.number.assign(static_cast<std::size_t>(kSide) * kSide, 0);
  for (std::size_t n = 0; n < tile.samples.size(); ++n)
    tile.number[tile.samples[n]] = static_cast<std::uint16_t>(n + 1);
}

// Mean strengths of blocks, of the samples where a picture shows.
void fill_blocks(const ContourFilter& filter, const DrapedTiles& draped, const Strengths& field, int i0, int j0,
                 bool opaque, ContourTile& tile) {
  constexpr int n = ContourTile::kBlock, across = ContourTile::kBlocks;
  tile.blocks.assign(static_cast<std::size_t>(across) * across, -1.0f);
  for (int b = 0; b < across; ++b)
    for (int a = 0; a < across; ++a) {
      float sum = 0;
      int count = 0;
      for (int j = b * n; j < (b + 1) * n; ++j)
        for (int i = a * n; i < (a + 1) * n; ++i) {
          if (!opaque && draped.opacity((i0 + i) * filter.factor, (j0 + j) * filter.factor) < kLeastOpacity) continue;
          sum += field.strength[static_cast<std::size_t>((j + 1) * Strengths::kWidth + i + 1)];
          ++count;
        }
      if (count > 0) tile.blocks[static_cast<std::size_t>(b * across + a)] = sum / static_cast<float>(count);
    }
}

// Draped tiles of samples [first, first + count) of the field, along one side.
std::pair<int, int> tile_span(int factor, int reach, int first, int count, int tiles) {
  constexpr int n = DrapedTile::kSide;
  const int low = floor_div((first - reach) * factor - factor / 2, n),
            high = floor_div((first + count - 1 + reach) * factor + factor / 2, n);
  return {std::clamp(low, 0, tiles), std::clamp(high + 1, 0, tiles)};
}

bool shows(const DrapedTiles& draped, const TileRange& range) {
  for (int b = range.b0; b < range.b1; ++b)
    for (int a = range.a0; a < range.a1; ++a)
      if (draped.at(a, b)) return true;
  return false;
}

}  // namespace

std::uint16_t DrapedTiles::opacity(int i, int j) const {
  constexpr int n = DrapedTile::kSide;
  if (i < 0 || j < 0 || i >= columns || j >= rows) return 0;
  const DrapedTile* tile = at(i / n, j / n);
  return tile ? tile->rgba[static_cast<std::size_t>(4 * (j % n * n + i % n) + 3)] : std::uint16_t{0};
}

std::vector<float> ContourFilter::means() const {
  if (factor == 1) return {1.0f};
  const int width = factor % 2 == 1 ? factor : factor + 1;  // an even one has its ends halved
  std::vector<float> weights(static_cast<std::size_t>(width), 1.0f / static_cast<float>(factor));
  if (width > factor) weights.front() = weights.back() = 0.5f / static_cast<float>(factor);
  return weights;
}

std::vector<float> ContourFilter::taps() const {
  // The mean has blurred already: variances add.
  const auto weights = means();
  const int middle = static_cast<int>(weights.size()) / 2;
  double variance = 0;
  for (int k = 0; k < static_cast<int>(weights.size()); ++k)
    variance += static_cast<double>(weights[static_cast<std::size_t>(k)]) * (k - middle) * (k - middle);
  const double left = std::sqrt(sigma * sigma - variance / (1.0 * factor * factor));
  const int radius = std::max(1, static_cast<int>(std::ceil(3.5 * left)));
  double sum = 1;
  for (int k = 1; k <= radius; ++k) sum += 2 * std::exp(-0.5 * k * k / (left * left));
  std::vector<float> out;
  for (int k = 0; k <= radius; ++k) out.push_back(static_cast<float>(std::exp(-0.5 * k * k / (left * left)) / sum));
  return out;
}

int ContourFilter::reach() const { return static_cast<int>(taps().size()) - 1 + kRim; }

TileRange draped_range(const ContourFilter& filter, const DrapedTiles& draped, int a, int b) {
  const int reach = filter.reach();
  TileRange range;
  std::tie(range.a0, range.a1) = tile_span(filter.factor, reach, a * kSide, kSide, draped.across());
  std::tie(range.b0, range.b1) = tile_span(filter.factor, reach, b * kSide, kSide, draped.up());
  return range;
}

std::shared_ptr<const ContourTile> contour_tile(const ContourFilter& filter, const DrapedTiles& draped,
                                                const MetricGrid& metric, int a, int b) {
  TileRange own;
  std::tie(own.a0, own.a1) = tile_span(filter.factor, 0, a * kSide, kSide, draped.across());
  std::tie(own.b0, own.b1) = tile_span(filter.factor, 0, b * kSide, kSide, draped.up());
  if (!shows(draped, own)) return nullptr;
  const auto taps = filter.taps();
  const int reach = filter.reach(), i0 = a * kSide, j0 = b * kSide;
  const Block block = read_block(filter, draped, i0 - reach, j0 - reach, kSide + 2 * reach);
  const auto colours = smooth_colours(block, taps);
  // The central difference blurs by a mean over two samples more, of variance 1/3.
  const auto gain = static_cast<float>(2 * std::numbers::pi * (filter.sigma * filter.sigma + 1.0 / 3));
  Strengths strengths;
  for (int row = 0; row < Strengths::kWidth; ++row)
    fill_strengths(colours, FormRow(filter, metric, i0 - 1, j0 - 1 + row), gain, row, strengths);
  auto tile = std::make_shared<ContourTile>();
  find_ridges(filter, draped, strengths, i0, j0, *tile);
  fill_blocks(filter, draped, strengths, i0, j0, is_opaque(block), *tile);
  return tile;
}

}  // namespace pontata
