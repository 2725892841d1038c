#include "engine/picture/picture_source.h"

#include <algorithm>
#include <utility>

namespace pontata {

namespace {

int halved(int n) { return (n + 1) / 2; }

// Level after level in memory.
class InMemory final : public PictureSource {
 public:
  explicit InMemory(const Image& image) : PictureSource(image) {
    Level full{image.width, image.height, {}};
    full.rgba.resize(static_cast<std::size_t>(4) * static_cast<std::size_t>(image.width) *
                     static_cast<std::size_t>(image.height));
    for (std::size_t k = 0; 4 * k < full.rgba.size(); ++k) {
      for (std::size_t c = 0; c < 3; ++c) full.rgba[4 * k + c] = image.rgb[3 * k + c];
      full.rgba[4 * k + 3] = 255;
    }
    levels_.push_back(std::move(full));
    while (static_cast<int>(levels_.size()) < levels()) levels_.push_back(half(levels_.back()));
  }

  std::shared_ptr<const PictureTile> tile(int level, int i, int j) const override {
    const Level& from = levels_[static_cast<std::size_t>(level)];
    auto out = std::make_shared<PictureTile>();
    out->rgba.reserve(4 * PictureTile::kSide * PictureTile::kSide);
    for (int y = 0; y < PictureTile::kSide; ++y)
      for (int x = 0; x < PictureTile::kSide; ++x) {
        const std::uint8_t* p = from.at(i * PictureTile::kSide + x, j * PictureTile::kSide + y);
        out->rgba.insert(out->rgba.end(), p, p + 4);
      }
    return out;
  }

 private:
  struct Level {
    int width, height;
    std::vector<std::uint8_t> rgba;
    const std::uint8_t* at(int x, int y) const {
      x = std::min(x, width - 1), y = std::min(y, height - 1);
      return rgba.data() + 4 * (std::ptrdiff_t{y} * width + x);
    }
  };
  static Level half(const Level& from) {
    Level to{halved(from.width), halved(from.height), {}};
    for (int y = 0; y < to.height; ++y)
      for (int x = 0; x < to.width; ++x)
        for (int c = 0; c < 4; ++c)
          to.rgba.push_back(
              static_cast<std::uint8_t>((from.at(2 * x, 2 * y)[c] + from.at(2 * x + 1, 2 * y)[c] +
                                         from.at(2 * x, 2 * y + 1)[c] + from.at(2 * x + 1, 2 * y + 1)[c] + 2) /
                                        4));
    return to;
  }
  std::vector<Level> levels_;
};

}  // namespace

int PictureSource::levels() const {
  int n = 1;
  for (int side = std::max(size_.width, size_.height); side > PictureTile::kSide; side = halved(side)) ++n;
  return n;
}

PictureSize PictureSource::size_of(int level) const {
  PictureSize s = size_;
  for (int k = 0; k < level; ++k) s = {halved(s.width), halved(s.height)};
  return s;
}

PictureRef picture_of(const Image& image) { return std::make_shared<InMemory>(image); }

Result<PictureRef> read_picture(const std::string& path, Progress*) {
  const auto image = read_image(path);
  if (!image) return image.problem();
  return picture_of(*image);
}

}  // namespace pontata
