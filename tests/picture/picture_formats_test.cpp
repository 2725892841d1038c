// Every kind of file against ImageMagick, which wrote it and reads it by its own code around the same formats.
#include <catch2/catch.hpp>

#include "engine/picture/image.h"
#include "tests/fixtures/picture_files.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr int kWidth = 67, kHeight = 45;  // no multiple of 8

// Colours with grain and opacity of 16 bits, as raw samples for ImageMagick.
std::string raw_16() {
  std::mt19937 rng(11);
  std::string raw;
  const auto push = [&](int v) { raw += static_cast<char>(v & 255), raw += static_cast<char>(v >> 8); };
  for (int y = 0; y < kHeight; ++y)
    for (int x = 0; x < kWidth; ++x) {
      push(x * 65535 / kWidth), push(y * 65535 / kHeight), push(static_cast<int>(rng() % 65536));
      push(x < 10 ? 0 : x > 50 ? 65535 : static_cast<int>(rng() % 65536));
    }
  return raw;
}

struct Variant {
  const char* options;
  const char* file;
  int tolerance = 0;
};

// Rounded to 8 bits here: ImageMagick itself cuts off.
std::string to_8_bits(const std::string& samples) {
  std::string out;
  for (std::size_t k = 0; k + 1 < samples.size(); k += 2) {
    const int v = static_cast<std::uint8_t>(samples[k]) | static_cast<std::uint8_t>(samples[k + 1]) << 8;
    out += static_cast<char>((v + 128) / 257);
  }
  return out;
}

// Largest difference of the pixels that show; a colour nobody sees may be any.
int difference(const std::vector<std::uint8_t>& ours, const std::string& theirs) {
  if (ours.size() != theirs.size()) return 999;
  int worst = 0;
  for (std::size_t k = 0; k < ours.size(); ++k) {
    if (k % 4 != 3 && ours[k | 3] == 0) continue;
    worst = std::max(worst, std::abs(ours[k] - static_cast<std::uint8_t>(theirs[k])));
  }
  return worst;
}

void check(const PictureFolder& folder, const Variant& variant) {
  const std::string name = variant.file, prefix = name.substr(0, name.find(':') + 1);
  const std::string file = folder.file("made" + name.substr(name.rfind('.')));
  INFO(variant.options << " " << variant.file);
  INFO(output_of("convert -size 67x45 -depth 16 rgba:" + folder.file("raw") + " " + variant.options + " " + prefix +
                 file + " 2>&1"));
  const auto theirs = to_8_bits(output_of("convert " + file + " -depth 16 -endian LSB rgba:- 2>/dev/null"));
  const auto ours = read_picture(file);
  INFO((ours.ok() ? "" : ours.problem().message()));
  REQUIRE(ours.ok());
  REQUIRE(theirs.size() == std::size_t{4} * kWidth * kHeight);
  CHECK(difference(pixels_of(**ours), theirs) <= variant.tolerance);
  std::filesystem::remove(file);
}

}  // namespace

TEST_CASE("PNG of every depth, grey, palette and opacity, plain and interlaced, as ImageMagick has it") {
  const PictureFolder folder;
  put(folder.file("raw"), raw_16());
  const Variant variants[] = {
      {"-alpha off -depth 8", "PNG24:.png"},
      {"-depth 8", "PNG32:.png"},
      {"-alpha off", "PNG48:.png", 1},
      {"", "PNG64:.png", 1},
      {"-alpha off -colors 256", "PNG8:.png"},
      {"-alpha off -colors 4", "PNG8:.png"},
      {"-alpha off -colors 13", "PNG8:.png"},
      {"-channel A -threshold 50% +channel -colors 16", "PNG8:.png"},
      {"-alpha off -colorspace Gray -depth 8", "PNG:.png"},
      {"-alpha off -colorspace Gray -depth 16", "PNG:.png"},
      {"-colorspace Gray -depth 8", "PNG:.png"},
      {"-colorspace Gray -depth 16", "PNG:.png"},
      {"-alpha off -colorspace Gray -depth 2 -define png:bit-depth=2", "PNG:.png"},
      {"-alpha off -colorspace Gray -depth 4 -define png:bit-depth=4", "PNG:.png"},
      {"-alpha off -monochrome", "PNG:.png"},
      {"-alpha off -depth 8 -fill '#010203' -draw 'rectangle 5,5 20,20' -transparent '#010203'", "PNG:.png"},
  };
  for (const auto& variant : variants) {
    check(folder, variant);
    const std::string interlaced = std::string(variant.options) + " -interlace PNG";
    check(folder, {interlaced.c_str(), variant.file, variant.tolerance});
  }
}

TEST_CASE("JPEG of every sampling, sequential and progressive, as ImageMagick has it") {
  const PictureFolder folder;
  put(folder.file("raw"), raw_16());
  const Variant variants[] = {
      {"-alpha off -quality 92", ".jpg"},
      {"-alpha off -sampling-factor 4:4:4 -quality 100", ".jpg"},
      {"-alpha off -sampling-factor 4:2:0 -quality 80", ".jpg"},
      {"-alpha off -sampling-factor 4:2:2", ".jpg"},
      {"-alpha off -sampling-factor 4:1:1", ".jpg"},
      {"-alpha off -colorspace Gray", ".jpg"},
      {"-alpha off -interlace JPEG -quality 90", ".jpg"},
      {"-alpha off -interlace JPEG -colorspace Gray", ".jpg"},
      {"-alpha off -quality 30 -define jpeg:optimize-coding=false", ".jpeg"},
  };
  for (const auto& variant : variants) check(folder, variant);
}

TEST_CASE("TIFF of every packing, depth and arrangement as ImageMagick has it") {
  const PictureFolder folder;
  put(folder.file("raw"), raw_16());
  const Variant variants[] = {
      {"-alpha off -depth 8 -compress None", ".tif"},
      {"-alpha off -depth 8 -compress LZW", ".tif"},
      {"-alpha off -depth 8 -compress Zip", ".tiff"},
      {"-alpha off -depth 8 -compress RLE", ".tif"},
      {"-alpha off -depth 8 -compress JPEG -quality 95", ".tif"},
      {"-alpha off -depth 8 -compress JPEG -colorspace Gray", ".tif"},
      {"-alpha off -depth 16 -compress LZW", ".tif"},
      {"-alpha off -depth 16 -compress Zip -endian MSB", ".tif"},
      {"-alpha off -depth 16 -compress None -endian LSB", ".tif"},
      {"-depth 8 -compress LZW", ".tif"},
      {"-depth 16 -compress Zip", ".tif"},
      {"-depth 8 -compress Zip -define tiff:tile-geometry=32x32", ".tif"},
      {"-alpha off -depth 16 -compress LZW -define tiff:tile-geometry=16x48", ".tif"},
      {"-alpha off -depth 8 -interlace Plane -compress LZW", ".tif"},
      {"-depth 16 -interlace Plane -compress Zip", ".tif"},
      {"-alpha off -colorspace Gray -depth 8 -compress LZW", ".tif"},
      {"-alpha off -colorspace Gray -depth 16 -compress Zip", ".tif"},
      {"-colorspace Gray -depth 8 -compress Zip", ".tif"},
      {"-alpha off -colorspace Gray -depth 4 -compress LZW", ".tif"},
      {"-alpha off -monochrome -compress Group4", ".tif"},
      {"-alpha off -monochrome -compress None -define quantum:polarity=min-is-white", ".tif"},
      {"-alpha off -colorspace Gray -depth 8 -define quantum:polarity=min-is-white", ".tif"},
      {"-alpha off -colors 200 -type Palette -compress LZW", ".tif"},
      {"-alpha off -colors 11 -type Palette -compress None", ".tif"},
      {"-alpha off -depth 8 -define tiff:rows-per-strip=1", ".tif"},
      {"-alpha off -depth 8 -compress Zip -define tiff:rows-per-strip=45", ".tif"},
      {"-alpha off -depth 8 -compress Zip -define tiff:fill-order=lsb", ".tif"},
      {"-alpha off -depth 8", "TIFF64:.tif"},
      {"-depth 16 -define tiff:alpha=associated", ".tif", 1},
  };
  for (const auto& variant : variants) check(folder, variant);
}

TEST_CASE("TIFF of every arrangement gives back the samples that libtiff was given") {
  const PictureFolder folder;
  const auto file = folder.file("a.tif");
  const int w = 70, h = 37;
  for (const int compression : {COMPRESSION_NONE, COMPRESSION_LZW, COMPRESSION_ADOBE_DEFLATE, COMPRESSION_PACKBITS})
    for (const int tile : {0, 16, 64})
      for (const bool separate : {false, true})
        for (const int bits : {8, 16}) {
          INFO(compression << " " << tile << " " << separate << " " << bits);
          const auto samples = noise_bytes(static_cast<std::size_t>(w * h * 3 * bits / 8));
          TiffKind kind;
          kind.bits = bits, kind.compression = compression, kind.tile = tile, kind.separate = separate;
          kind.mode = separate ? "wb" : tile ? "w8" : "wl";
          tiff_file(file, w, h, samples, kind);
          const auto picture = read_picture(file);
          REQUIRE(picture.ok());
          const auto pixels = pixels_of(**picture);
          bool same = true;
          for (std::size_t k = 0; k < pixels.size() / 4; ++k)
            for (std::size_t c = 0; c < 3; ++c) {
              const std::size_t s = 3 * k + c;
              const int want =
                  bits == 8 ? samples[s] : ((samples[2 * s] | samples[2 * s + 1] << 8) * 255 + 32767) / 65535;
              same = same && pixels[4 * k + c] == want && pixels[4 * k + 3] == 255;
            }
          CHECK(same);
        }
}

TEST_CASE("a small picture and a whole one go through the same decoders") {
  const PictureFolder folder;
  put(folder.file("raw"), raw_16());
  output_of("convert -size 67x45 -depth 16 rgba:" + folder.file("raw") + " " + folder.file("a.tif"));
  const auto image = read_image(folder.file("a.tif"));
  const auto picture = read_picture(folder.file("a.tif"));
  REQUIRE(image.ok());
  REQUIRE(picture.ok());
  const auto pixels = pixels_of(**picture);
  for (std::size_t k = 0; k < pixels.size() / 4; ++k)
    for (std::size_t c = 0; c < 3; ++c) {
      const int a = pixels[4 * k + 3];
      CHECK(image->rgb[3 * k + c] == (pixels[4 * k + c] * a + 255 * (255 - a) + 127) / 255);  // over white paper
    }
}
