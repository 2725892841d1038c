// Damaged picture files: whatever the bytes, reading answers with a picture or with one problem, and never crashes,
// hangs or fills the memory.
#include <catch2/catch.hpp>

#include "tests/fixtures/picture_files.h"
#include "tests/fuzz/answers.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

struct Dice {
  std::mt19937_64 rng;
  std::size_t below(std::size_t n) { return static_cast<std::size_t>(rng() % n); }
};

void check_picture(const std::string& path) {
  const auto read = read_picture(path);
  if (read.ok()) {
    const auto size = (*read)->size();
    CHECK(std::int64_t{size.width} * size.height <= 400'000'000);
    CHECK((*read)->tile((*read)->levels() - 1, 0, 0)->rgba.size() == 4u * PictureTile::kSide * PictureTile::kSide);
    return;
  }
  INFO(read.problem().message());
  CHECK(read.problem().where == path);
  CHECK_FALSE(read.problem().what.empty());
  CHECK_FALSE(read.problem().remedy.empty());
}

std::string damaged(const std::string& whole, Dice& dice) {
  std::string bytes = whole;
  const std::size_t faults = 1 + dice.below(4);
  for (std::size_t k = 0; k < faults && !bytes.empty(); ++k) {
    // Half of the faults in the first 300 bytes, where headers stand.
    const std::size_t at =
        dice.below(2) ? dice.below(std::min<std::size_t>(bytes.size(), 300)) : dice.below(bytes.size());
    switch (dice.below(6)) {
      case 0:
        bytes[at] = static_cast<char>(dice.below(256));
        break;
      case 1:
        bytes[at] = static_cast<char>(bytes[at] ^ static_cast<char>(1 << dice.below(8)));
        break;
      case 2:
        bytes[at] = dice.below(2) ? '\xff' : '\0';
        break;
      case 3:
        bytes.resize(at);
        break;
      case 4:
        bytes.erase(at, 1 + dice.below(40));
        break;
      default:
        bytes.insert(at, bytes.substr(dice.below(bytes.size()), 1 + dice.below(40)));
    }
  }
  return bytes;
}

// The check sums of a PNG made right again, so that damage reaches what is behind them.
std::string summed(std::string png) {
  std::size_t at = 8;
  while (at + 12 <= png.size()) {
    const auto byte = [&](std::size_t k) { return static_cast<std::size_t>(static_cast<std::uint8_t>(png[at + k])); };
    const std::size_t length = byte(0) << 24 | byte(1) << 16 | byte(2) << 8 | byte(3);
    if (length > png.size() || at + 12 + length > png.size()) break;
    const auto sum = crc32(0, reinterpret_cast<const Bytef*>(png.data()) + at + 4, static_cast<uInt>(length + 4));
    png.replace(at + 8 + length, 4, big32(static_cast<std::uint32_t>(sum)));
    at += 12 + length;
  }
  return png;
}

void check_all(const std::string& name, const std::string& whole, unsigned seed) {
  const PictureFolder folder;
  const MemoryLimit limit(std::size_t{3} << 30);
  Dice dice{std::mt19937_64(seed)};
  const bool png = name.ends_with(".png");
  for (int round = 0; round < rounds(); ++round) {
    std::string bytes = damaged(whole, dice);
    if (png && dice.below(4) != 0) bytes = summed(bytes);
    INFO(name << " seed " << seed << " round " << round);
    check_picture(put(folder.file(name), bytes));
  }
}

constexpr int kWide = 53, kHigh = 38;

}  // namespace

TEST_CASE("damaged PNG files") {
  const PictureFolder folder;
  const std::string block = png_chunk("eXIf", exif_block(6)) + png_chunk("gAMA", big32(60000));
  std::string rows;
  const auto noise = noise_bytes(kWide * 4 * kHigh);
  for (int y = 0; y < kHigh; ++y)
    rows += static_cast<char>(y % 5) + std::string(noise.begin() + 4 * kWide * y, noise.begin() + 4 * kWide * (y + 1));
  check_all("a.png", png_file(kWide, kHigh, 8, 6, rows, block), 1);
  output_of("convert -size 53x38 plasma: -interlace PNG -depth 16 PNG48:" + folder.file("i.png"));
  check_all("b.png", bytes_of(folder.file("i.png")), 2);
  output_of("convert -size 53x38 plasma: -colors 20 PNG8:" + folder.file("p.png"));
  check_all("c.png", bytes_of(folder.file("p.png")), 3);
}

TEST_CASE("damaged JPEG files") {
  const auto pixels = ramp_bytes(kWide, kHigh, 3);
  const auto exif = jpeg_segment(0xe1, std::string("Exif\0\0", 6) + exif_block(8));
  check_all("a.jpg", with_segment(jpeg_file(kWide, kHigh, pixels, {}), exif), 4);
  check_all("b.jpg", jpeg_file(kWide, kHigh, pixels, {3, true}), 5);
  check_all("c.jpg", jpeg_file(kWide, kHigh, ramp_bytes(kWide, kHigh, 1), {1}), 6);
}

TEST_CASE("damaged TIFF files") {
  const PictureFolder folder;
  const auto pixels = ramp_bytes(kWide, kHigh, 3);
  unsigned seed = 7;
  for (const int compression :
       {COMPRESSION_NONE, COMPRESSION_LZW, COMPRESSION_ADOBE_DEFLATE, COMPRESSION_PACKBITS, COMPRESSION_JPEG})
    for (const int tile : {0, 16}) {
      TiffKind kind;
      kind.compression = compression, kind.tile = tile, kind.rows_per_strip = 16;
      kind.separate = compression == COMPRESSION_LZW;
      kind.orientation = 5;
      if (compression == COMPRESSION_JPEG) kind.photometric = PHOTOMETRIC_YCBCR;
      check_all("a.tif", bytes_of(tiff_file(folder.file("a.tif"), kWide, kHigh, pixels, kind)), seed++);
    }
}
