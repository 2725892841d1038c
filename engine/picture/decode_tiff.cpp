// TIFF through libtiff: strips row by row, tiles a row of tiles at a time; separate planes side by side.
//
// Based on: "TIFF Revision 6.0", 1992, sections 4 to 6, 15 (tiles), 18 (opacity), 21 (YCbCr).
#include <algorithm>
#include <cstring>

#include "engine/picture/picture_decoder.h"
#include "engine/picture/tiff_file.h"
#include "engine/picture/tiff_pages.h"

namespace pontata {

namespace {

// Rows of one plane (of all samples where they lie together), packed as the file has them.
class TiffPlane {
 public:
  TiffPlane(std::unique_ptr<TiffFile> file, std::uint16_t plane, std::size_t row_bytes)
      : file_(std::move(file)), plane_(plane), row_bytes_(row_bytes) {}
  virtual ~TiffPlane() = default;
  // Row y, asked for from the top down; null where it cannot be had.
  virtual const std::uint8_t* row(std::uint32_t y) = 0;
  const TiffFile& file() const { return *file_; }

 protected:
  std::unique_ptr<TiffFile> file_;
  std::uint16_t plane_;
  std::size_t row_bytes_;
};

class Strips final : public TiffPlane {
 public:
  using TiffPlane::TiffPlane;
  const std::uint8_t* row(std::uint32_t y) override {
    bytes_.resize(row_bytes_);
    return TIFFReadScanline(file_->get(), bytes_.data(), y, plane_) == 1 ? bytes_.data() : nullptr;
  }

 private:
  std::vector<std::uint8_t> bytes_;
};

class Tiles final : public TiffPlane {
 public:
  Tiles(std::unique_ptr<TiffFile> file, std::uint16_t plane, std::size_t row_bytes, std::uint32_t width)
      : TiffPlane(std::move(file), plane, row_bytes), width_(width) {
    TIFFGetField(file_->get(), TIFFTAG_TILEWIDTH, &across_);
    TIFFGetField(file_->get(), TIFFTAG_TILELENGTH, &down_);
    tile_row_ = static_cast<std::size_t>(TIFFTileRowSize64(file_->get()));
    tile_.resize(static_cast<std::size_t>(TIFFTileSize64(file_->get())));
  }
  const std::uint8_t* row(std::uint32_t y) override {
    if (y % down_ == 0 && !load(y)) return nullptr;
    return band_.data() + row_bytes_ * (y % down_);
  }

 private:
  bool load(std::uint32_t y) {
    std::size_t at = 0;
    for (std::uint32_t x = 0; x < width_; x += across_) {
      if (TIFFReadTile(file_->get(), tile_.data(), x, y, 0, plane_) < 0) return false;
      band_.resize(row_bytes_ * down_);  // not before there is something to put into it
      const std::size_t count = std::min(tile_row_, row_bytes_ - at);
      for (std::uint32_t k = 0; k < down_; ++k)
        std::copy_n(tile_.data() + tile_row_ * k, count, band_.data() + row_bytes_ * k + at);
      at += count;
    }
    return true;
  }
  std::uint32_t width_, across_ = 1, down_ = 1;
  std::size_t tile_row_ = 0;
  std::vector<std::uint8_t> tile_, band_;
};

// Sample k of a packed row, as the file has it.
std::uint32_t packed(const std::uint8_t* row, std::size_t k, int bits) {
  if (bits == 8) return row[k];
  if (bits == 16) {
    std::uint16_t v;
    std::memcpy(&v, row + 2 * k, 2);
    return v;
  }
  const std::size_t bit = k * static_cast<std::size_t>(bits);
  return (std::uint32_t{row[bit / 8]} >> (8 - static_cast<std::size_t>(bits) - bit % 8)) & ((1u << bits) - 1);
}

class TiffDecoder final : public PictureDecoder {
 public:
  TiffDecoder(PictureFile file, TiffFacts facts) : file_(std::move(file)), facts_(std::move(facts)) {
    head_.path = file_.path();
    head_.width = static_cast<int>(facts_.width), head_.height = static_cast<int>(facts_.height);
    const bool grey = facts_.photometric == PHOTOMETRIC_MINISWHITE || facts_.photometric == PHOTOMETRIC_MINISBLACK;
    head_.colours = grey ? 1 : 3;
    head_.opacity = facts_.opacity >= 0;
    head_.bits = facts_.bits == 16 || !facts_.palette.empty() ? 16 : 8;
    head_.orientation = facts_.orientation;
    head_.profile = facts_.profile;
    for (std::uint32_t v = 0; v < 256; ++v) widened_[v] = full() > 0 ? v * 255 / full() : v;
  }

  Outcome start() {
    const int planes = facts_.separate ? facts_.samples : 1;
    for (int k = 0; k < planes; ++k)
      if (const auto opened = open_plane(static_cast<std::uint16_t>(k)); !opened) return opened;
    return Done{};
  }

  Outcome next_row(std::span<std::uint8_t> to) override {
    rows_.clear();
    for (auto& plane : planes_) {
      rows_.push_back(plane->row(next_));
      if (!rows_.back() || plane->file().lost_pixels())
        return plane->file().short_of_bytes() ? cut_short(head_.path) : damaged(head_.path);
    }
    ++next_;
    if (as_wanted()) {
      std::copy_n(rows_[0], to.size(), to.data());
    } else if (!facts_.palette.empty()) {
      unpack_palette(to);
    } else if (facts_.bits == 16) {
      unpack<std::uint16_t>(to);
    } else {
      unpack<std::uint8_t>(to);
    }
    return Done{};
  }

 private:
  // The file's rows are what head() promises.
  bool as_wanted() const {
    const bool in_place = facts_.opacity < 0 || facts_.opacity == head_.colours;
    return !facts_.separate && facts_.bits >= 8 && facts_.samples == head_.channels() && in_place &&
           !facts_.multiplied && facts_.palette.empty() && facts_.photometric != PHOTOMETRIC_MINISWHITE;
  }
  std::uint32_t full() const { return facts_.bits == 16 ? 65535u : (1u << facts_.bits) - 1; }

  Outcome open_plane(std::uint16_t plane) {
    auto tiff = TiffFile::open(file_);
    if (!tiff->get() || !TIFFSetDirectory(tiff->get(), facts_.page)) return damaged(head_.path);
    if (facts_.photometric == PHOTOMETRIC_YCBCR) TIFFSetField(tiff->get(), TIFFTAG_JPEGCOLORMODE, JPEGCOLORMODE_RGB);
    const std::uint64_t per_pixel = std::uint64_t{facts_.bits} * (facts_.separate ? 1u : facts_.samples);
    const auto row_bytes = static_cast<std::size_t>((facts_.width * per_pixel + 7) / 8);
    if (const auto fits = check_pieces(tiff->get(), row_bytes); !fits) return fits;
    if (facts_.tiled) {
      planes_.push_back(std::make_unique<Tiles>(std::move(tiff), plane, row_bytes, facts_.width));
    } else {
      planes_.push_back(std::make_unique<Strips>(std::move(tiff), plane, row_bytes));
    }
    return Done{};
  }

  // libtiff holds a strip's coded bytes, and we a row of tiles: neither may be as large as the picture.
  Outcome check_pieces(TIFF* tiff, std::size_t row_bytes) const {
    const Problem too_large{"the TIFF is kept in pieces too large to be read one by one", head_.path,
                            "Save it anew with strips, or as PNG."};
    if (facts_.tiled) {
      std::uint32_t across = 0, down = 0;
      TIFFGetField(tiff, TIFFTAG_TILEWIDTH, &across);
      TIFFGetField(tiff, TIFFTAG_TILELENGTH, &down);
      if (across == 0 || down == 0) return damaged(head_.path);
      const std::uint64_t tile_row = TIFFTileRowSize64(tiff), tile = TIFFTileSize64(tiff);
      if (tile_row == 0 || tile < tile_row * down) return damaged(head_.path);
      const std::uint64_t tiles = (facts_.width + std::uint64_t{across} - 1) / across;
      if (tile > kLargestTiles || row_bytes * std::uint64_t{down} > kLargestTiles) return too_large;
      if (tile_row * tiles < row_bytes) return damaged(head_.path);
      return Done{};
    }
    if (TIFFScanlineSize64(tiff) != row_bytes) return damaged(head_.path);
    const auto strips = TIFFNumberOfStrips(tiff);
    for (std::uint32_t k = 0; k < strips; ++k)
      if (TIFFGetStrileByteCount(tiff, k) > kLargestStrip) return too_large;
    return Done{};
  }

  std::uint32_t sample(std::size_t x, std::size_t s) const {
    return facts_.separate ? packed(rows_[s], x, facts_.bits) : packed(rows_[0], x * facts_.samples + s, facts_.bits);
  }

  template <class Sample>
  void unpack(std::span<std::uint8_t> to) {
    const auto colours = static_cast<std::size_t>(head_.colours);
    const bool white_is_zero = facts_.photometric == PHOTOMETRIC_MINISWHITE;
    auto out = [&, at = to.data()](std::uint32_t v) mutable {
      const auto s = static_cast<Sample>(sizeof(Sample) == 1 ? widened_[v] : v);
      std::memcpy(at, &s, sizeof s);
      at += sizeof s;
    };
    for (std::size_t x = 0; x < facts_.width; ++x) {
      const std::uint32_t a = head_.opacity ? sample(x, static_cast<std::size_t>(facts_.opacity)) : full();
      for (std::size_t c = 0; c < colours; ++c) {
        std::uint32_t v = sample(x, c);
        if (white_is_zero) v = full() - v;
        if (facts_.multiplied && a > 0) v = std::min(full(), (v * full() + a / 2) / a);
        out(v);
      }
      if (head_.opacity) out(a);
    }
  }

  void unpack_palette(std::span<std::uint8_t> to) {
    auto* at = to.data();
    for (std::size_t x = 0; x < facts_.width; ++x) {
      std::memcpy(at, facts_.palette.data() + 3 * std::size_t{sample(x, 0)}, 6);
      at += 6;
      if (!head_.opacity) continue;
      const auto a = static_cast<std::uint16_t>(sample(x, static_cast<std::size_t>(facts_.opacity)) * 65535 / full());
      std::memcpy(at, &a, 2);
      at += 2;
    }
  }

  PictureFile file_;
  TiffFacts facts_;
  std::array<std::uint32_t, 256> widened_{};  // samples of 1 to 8 bits to 8
  std::vector<std::unique_ptr<TiffPlane>> planes_;
  std::vector<const std::uint8_t*> rows_;
  std::uint32_t next_ = 0;
};

}  // namespace

Result<DecoderRef> open_tiff(PictureFile file, std::int64_t most) {
  auto facts = tiff_facts(file, most);
  if (!facts) return facts.problem();
  auto decoder = std::make_unique<TiffDecoder>(std::move(file), std::move(*facts));
  if (const auto started = decoder->start(); !started) return started.problem();
  return DecoderRef(std::move(decoder));
}

}  // namespace pontata
