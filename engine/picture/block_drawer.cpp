#include "engine/picture/block_drawer.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace pontata {

namespace {

constexpr int kPlaces = 32;  // tried within a sample that an edge passes through
constexpr std::uint32_t kAll = 0xffffffffu;
constexpr double kSlack = kPitch;  // m, of the border

// Places spread evenly over the unit square: no two share a column or a row of 32.
// Based on: Hammersley, "Monte Carlo methods for solving multivariable problems", 1960.
constexpr std::array<std::array<double, 2>, kPlaces> spread_places() {
  std::array<std::array<double, 2>, kPlaces> out{};
  for (unsigned k = 0; k < kPlaces; ++k) {
    unsigned turned = 0;
    for (unsigned b = 0; b < 5; ++b) turned |= (k >> b & 1u) << (4 - b);
    out[k] = {(k + 0.5) / kPlaces, (turned + 0.5) / kPlaces};
  }
  return out;
}
constexpr auto kSpread = spread_places();

Float4 over(const Float4& upper, const Float4& lower) { return upper + lower * (1 - upper[3]); }

// Part of a sample's width, -1/2 .. 1/2, within 0 .. size; all of it for samples beyond.
std::pair<double, double> within(double at, double spacing, double size) {
  const double low = std::clamp(-at / spacing, -0.5, 0.5), high = std::clamp((size - at) / spacing, -0.5, 0.5);
  return low < high ? std::pair{low, high} : std::pair{-0.5, 0.5};
}

}  // namespace

WallSamples::WallSamples(const ChartedWall& wall, double origin, double spacing, int rows)
    : origin_(origin),
      spacing_(spacing),
      high_(wall.chart->box().height),
      count_(rows),
      rings_(wall.chart->border_rings()),
      rows_(rings_, origin, spacing, rows) {}

void WallSamples::of(const SampleBlock& block, int j0, OnWall& on) const {
  on.assign(static_cast<std::size_t>(SampleBlock::kMost) * SampleBlock::kMost, 0);
  for (int j = 0; j < block.height && j0 + j < count_; ++j) {
    // Rows count from their lower end: the uppermost one is taken a little lower.
    const double v = origin_ + (j0 + j) * spacing_;
    const bool top = std::abs(v - high_) < 2 * kSlack;
    for (const auto& span : top ? wall_spans(rings_, high_ - 2 * kSlack) : rows_.spans(j0 + j)) {
      const int first = std::max(0, static_cast<int>(std::ceil((span.from - kSlack - block.origin.u) / spacing_)));
      const int last =
          static_cast<int>(std::min(block.width - 1.0, std::floor((span.to + kSlack - block.origin.u) / spacing_)));
      for (int i = first; i <= last; ++i)
        on[static_cast<std::size_t>(j) * SampleBlock::kMost + static_cast<std::size_t>(i)] = 1;
    }
  }
}

// What one picture lays over a cell.
struct BlockDrawer::Layer {
  std::array<Float4, kCell * kCell> colour;
  std::array<std::uint32_t, kCell * kCell> covers;  // a bit for every place of kSpread
  bool any = false;
};

BlockDrawer::BlockDrawer(WallRef wall, const std::vector<PreparedRef>& pictures)
    : wall_(std::move(wall)),
      pictures_(pictures),
      readers_(pictures.size()),
      closed_(kCell * kCell),
      out_(static_cast<std::size_t>(SampleBlock::kMost) * SampleBlock::kMost) {}
BlockDrawer::~BlockDrawer() = default;

PictureReader& BlockDrawer::reader(std::size_t k) {
  if (!readers_[k]) readers_[k] = std::make_unique<PictureReader>(pictures_[k]->picture().pixels);
  return *readers_[k];
}

double BlockDrawer::opacity(std::size_t k, Vec2 pixel, const Footprint& footprint) {
  return static_cast<double>(reader(k).at(pixel, footprint)[3]);
}

const std::vector<Float4>& BlockDrawer::draw(const SampleBlock& block, std::span<const std::size_t> which,
                                             const OnWall& on) {
  block_ = &block;
  std::fill(out_.begin(), out_.end(), Float4{});
  if (maps_.size() < which.size()) maps_.resize(which.size());
  if (layers_.size() < which.size()) layers_.resize(which.size());
  for (std::size_t n = 0; n < which.size(); ++n) maps_[n].start(*wall_, block, *pictures_[which[n]], on);
  for (int y = 0; y < block.height; y += kCell)
    for (int x = 0; x < block.width; x += kCell) draw_cell(x, y, which, on);
  return out_;
}

void BlockDrawer::draw_cell(int x, int y, std::span<const std::size_t> which, const OnWall& on) {
  std::fill(closed_.begin(), closed_.end(), std::uint8_t{0});
  bool any = false;
  for (std::size_t n = which.size(); n-- > 0;) {  // from the top, to leave out what is hidden
    Layer& layer = layers_[n];
    layer.any = false;
    maps_[n].cell(x, y, [&](const EvenPiece& piece) {
      if (!layer.any) layer.covers.fill(0);
      layer.any = true;
      draw_piece(piece, which[n], x, y, on, layer);
    });
    any = any || layer.any;
  }
  if (!any) return;
  for (std::size_t s = 0; s < kCell * kCell; ++s)
    out_[(static_cast<std::size_t>(y) + s / kCell) * SampleBlock::kMost + static_cast<std::size_t>(x) + s % kCell] =
        composed(s, which.size());
}

// The layers of a sample one over the other; where an edge passes through it, at each of its places by itself.
Float4 BlockDrawer::composed(std::size_t s, std::size_t count) const {
  bool parted = false;
  Float4 whole{};
  for (std::size_t n = 0; n < count; ++n) {
    if (!layers_[n].any || layers_[n].covers[s] == 0) continue;
    parted = parted || layers_[n].covers[s] != kAll;
    whole = over(layers_[n].colour[s], whole);
  }
  if (!parted) return whole;
  Float4 sum{};
  for (int k = 0; k < kPlaces; ++k) {
    Float4 here{};
    for (std::size_t n = 0; n < count; ++n)
      if (layers_[n].any && (layers_[n].covers[s] >> k & 1u)) here = over(layers_[n].colour[s], here);
    sum += here;
  }
  return sum * (1.0f / kPlaces);
}

// Which places of a sample the picture covers; `pixel` comes as the sample's and leaves as that of the middle of what
// is covered. Of samples at the chart's edge only the part within it counts.
std::uint32_t BlockDrawer::covered(const EvenPiece& piece, const ShownArea& area, int i, int j, Vec2& pixel) const {
  const Vec2 far = 0.5 * (glm::abs(piece.across) + glm::abs(piece.up));
  const auto cover = area.cover({pixel.x - far.x, pixel.y - far.y, pixel.x + far.x, pixel.y + far.y});
  if (cover != ShownArea::Cover::part) return cover == ShownArea::Cover::all ? kAll : 0;
  const ChartPoint p = block_->at(i, j);
  const ChartBox box = wall_->chart->box();
  const auto [left, right] = within(p.u, block_->spacing, box.width);
  const auto [low, high] = within(p.v, block_->spacing, box.height);
  std::uint32_t bits = 0;
  Vec2 sum(0, 0);
  int count = 0;
  for (std::size_t k = 0; k < kPlaces; ++k) {
    const Vec2 at =
        piece.across * (left + kSpread[k][0] * (right - left)) + piece.up * (low + kSpread[k][1] * (high - low));
    if (!area.holds(pixel + at)) continue;
    bits |= 1u << k;
    sum += at;
    ++count;
  }
  if (count > 0 && bits != kAll) pixel += sum / (1.0 * count);
  return bits;
}

void BlockDrawer::draw_piece(const EvenPiece& piece, std::size_t k, int x, int y, const OnWall& on, Layer& to) {
  const PreparedPicture& picture = *pictures_[k];
  const ShownArea& area = picture.area();
  PixelBox box{piece.corner[0].x, piece.corner[0].y, piece.corner[0].x, piece.corner[0].y};
  for (const Vec2& c : piece.corner)
    box = {std::min(box.left, c.x), std::min(box.top, c.y), std::max(box.right, c.x), std::max(box.bottom, c.y)};
  const Vec2 far = 0.5 * (glm::abs(piece.across) + glm::abs(piece.up));
  const auto cover = area.cover({box.left - far.x, box.top - far.y, box.right + far.x, box.bottom + far.y});
  if (cover == ShownArea::Cover::none) return;
  PictureReader& from = reader(k);
  const Footprint footprint = Footprint::of(piece.across, piece.up, picture.picture().pixels->levels());
  const auto shown = static_cast<float>(1 - picture.picture().fade);
  for (int j = 0; j < piece.side; ++j) {
    const double t = 1.0 * j / piece.side;
    const Vec2 left = piece.corner[0] + (piece.corner[2] - piece.corner[0]) * t,
               right = piece.corner[1] + (piece.corner[3] - piece.corner[1]) * t,
               step = (right - left) / (1.0 * piece.side);
    for (int i = 0; i < piece.side; ++i) {
      const int sx = piece.x + i, sy = piece.y + j;
      const auto s = static_cast<std::size_t>((sy - y) * kCell + sx - x);
      if (closed_[s] || !on[static_cast<std::size_t>(sy) * SampleBlock::kMost + static_cast<std::size_t>(sx)]) continue;
      Vec2 pixel = left + step * (1.0 * i);
      const std::uint32_t bits = cover == ShownArea::Cover::all ? kAll : covered(piece, area, sx, sy, pixel);
      if (bits == 0) continue;
      to.covers[s] = bits;
      to.colour[s] = from.at(pixel, footprint) * shown;
      closed_[s] = bits == kAll && to.colour[s][3] >= 1 - 1e-6f;
    }
  }
}

}  // namespace pontata
