// Tiles and levels of a picture, turned upright; large ones on disk.
#include <sys/resource.h>

#include <atomic>
#include <catch2/catch.hpp>
#include <csignal>
#include <thread>

#include "engine/picture/tile_pyramid.h"
#include "tests/fixtures/picture_files.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr int kSide = PictureTile::kSide;

// A PNG of these pixels (8-bit RGBA), not squeezed.
std::string rgba_png(int width, int height, const std::vector<std::uint8_t>& rgba, const std::string& more = "") {
  std::string rows;
  for (int y = 0; y < height; ++y) {
    rows += '\0';
    rows.append(reinterpret_cast<const char*>(rgba.data()) + std::ptrdiff_t{4} * width * y,
                static_cast<std::size_t>(4 * width));
  }
  return png_file(static_cast<std::uint32_t>(width), static_cast<std::uint32_t>(height), 8, 6, rows, more);
}

// Sets an environment variable while it lives.
struct Setting {
  std::string name, before;
  bool had;
  Setting(const char* n, const std::string& value) : name(n), had(std::getenv(n) != nullptr) {
    if (had) before = std::getenv(n);
    setenv(n, value.c_str(), 1);
  }
  ~Setting() { had ? setenv(name.c_str(), before.c_str(), 1) : unsetenv(name.c_str()); }
  Setting(const Setting&) = delete;
  Setting& operator=(const Setting&) = delete;
};

// Where a stored pixel stands upright, from the words of Exif 2.2 for tag 0x0112 ("the 0th row is the visual ... of
// the image, the 0th column the visual ..."): 1 top left, 2 top right, 3 bottom right, 4 bottom left, 5 left top,
// 6 right top, 7 right bottom, 8 left bottom.
std::pair<int, int> upright(int orientation, int x, int y, int w, int h) {
  switch (orientation) {
    case 2:
      return {w - 1 - x, y};
    case 3:
      return {w - 1 - x, h - 1 - y};
    case 4:
      return {x, h - 1 - y};
    case 5:
      return {y, x};
    case 6:
      return {h - 1 - y, x};
    case 7:
      return {h - 1 - y, w - 1 - x};
    case 8:
      return {y, w - 1 - x};
    default:
      return {x, y};
  }
}

// 20 megapixels of grey in bands, so that it goes to disk.
std::string large_png() {
  std::string rows;
  for (int y = 0; y < 4000; ++y) rows += '\0' + std::string(5000, static_cast<char>(y / 16));
  return png_file(5000, 4000, 8, 0, rows);
}

}  // namespace

TEST_CASE("all eight orientations of PNG, JPEG and TIFF stand upright") {
  const PictureFolder folder;
  const int w = 300, h = 530;  // more than a tile, no multiple of one
  auto rgba = noise_bytes(std::size_t{4} * w * h);
  for (std::size_t k = 3; k < rgba.size(); k += 4) rgba[k] = 255;
  std::vector<std::uint8_t> rgb;
  for (std::size_t k = 0; k < rgba.size(); ++k)
    if (k % 4 != 3) rgb.push_back(rgba[k]);
  const auto jpeg = jpeg_file(w, h, ramp_bytes(w, h, 3), {});
  const auto stored = read_picture(put(folder.file("plain.jpg"), jpeg));
  REQUIRE(stored.ok());
  const auto jpeg_pixels = pixels_of(**stored);
  for (int o = 1; o <= 8; ++o) {
    TiffKind kind;
    kind.orientation = o;
    put(folder.file("a.png"), rgba_png(w, h, rgba, png_chunk("eXIf", exif_block(o))));
    put(folder.file("a.jpg"), with_segment(jpeg, jpeg_segment(0xe1, std::string("Exif\0\0", 6) + exif_block(o))));
    tiff_file(folder.file("a.tif"), w, h, rgb, kind);
    for (const char* name : {"a.png", "a.jpg", "a.tif"}) {
      INFO(name << " " << o);
      const auto picture = read_picture(folder.file(name));
      REQUIRE(picture.ok());
      const auto size = (*picture)->size();
      REQUIRE(size == (o >= 5 ? PictureSize{h, w} : PictureSize{w, h}));
      const auto& want = name == std::string("a.jpg") ? jpeg_pixels : rgba;
      const auto pixels = pixels_of(**picture);
      bool same = true;
      for (int y = 0; y < h; ++y)
        for (int x = 0; x < w; ++x) {
          const auto [ux, uy] = upright(o, x, y, w, h);
          same = same && std::equal(want.begin() + 4 * (y * w + x), want.begin() + 4 * (y * w + x) + 4,
                                    pixels.begin() + 4 * (uy * size.width + ux));
        }
      CHECK(same);
    }
  }
}

TEST_CASE("orientations as ImageMagick turns them") {
  const PictureFolder folder;
  const auto jpeg = jpeg_file(61, 40, ramp_bytes(61, 40, 3), {});
  for (int o = 1; o <= 8; ++o) {
    const auto file =
        put(folder.file("a.jpg"), with_segment(jpeg, jpeg_segment(0xe1, std::string("Exif\0\0", 6) + exif_block(o))));
    const auto theirs = output_of("convert " + file + " -auto-orient -depth 8 rgba:-");
    const auto ours = pixels_of(*read_picture(file).value());
    CHECK(theirs == std::string(ours.begin(), ours.end()));
  }
}

TEST_CASE("each level halves the one before, every pixel the mean of those beneath it by their opacity") {
  const PictureFolder folder;
  const int w = 1031, h = 517;
  auto rgba = noise_bytes(std::size_t{4} * w * h);
  for (std::size_t k = 3; k < rgba.size(); k += 12) rgba[k] = 0;  // some see through
  const auto picture = read_picture(put(folder.file("a.png"), rgba_png(w, h, rgba))).value();
  REQUIRE(picture->levels() == 4);
  CHECK(picture->size_of(1) == PictureSize{516, 259});
  CHECK(picture->size_of(3) == PictureSize{129, 65});
  auto below = pixels_of(*picture, 0);
  CHECK(below == rgba);
  PictureSize size{w, h};
  for (int level = 1; level < picture->levels(); ++level) {
    const PictureSize half = picture->size_of(level);
    const auto pixels = pixels_of(*picture, level);
    double worst = 0;
    for (int y = 0; y < half.height; ++y)
      for (int x = 0; x < half.width; ++x) {
        double weight = 0, sum[3]{}, plain[3]{};
        int count = 0;
        for (int b = 2 * y; b < std::min(2 * y + 2, size.height); ++b)
          for (int a = 2 * x; a < std::min(2 * x + 2, size.width); ++a, ++count) {
            const auto* p = below.data() + 4 * (b * size.width + a);
            weight += p[3];
            for (int c = 0; c < 3; ++c) sum[c] += p[c] * p[3], plain[c] += p[c];
          }
        const auto* p = pixels.data() + 4 * (y * half.width + x);
        for (int c = 0; c < 3; ++c)
          worst = std::max(worst, std::abs(p[c] - (weight > 0 ? sum[c] / weight : plain[c] / count)));
        worst = std::max(worst, std::abs(p[3] - weight / count));
      }
    CHECK(worst <= 0.5 + 1e-9);
    below = pixels, size = half;
  }
}

TEST_CASE("what is see-through gives no colour to the smaller levels") {
  // One opaque red pixel in four, the others see-through green.
  std::vector<std::uint8_t> rgba;
  for (int k = 0; k < 300 * 300; ++k) {
    const bool red = k % 2 == 0 && (k / 300) % 2 == 0;
    rgba.insert(rgba.end(), {static_cast<std::uint8_t>(red ? 255 : 0), static_cast<std::uint8_t>(red ? 0 : 255), 0,
                             static_cast<std::uint8_t>(red ? 255 : 0)});
  }
  const PictureFolder folder;
  const auto picture = read_picture(put(folder.file("a.png"), rgba_png(300, 300, rgba))).value();
  const auto small = pixels_of(*picture, 1);
  CHECK(std::vector<std::uint8_t>(small.begin(), small.begin() + 4) == std::vector<std::uint8_t>{255, 0, 0, 64});
}

TEST_CASE("a tile goes on beyond the picture with its edge") {
  const PictureFolder folder;
  auto rgba = noise_bytes(4 * 300 * 270);
  const auto picture = read_picture(put(folder.file("a.png"), rgba_png(300, 270, rgba))).value();
  for (int level = 0; level < picture->levels(); ++level) {
    const auto size = picture->size_of(level);
    const int i = (size.width - 1) / kSide, j = (size.height - 1) / kSide;
    const auto tile = picture->tile(level, i, j);
    REQUIRE(tile->rgba.size() == 4u * kSide * kSide);
    const int w = size.width - i * kSide, h = size.height - j * kSide;
    bool same = true;
    for (int y = 0; y < kSide; ++y)
      for (int x = 0; x < kSide; ++x)
        same =
            same && std::equal(tile->rgba.begin() + 4 * (kSide * y + x), tile->rgba.begin() + 4 * (kSide * y + x) + 4,
                               tile->rgba.begin() + 4 * (kSide * std::min(y, h - 1) + std::min(x, w - 1)));
    CHECK(same);
  }
}

TEST_CASE("pictures of one pixel, one row and one column") {
  const PictureFolder folder;
  for (const auto& [w, h] : {std::pair{1, 1}, std::pair{700, 1}, std::pair{1, 700}}) {
    const auto rgba = noise_bytes(static_cast<std::size_t>(4 * w * h));
    std::vector<std::uint8_t> grey(rgba.begin(), rgba.begin() + w * h);
    const auto png = read_picture(put(folder.file("a.png"), rgba_png(w, h, rgba)));
    REQUIRE(png.ok());
    CHECK(pixels_of(**png) == rgba);
    CHECK((*png)->size_of((*png)->levels() - 1) == (w * h == 1 ? PictureSize{1, 1}
                                                    : w == 1   ? PictureSize{1, 175}
                                                               : PictureSize{175, 1}));
    TiffKind kind;
    kind.channels = 1, kind.photometric = PHOTOMETRIC_MINISBLACK;
    CHECK(read_picture(tiff_file(folder.file("a.tif"), w, h, grey, kind)).ok());
    CHECK(read_picture(put(folder.file("a.jpg"), jpeg_file(w, h, grey, {1}))).ok());
  }
}

TEST_CASE("the tiles of a large picture lie on disk and are the same from several threads") {
  const PictureFolder folder;
  const Setting here("TMPDIR", folder.path.string());
  const auto read = read_picture(put(folder.file("large.png"), large_png()));
  REQUIRE(read.ok());
  CHECK(std::distance(std::filesystem::directory_iterator(folder.path), {}) == 1);  // the temporary file has no name
  const auto& picture = **read;
  std::atomic<int> wrong{0};
  std::vector<std::thread> threads;
  for (unsigned t = 0; t < 4; ++t)
    threads.emplace_back([&, t] {
      std::mt19937 rng(t);
      for (int k = 0; k < 1500; ++k) {
        const int i = static_cast<int>(rng() % 20), j = static_cast<int>(rng() % 16), y = static_cast<int>(rng() % 256);
        const auto tile = picture.tile(0, i, j);
        const int want = std::min(j * kSide + y, 3999) / 16 % 256;
        if (tile->rgba[static_cast<std::size_t>(4 * kSide * y)] != want) ++wrong;
      }
    });
  for (auto& thread : threads) thread.join();
  CHECK(wrong == 0);
  CHECK(pixels_of(picture, 4)[4] == 0);
}

TEST_CASE("a temporary folder that is missing or full is one clear problem") {
  const PictureFolder folder;
  const auto file = put(folder.file("large.png"), large_png());
  {
    const Setting nowhere("TMPDIR", folder.file("nowhere"));
    const auto read = read_picture(file);
    REQUIRE_FALSE(read.ok());
    CHECK(read.problem().where == file);
    CHECK(read.problem().what.find("nowhere") != std::string::npos);
    CHECK(read.problem().remedy.find("TMPDIR") != std::string::npos);
  }
  // A file may grow to a megabyte: like a disk with no more room.
  const auto old = std::signal(SIGXFSZ, SIG_IGN);
  rlimit before{};
  getrlimit(RLIMIT_FSIZE, &before);
  rlimit now = before;
  now.rlim_cur = 1 << 20;
  setrlimit(RLIMIT_FSIZE, &now);
  const auto read = read_picture(file);
  setrlimit(RLIMIT_FSIZE, &before);
  std::signal(SIGXFSZ, old);
  REQUIRE_FALSE(read.ok());
  CHECK(read.problem().where == file);
  CHECK(read.problem().what.find("room") != std::string::npos);
}

TEST_CASE("reading tells how far it is, and stops when asked to") {
  const PictureFolder folder;
  put(folder.file("large.png"), large_png());
  put(folder.file("a.jpg"), jpeg_file(900, 700, ramp_bytes(900, 700, 3), {3, true}));
  for (const char* name : {"large.png", "a.jpg"}) {
    Progress progress;
    double last = 0;
    bool forward = true;
    progress.report = [&](double fraction, std::string_view) {
      forward = forward && fraction >= last && fraction <= 1;
      last = fraction;
    };
    REQUIRE(read_picture(folder.file(name), &progress).ok());
    CHECK(forward);
    CHECK(last == Approx(1));
    progress.report = [&](double fraction, std::string_view) { progress.cancelled = fraction > 0.3; };
    const auto stopped = read_picture(folder.file(name), &progress);
    REQUIRE_FALSE(stopped.ok());
    CHECK(stopped.problem().what == "stopped");
  }
}

TEST_CASE("a progressive JPEG too large for memory decodes as ImageMagick has it") {
  const PictureFolder folder;
  const int w = 4600, h = 3600;  // 16.6 megapixels: its coefficients go to disk
  const auto file = put(folder.file("a.jpg"), jpeg_file(w, h, ramp_bytes(w, h, 3), {3, true, 80}));
  const auto ours = read_picture(file);
  REQUIRE(ours.ok());
  const auto pixels = pixels_of(**ours);
  CHECK(output_of("convert " + file + " -depth 8 rgba:-") == std::string(pixels.begin(), pixels.end()));
}

TEST_CASE("an interlaced PNG of many megapixels comes together from its seven passes") {
  // W3C, "PNG Specification", 2003, section 8.2: first column and row of each pass, and their steps.
  constexpr int kPasses[7][4] = {{0, 0, 8, 8}, {4, 0, 8, 8}, {0, 4, 4, 8}, {2, 0, 4, 4},
                                 {0, 2, 2, 4}, {1, 0, 2, 2}, {0, 1, 1, 2}};
  constexpr int w = 9001, h = 7600;  // its rows and its tiles go to disk
  const auto grey = [](int x, int y) { return static_cast<char>((x / 3) ^ (y / 2)); };
  std::string rows;
  for (const auto& pass : kPasses)
    for (int y = pass[1]; y < h; y += pass[3]) {
      rows += '\0';
      for (int x = pass[0]; x < w; x += pass[2]) rows += grey(x, y);
    }
  const PictureFolder folder;
  const auto read = read_picture(put(folder.file("a.png"), png_file(w, h, 8, 0, rows, "", 1)));
  REQUIRE(read.ok());
  int wrong = 0;
  for (int j = 0; j < 30; ++j)
    for (int i = 0; i < 36; ++i) {
      const auto tile = (*read)->tile(0, i, j);
      for (int y = 0; y < kSide; ++y)
        for (int x = 0; x < kSide; ++x) {
          const int px = std::min(i * kSide + x, w - 1), py = std::min(j * kSide + y, h - 1);
          wrong +=
              tile->rgba[static_cast<std::size_t>(4 * (kSide * y + x) + 1)] != static_cast<std::uint8_t>(grey(px, py));
        }
    }
  CHECK(wrong == 0);
}
