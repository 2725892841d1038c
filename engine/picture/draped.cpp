#include "engine/picture/draped.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <mutex>

#include "engine/picture/sight.h"
#include "engine/picture/wall_rows.h"

namespace pontata {

namespace {

constexpr double kLeastSpacing = 0.001;         // m
constexpr double kMostSamples = 4097.0 * 4097;  // about 16 megapixels

// Reads one picture with its tiles at hand.
class Reader {
 public:
  explicit Reader(const PlacedPicture& picture) : picture_(picture) {}
  // Straight colour and opacity, 0..1, `footprint` pixels wide.
  std::array<double, 4> at(Vec2 pixel, double footprint) {
    const int level = std::clamp(static_cast<int>(std::floor(std::log2(std::max(1.0, footprint)) + 0.3)), 0,
                                 picture_.pixels->levels() - 1);
    const PictureSize size = picture_.pixels->size_of(level);
    const double x = std::clamp(pixel.x * size.width / picture_.size.width - 0.5, 0.0, size.width - 1.0);
    const double y = std::clamp(pixel.y * size.height / picture_.size.height - 0.5, 0.0, size.height - 1.0);
    const int x0 = static_cast<int>(x), y0 = static_cast<int>(y);
    const double tx = x - x0, ty = y - y0;
    std::array<double, 4> sum{};
    for (const auto& [dx, dy, w] : {std::tuple{0, 0, (1 - tx) * (1 - ty)}, std::tuple{1, 0, tx * (1 - ty)},
                                    std::tuple{0, 1, (1 - tx) * ty}, std::tuple{1, 1, tx * ty}}) {
      const std::uint8_t* p = texel(level, std::min(x0 + dx, size.width - 1), std::min(y0 + dy, size.height - 1));
      for (std::size_t c = 0; c < 4; ++c) sum[c] += w * p[c] / 255.0;
    }
    return sum;
  }

 private:
  const std::uint8_t* texel(int level, int x, int y) {
    auto& held = tiles_[{level, x / PictureTile::kSide, y / PictureTile::kSide}];
    if (!held) held = picture_.pixels->tile(level, x / PictureTile::kSide, y / PictureTile::kSide);
    return held->rgba.data() + 4 * (y % PictureTile::kSide * PictureTile::kSide + x % PictureTile::kSide);
  }
  const PlacedPicture& picture_;
  std::map<std::tuple<int, int, int>, std::shared_ptr<const PictureTile>> tiles_;
};

struct Place {
  Vec3 at, normal;
};

std::optional<Place> place_of(const ChartedWall& wall, ChartPoint p) {
  const auto on = wall.chart->locate(p);
  if (!on) return std::nullopt;
  return Place{position(wall.mesh(), *on), normal(wall.mesh(), *on)};
}

// Chart metres of a picture's pixel near the middle of what it covers.
double pixel_size(const ChartedWall& wall, const PlacedPicture& picture) {
  const auto box = wall.chart->box();
  double least = box.width;
  constexpr int kSteps = 24;
  for (int j = 0; j <= kSteps; ++j)
    for (int i = 0; i <= kSteps; ++i) {
      const ChartPoint p{box.width * i / kSteps, box.height * j / kSteps};
      const double h = 1e-3 * box.width;
      const auto a = place_of(wall, p), b = place_of(wall, {p.u + h, p.v});
      if (!a || !b) continue;
      const auto pa = pixel_at(picture.lay, picture.plate, picture.size, p, a->at);
      const auto pb = pixel_at(picture.lay, picture.plate, picture.size, {p.u + h, p.v}, b->at);
      if (!pa || !pb || shown_at(picture, *pa) <= 0) continue;
      least = std::min(least, h / std::max(1e-9, glm::length(*pb - *pa)));
    }
  return least;
}

}  // namespace

struct Draped::Kept {
  std::mutex mutex;
  std::map<std::pair<int, int>, std::shared_ptr<const DrapedTile>> tiles;
  std::vector<std::optional<Sight>> sights;  // per picture
};

Draped::Draped(DrapeInput input) : input_(std::move(input)), kept_(std::make_unique<Kept>()) {}
Draped::~Draped() = default;

std::shared_ptr<const Draped> Draped::make(DrapeInput input, std::shared_ptr<const Draped>, double spacing) {
  auto out = std::shared_ptr<Draped>(new Draped(std::move(input)));
  const auto box = out->input_.wall->chart->box();
  out->finest_ = box.width;
  for (const auto& picture : out->input_.pictures) {
    if (picture->pixels) out->finest_ = std::min(out->finest_, pixel_size(*out->input_.wall, *picture));
    out->kept_->sights.push_back(sight_of(picture->lay, out->input_.wall, out->input_.others));
  }
  const auto samples = [&](double s) { return (std::floor(box.width / s) + 1) * (std::floor(box.height / s) + 1); };
  double s = spacing > 0 ? spacing : std::max(out->finest_, kLeastSpacing);
  while (spacing <= 0 && samples(s) > kMostSamples) s *= std::max(1.001, std::sqrt(samples(s) / kMostSamples) * 0.9995);
  out->spacing_ = s;
  out->columns_ = static_cast<int>(std::floor(box.width / s + 1e-9)) + 1;
  out->rows_ = static_cast<int>(std::floor(box.height / s + 1e-9)) + 1;
  return out;
}

std::shared_ptr<const DrapedTile> Draped::tile(int a, int b) const {
  const std::lock_guard lock(kept_->mutex);
  const auto found = kept_->tiles.find({a, b});
  if (found != kept_->tiles.end()) return found->second;
  constexpr int n = DrapedTile::kSide;
  const Raster raster = draw({(a * n - 0.5) * spacing_, (b * n - 0.5) * spacing_}, spacing_, n, n);
  auto out = std::make_shared<DrapedTile>();
  out->rgba.resize(4 * n * n);
  bool any = false;
  for (int y = 0; y < n; ++y)
    for (int x = 0; x < n; ++x) {
      const std::uint8_t* p = raster.rgba.data() + 4 * ((n - 1 - y) * n + x);
      std::uint16_t* q = out->rgba.data() + 4 * (y * n + x);
      for (int c = 0; c < 3; ++c) q[c] = static_cast<std::uint16_t>(p[c] * p[3] * 257 / 255);
      q[3] = static_cast<std::uint16_t>(p[3] * 257);
      any = any || p[3] > 0;
    }
  return kept_->tiles[{a, b}] = any ? out : nullptr;
}

bool Draped::covers(ChartPoint p) const {
  const auto place = place_of(*input_.wall, p);
  if (!place) return false;
  for (std::size_t k = 0; k < input_.pictures.size(); ++k) {
    const auto& picture = *input_.pictures[k];
    const auto pixel = pixel_at(picture.lay, picture.plate, picture.size, p, place->at);
    if (picture.pixels && pixel && shown_at(picture, *pixel) > 0 &&
        (!kept_->sights[k] || kept_->sights[k]->sees(place->at, place->normal)))
      return true;
  }
  return false;
}

Raster Draped::draw(ChartPoint corner, double spacing, int width, int height, Progress* progress) const {
  Raster out{width, height, {}};
  out.rgba.assign(static_cast<std::size_t>(4) * static_cast<std::size_t>(width) * static_cast<std::size_t>(height), 0);
  std::vector<std::optional<Reader>> readers;
  std::vector<double> footprints;
  for (const auto& picture : input_.pictures) {
    readers.push_back(picture->pixels ? std::optional<Reader>(Reader(*picture)) : std::nullopt);
    footprints.push_back(picture->pixels ? spacing / pixel_size(*input_.wall, *picture) : 1);
  }
  for (int y = 0; y < height; ++y) {
    if (is_cancelled(progress)) return {};
    for (int x = 0; x < width; ++x) {
      const ChartPoint p{corner.u + (x + 0.5) * spacing, corner.v + (height - y - 0.5) * spacing};
      const auto place = place_of(*input_.wall, p);
      if (!place) continue;
      std::array<double, 4> sum{};
      for (std::size_t k = 0; k < readers.size(); ++k) {
        const auto& picture = *input_.pictures[k];
        if (!readers[k]) continue;
        const auto pixel = pixel_at(picture.lay, picture.plate, picture.size, p, place->at);
        const double shown = pixel ? shown_at(picture, *pixel) : 0;
        if (shown <= 0 || (kept_->sights[k] && !kept_->sights[k]->sees(place->at, place->normal))) continue;
        const auto c = readers[k]->at(*pixel, footprints[k]);
        const double over = shown * c[3];
        for (std::size_t i = 0; i < 3; ++i) sum[i] = sum[i] * (1 - over) + c[i] * over;
        sum[3] = sum[3] * (1 - over) + over;
      }
      if (sum[3] <= 0) continue;
      std::uint8_t* q = out.rgba.data() + 4 * (std::ptrdiff_t{y} * width + x);
      for (int i = 0; i < 3; ++i)
        q[i] = static_cast<std::uint8_t>(std::lround(255 * std::min(1.0, sum[static_cast<std::size_t>(i)] / sum[3])));
      q[3] = static_cast<std::uint8_t>(std::lround(255 * sum[3]));
    }
  }
  return out;
}

Image over_white(const Raster& raster) {
  Image image{raster.width, raster.height, {}};
  image.rgb.reserve(raster.rgba.size() / 4 * 3);
  for (std::size_t k = 0; k < raster.rgba.size(); k += 4)
    for (std::size_t c = 0; c < 3; ++c)
      image.rgb.push_back(static_cast<std::uint8_t>(
          (raster.rgba[k + c] * raster.rgba[k + 3] + 255 * (255 - raster.rgba[k + 3]) + 127) / 255));
  return image;
}

Raster draw_whole(const Draped& draped, int side, Progress* progress) {
  const auto box = draped.input().wall->chart->box();
  const double spacing = std::max({draped.finest(), box.width / side, box.height / side});
  return draped.draw({0, 0}, spacing, std::max(1, static_cast<int>(std::lround(box.width / spacing))),
                     std::max(1, static_cast<int>(std::lround(box.height / spacing))), progress);
}

}  // namespace pontata
