// Files that cannot be shown truly: one clear problem each, and nothing printed.
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>

#include "engine/picture/image.h"
#include "tests/fixtures/picture_files.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

// Both readers refuse the file with the same problem, which names it and says what to do; what it says is returned.
std::string refused(const std::string& path) {
  INFO(path);
  const auto read = read_picture(path);
  REQUIRE_FALSE(read.ok());
  const Problem& problem = read.problem();
  CHECK(problem.where == path);
  CHECK_FALSE(problem.remedy.empty());
  CHECK(problem.message().find('\n') == std::string::npos);
  CHECK_FALSE(read_image(path).ok());
  return problem.what;
}
bool says(const std::string& text, const std::string& part) {
  INFO(text);
  return text.find(part) != std::string::npos;
}

// What reaches the error output while it lives.
class Errors {
 public:
  explicit Errors(const std::string& file) : file_(file), before_(dup(2)) {
    if (FILE* f = std::fopen(file.c_str(), "w")) {
      dup2(fileno(f), 2);
      std::fclose(f);
    }
  }
  std::string stop() {
    if (before_ >= 0) {
      std::fflush(stderr);
      dup2(before_, 2);
      ::close(before_);
      before_ = -1;
    }
    return bytes_of(file_);
  }
  ~Errors() { stop(); }
  Errors(const Errors&) = delete;
  Errors& operator=(const Errors&) = delete;

 private:
  std::string file_;
  int before_;
};

struct Sample {
  std::string name, bytes;
};

// One whole file of every kind.
std::vector<Sample> samples(const PictureFolder& folder) {
  const int w = 60, h = 44;
  const auto rgb = ramp_bytes(w, h, 3), grey = ramp_bytes(w, h, 1);
  std::vector<Sample> all;
  all.push_back({"a.jpg", jpeg_file(w, h, rgb, {})});
  all.push_back({"grey.jpg", jpeg_file(w, h, grey, {1})});
  all.push_back({"progressive.jpg", jpeg_file(w, h, rgb, {3, true})});
  std::string rows;
  for (int y = 0; y < h; ++y) rows += '\0' + std::string(rgb.begin() + 3 * w * y, rgb.begin() + 3 * w * (y + 1));
  all.push_back({"a.png", png_file(w, h, 8, 2, rows)});
  put(folder.file("plain.png"), all.back().bytes);
  output_of("convert " + folder.file("plain.png") + " -interlace PNG -depth 16 PNG48:" + folder.file("i.png"));
  all.push_back({"interlaced.png", bytes_of(folder.file("i.png"))});
  for (const int compression :
       {COMPRESSION_NONE, COMPRESSION_LZW, COMPRESSION_ADOBE_DEFLATE, COMPRESSION_PACKBITS, COMPRESSION_JPEG}) {
    TiffKind kind;
    kind.compression = compression;
    kind.rows_per_strip = 16;
    if (compression == COMPRESSION_JPEG) kind.photometric = PHOTOMETRIC_YCBCR;
    const auto name = "strips" + std::to_string(compression) + ".tif";
    all.push_back({name, bytes_of(tiff_file(folder.file(name), w, h, rgb, kind))});
    kind.tile = 16;
    const auto tiled = "tiles" + std::to_string(compression) + ".tif";
    all.push_back({tiled, bytes_of(tiff_file(folder.file(tiled), w, h, rgb, kind))});
  }
  return all;
}

// A TIFF of one strip that says to be width x height and holds nothing of it.
std::string tiff_header(std::uint32_t width, std::uint32_t height, bool tiled = false) {
  std::string out("II*\0\x08\0\0\0", 8);
  const auto u16 = [&](std::uint32_t v) { out += static_cast<char>(v & 255), out += static_cast<char>(v >> 8 & 255); };
  const auto entry = [&](std::uint32_t tag, std::uint32_t type, std::uint32_t value) {
    u16(tag), u16(type), u16(1), u16(0), u16(value & 0xffff), u16(value >> 16);
  };
  u16(tiled ? 10 : 9);
  entry(256, 4, width), entry(257, 4, height), entry(258, 3, 8), entry(259, 3, 1), entry(262, 3, 1);
  if (!tiled) entry(273, 4, 8);
  entry(277, 3, 1);
  if (!tiled) entry(278, 4, height), entry(279, 4, width * height);
  if (tiled) entry(322, 4, width), entry(323, 4, height), entry(324, 4, 8), entry(325, 4, 100);
  u16(0), u16(0);
  return out + std::string(64, '\0');
}

std::string jpeg_header(int width, int height, int components = 3) {
  std::string frame{8,
                    static_cast<char>(height >> 8),
                    static_cast<char>(height),
                    static_cast<char>(width >> 8),
                    static_cast<char>(width),
                    static_cast<char>(components)};
  for (int c = 1; c <= components; ++c) frame += {static_cast<char>(c), 0x11, 0};
  return "\xff\xd8" + jpeg_segment(0xc0, frame) + jpeg_segment(0xda, std::string("\1\1\0\0\77\0", 6)) + "\xff\xd9";
}

}  // namespace

TEST_CASE("a file cut short anywhere is refused, whatever its kind, without a word on the side") {
  const PictureFolder folder;
  const auto all = samples(folder);
  Errors errors(folder.file("said"));
  for (const auto& [name, bytes] : all) {
    REQUIRE(read_picture(put(folder.file(name), bytes)).ok());
    for (int part = 1; part <= 60; ++part) {
      const std::size_t size = part == 60 ? bytes.size() - 1 : bytes.size() * static_cast<std::size_t>(part) / 60;
      INFO(name << " " << size << " of " << bytes.size());
      put(folder.file(name), bytes.substr(0, size));
      const auto read = read_picture(folder.file(name));
      CHECK_FALSE(read.ok());
      if (read.ok()) continue;
      CHECK(read.problem().where == folder.file(name));
      CHECK_FALSE(read.problem().remedy.empty());
    }
  }
  CHECK(errors.stop().empty());
}

TEST_CASE("CMYK is refused as such") {
  const PictureFolder folder;
  CHECK(says(refused(put(folder.file("a.jpg"), jpeg_file(20, 20, noise_bytes(1600), {4}))), "CMYK"));
  output_of("convert -size 20x20 plasma: -colorspace CMYK -compress LZW " + folder.file("a.tif"));
  CHECK(says(refused(folder.file("a.tif")), "CMYK"));
  output_of("convert -size 20x20 plasma: -colorspace CMYK " + folder.file("b.jpg"));
  CHECK(says(refused(folder.file("b.jpg")), "CMYK"));
}

TEST_CASE("no pixels: refused as such") {
  const PictureFolder folder;
  CHECK(says(refused(put(folder.file("a.png"), png_file(0, 10, 8, 2, ""))), "no pixels (0 x 10)"));
  CHECK(says(refused(put(folder.file("b.png"), png_file(10, 0, 8, 2, ""))), "no pixels"));
  CHECK(says(refused(put(folder.file("a.jpg"), jpeg_header(10, 0))), "no pixels (10 x 0)"));
  CHECK(says(refused(put(folder.file("b.jpg"), jpeg_header(0, 10))), "no pixels"));
  CHECK(says(refused(put(folder.file("a.tif"), tiff_header(0, 10))), "no pixels (0 x 10)"));
  CHECK(says(refused(put(folder.file("b.tif"), tiff_header(10, 0))), "no pixels"));
  CHECK(says(refused(put(folder.file("c.png"), "")), "empty"));
}

TEST_CASE("a header that promises too many pixels is refused before any memory is taken for them") {
  const PictureFolder folder;
  rusage before{}, after{};
  getrusage(RUSAGE_SELF, &before);
  for (const int side : {60000, 20001}) {
    const auto size = std::to_string(side) + " x " + std::to_string(side);
    const auto u = static_cast<std::uint32_t>(side);
    CHECK(says(refused(put(folder.file("a.png"), png_file(u, u, 8, 6, "x"))), size));
    CHECK(says(refused(put(folder.file("b.png"), png_file(u, u, 16, 6, "x", "", 1))), size));
    CHECK(says(refused(put(folder.file("a.jpg"), jpeg_header(side, side))), size));
    CHECK(says(refused(put(folder.file("a.tif"), tiff_header(u, u))), size));
    CHECK(says(refused(put(folder.file("b.tif"), tiff_header(u, u, true))), size));
  }
  getrusage(RUSAGE_SELF, &after);
  CHECK(after.ru_maxrss - before.ru_maxrss < 50'000);  // kB
  CHECK(says(refused(put(folder.file("c.png"), png_file(4'000'000'000u, 4'000'000'000u, 8, 6, "x"))), "4000000000"));
  CHECK(says(refused(put(folder.file("c.tif"), tiff_header(4'000'000'000u, 4'000'000'000u))), "4000000000"));
  CHECK(says(refused(put(folder.file("d.png"), png_file(200'000, 2, 1, 0, "x"))), "one side"));
  // Within the limit, but a tile as large as the picture, or nothing behind the header.
  CHECK(says(refused(put(folder.file("d.tif"), tiff_header(19'000, 19'000))), "cut short"));
  refused(put(folder.file("e.tif"), tiff_header(24'000, 16'000, true)));
  refused(put(folder.file("d.jpg"), jpeg_header(20'000, 20'000)));
  refused(put(folder.file("e.png"), png_file(20'000, 20'000, 8, 6, "x")));
}

TEST_CASE("animations and several pages are refused as such, small copies beside a picture are not") {
  const PictureFolder folder;
  const std::string one = png_file(1, 1, 8, 0, std::string(2, '\0'));
  const auto frames = [&](std::uint32_t n) { return with_chunk(one, png_chunk("acTL", big32(n) + big32(0))); };
  CHECK(says(refused(put(folder.file("a.png"), frames(12))), "an animation of 12 pictures"));
  CHECK(read_picture(put(folder.file("b.png"), frames(1))).ok());
  output_of("convert -size 9x9 xc:red xc:blue " + folder.file("a.gif"));
  CHECK(says(refused(folder.file("a.gif")), "GIF"));
  TIFF* tiff = TIFFOpen(folder.file("a.tif").c_str(), "w");
  add_tiff_page(tiff, 9, 9, noise_bytes(243), {});
  add_tiff_page(tiff, 9, 9, noise_bytes(243), {});
  TIFFClose(tiff);
  CHECK(says(refused(folder.file("a.tif")), "several pages"));
  tiff = TIFFOpen(folder.file("b.tif").c_str(), "w");
  TiffKind small;
  small.subfile = FILETYPE_REDUCEDIMAGE;
  add_tiff_page(tiff, 4, 4, noise_bytes(48), small);
  add_tiff_page(tiff, 9, 8, noise_bytes(216), {});
  TIFFClose(tiff);
  const auto read = read_picture(folder.file("b.tif"));
  REQUIRE(read.ok());
  CHECK((*read)->size() == PictureSize{9, 8});
}

TEST_CASE("a file is known by what it holds, and a name that says otherwise is told") {
  const PictureFolder folder;
  const auto jpeg = jpeg_file(8, 8, noise_bytes(192), {}), png = png_file(1, 1, 8, 0, std::string(2, '\0'));
  const auto tiff = bytes_of(tiff_file(folder.file("x.tif"), 8, 8, noise_bytes(192), {}));
  CHECK(says(refused(put(folder.file("a.png"), jpeg)), "a JPEG picture, but its name says PNG"));
  CHECK(says(refused(put(folder.file("a.JPG"), png)), "a PNG picture, but its name says JPEG"));
  CHECK(says(refused(put(folder.file("a.tiff"), png)), "a PNG picture, but its name says TIFF"));
  CHECK(says(refused(put(folder.file("a.jpeg"), tiff)), "a TIFF picture, but its name says JPEG"));
  CHECK(says(refused(put(folder.file("a.webp"), png)), "a PNG picture, but its name says WebP"));
  CHECK(read_picture(put(folder.file("no ending"), jpeg)).ok());
  CHECK(read_picture(put(folder.file("a.picture"), png)).ok());
  CHECK(read_picture(put(folder.file("a.JPEG"), jpeg)).ok());
}

TEST_CASE("other kinds are told by their first bytes") {
  const PictureFolder folder;
  const auto kind = [&](const std::string& bytes) {
    return refused(put(folder.file("a.png"), bytes + std::string(40, '\0')));
  };
  using namespace std::string_literals;
  CHECK(says(kind("RIFF\x24\0\0\0WEBPVP8 "s), "WebP"));
  CHECK(says(kind("\0\0\0\x18"s + "ftypheic"), "HEIC"));
  CHECK(says(kind("\0\0\0\x18"s + "ftypavif"), "AVIF"));
  CHECK(says(kind("BM\x46\0\0\0\0\0\0\0\x36\0\0\0"s), "BMP"));
  CHECK(says(kind("GIF89a"), "GIF"));
  CHECK(says(kind("%PDF-1.4"), "PDF"));
  CHECK(says(kind("\x01\x02\x03"), "not a PNG, JPEG or TIFF"));
  CHECK(says(refused(put(folder.file("b.png"), "BMs are no pictures, and this is text\n")), "this is text"));
  CHECK(says(refused(put(folder.file("c.jpg"), "<?xml version=\"1.0\"?><svg width=\"3\"/>")), "SVG"));
  // The same of files that ImageMagick wrote.
  for (const char* name : {"d.webp", "d.bmp", "d.gif"}) {
    output_of("convert -size 9x9 plasma: " + folder.file(name) + " 2>/dev/null");
    if (!std::filesystem::exists(folder.file(name))) continue;
    const auto what = refused(folder.file(name));
    CHECK(says(what, name[2] == 'w' ? "WebP" : name[2] == 'b' ? "BMP" : "GIF"));
  }
}

TEST_CASE("folders, devices, pipes and files not to be read are refused at once") {
  const PictureFolder folder;
  CHECK(says(refused(folder.path.string()), "folder"));
  CHECK(says(refused("/dev/zero"), "device"));
  CHECK(says(refused("/dev/null"), "device"));
  REQUIRE(mkfifo(folder.file("pipe.png").c_str(), 0600) == 0);
  CHECK(says(refused(folder.file("pipe.png")), "pipe"));
  CHECK(says(refused(folder.file("none.png")), "no such file"));
  std::filesystem::create_symlink(folder.file("round.png"), folder.file("round.png"));
  CHECK(says(refused(folder.file("round.png")), "cannot be read"));
  put(folder.file("shut.png"), "x");
  chmod(folder.file("shut.png").c_str(), 0);
  if (access(folder.file("shut.png").c_str(), R_OK) != 0)  // not for the administrator
    CHECK(says(refused(folder.file("shut.png")), "cannot be read"));
}

TEST_CASE("rare kinds are refused by name") {
  const PictureFolder folder;
  output_of("convert -size 9x9 plasma: -depth 32 -define quantum:format=floating-point " + folder.file("a.tif") +
            " 2>/dev/null");
  CHECK(says(refused(folder.file("a.tif")), "32 bits"));
  output_of("convert -size 9x9 plasma: -colorspace Lab " + folder.file("b.tif"));
  CHECK(says(refused(folder.file("b.tif")), "rare kind"));
}
