#include "engine/picture/image.h"

#include <stb/stb_image_write.h>

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <random>

using namespace pontata;

namespace {

struct Folder {
  std::filesystem::path path;
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "pontata-image-XXXXXX").string();
    path = mkdtemp(name.data());
  }
  ~Folder() { std::filesystem::remove_all(path); }
  std::string file(const std::string& name) const { return (path / name).string(); }
};

Image noise(int width, int height) {
  std::mt19937 rng(3);
  Image image{width, height, {}};
  for (int k = 0; k < 3 * width * height; ++k) image.rgb.push_back(static_cast<std::uint8_t>(rng()));
  return image;
}

// Smooth colours, so that a JPEG keeps them within a few levels.
Image ramps(int width, int height) {
  Image image{width, height, {}};
  for (int y = 0; y < height; ++y) {
    for (int x = 0; x < width; ++x) {
      image.rgb.push_back(static_cast<std::uint8_t>(255 * x / width));
      image.rgb.push_back(static_cast<std::uint8_t>(255 * y / height));
      image.rgb.push_back(100);
    }
  }
  return image;
}

std::string bytes_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}
void put(const std::string& path, const std::string& bytes) { std::ofstream(path, std::ios::binary) << bytes; }

std::string jpeg_of(const Image& image) {
  std::string bytes;
  const auto sink = [](void* to, void* data, int size) {
    static_cast<std::string*>(to)->append(static_cast<const char*>(data), static_cast<std::size_t>(size));
  };
  stbi_write_jpg_to_func(sink, &bytes, image.width, image.height, 3, image.rgb.data(), 95);
  return bytes;
}

// An Exif segment that holds one entry, the orientation, put in behind the start of image (JEITA CP-3451).
std::string with_orientation(const std::string& jpeg, char orientation) {
  const std::string tiff("II*\0\10\0\0\0\1\0\x12\1\3\0\1\0\0\0", 18);
  std::string body = std::string("Exif\0\0", 6) + tiff + std::string{orientation, 0, 0, 0} + std::string(4, '\0');
  const auto length = static_cast<char>(body.size() + 2);
  return jpeg.substr(0, 2) + std::string("\xff\xe1\0", 3) + length + body + jpeg.substr(2);
}

std::string problem_of(const std::string& path) {
  const auto image = read_image(path);
  REQUIRE_FALSE(image.ok());
  CHECK(image.problem().where == path);  // the message names the file
  return image.problem().what;
}

}  // namespace

TEST_CASE("a PNG reads back pixel for pixel") {
  const Folder folder;
  const auto image = noise(57, 31);
  REQUIRE(write_png(image, folder.file("a.png")).ok());
  const auto back = read_image(folder.file("a.png"));
  REQUIRE(back.ok());
  CHECK(back->width == 57);
  CHECK(back->height == 31);
  CHECK(back->rgb == image.rgb);
}

TEST_CASE("the same picture gives the same PNG bytes") {
  const Folder folder;
  REQUIRE(write_png(noise(20, 20), folder.file("a.png")).ok());
  REQUIRE(write_png(noise(20, 20), folder.file("b.png")).ok());
  CHECK(bytes_of(folder.file("a.png")) == bytes_of(folder.file("b.png")));
}

TEST_CASE("a JPEG reads within a few levels of its colours") {
  const Folder folder;
  const auto image = ramps(120, 80);
  put(folder.file("a.jpg"), jpeg_of(image));
  const auto back = read_image(folder.file("a.jpg"));
  REQUIRE(back.ok());
  REQUIRE(back->rgb.size() == image.rgb.size());
  int worst = 0;
  for (std::size_t k = 0; k < image.rgb.size(); ++k) worst = std::max(worst, std::abs(back->rgb[k] - image.rgb[k]));
  CHECK(worst <= 12);
}

TEST_CASE("a photograph taken with the camera turned stands upright") {
  // Exif 2.2, tag 0x0112: 6 means that the first row of pixels is the right side of the upright picture.
  const Folder folder;
  const auto jpeg = jpeg_of(ramps(120, 80));
  put(folder.file("a.jpg"), with_orientation(jpeg, 6));
  const auto plain = [&] {
    put(folder.file("plain.jpg"), jpeg);
    return read_image(folder.file("plain.jpg")).value();
  }();
  const auto turned = read_image(folder.file("a.jpg"));
  REQUIRE(turned.ok());
  CHECK(turned->width == 80);
  CHECK(turned->height == 120);
  for (int k = 0; k < 80; ++k) {  // first column of the file is the top of the upright picture, right to left
    const auto* up = turned->rgb.data() + 3 * (79 - k);
    const auto* file = plain.rgb.data() + 3 * 120 * k;
    CHECK(std::equal(up, up + 3, file));
  }
  put(folder.file("b.jpg"), with_orientation(jpeg, 3));
  const auto over = read_image(folder.file("b.jpg"));
  REQUIRE(over.ok());
  CHECK(std::equal(over->rgb.begin(), over->rgb.begin() + 3, plain.rgb.end() - 3));
}

TEST_CASE("what a PNG shows through is white as on paper") {
  const Folder folder;
  const std::vector<std::uint8_t> pixels{200, 10, 10, 0, 200, 10, 10, 255};
  REQUIRE(stbi_write_png(folder.file("a.png").c_str(), 2, 1, 4, pixels.data(), 8));
  const auto image = read_image(folder.file("a.png"));
  REQUIRE(image.ok());
  CHECK(image->rgb == std::vector<std::uint8_t>{255, 255, 255, 200, 10, 10});
}

TEST_CASE("files that are no pictures are refused by name") {
  const Folder folder;
  put(folder.file("text.png"), "not a picture at all, whatever its name says");
  CHECK(problem_of(folder.file("text.png")).find("PNG, JPEG or TIFF") != std::string::npos);
  put(folder.file("empty.jpg"), "");
  CHECK(problem_of(folder.file("empty.jpg")).find("empty") != std::string::npos);
  put(folder.file("old.bmp"), "BM" + std::string(60, '\0'));
  CHECK(problem_of(folder.file("old.bmp")).find("PNG, JPEG or TIFF") != std::string::npos);
  CHECK(problem_of(folder.file("absent.png")).find("no such file") != std::string::npos);
  CHECK(problem_of(folder.path.string()).find("not a file") != std::string::npos);
}

TEST_CASE("a picture cut short anywhere is refused") {
  const Folder folder;
  REQUIRE(write_png(noise(40, 40), folder.file("whole.png")).ok());
  const auto png = bytes_of(folder.file("whole.png")), jpeg = jpeg_of(noise(40, 40));
  for (int part = 1; part < 40; ++part) {
    for (const auto& [name, whole] : {std::pair{"cut.png", png}, std::pair{"cut.jpg", jpeg}}) {
      put(folder.file(name), whole.substr(0, whole.size() * static_cast<std::size_t>(part) / 40));
      CHECK_FALSE(read_image(folder.file(name)).ok());
    }
  }
  put(folder.file("last.png"), png.substr(0, png.size() - 1));
  put(folder.file("last.jpg"), jpeg.substr(0, jpeg.size() - 1));
  CHECK_FALSE(read_image(folder.file("last.png")).ok());
  CHECK_FALSE(read_image(folder.file("last.jpg")).ok());
}

TEST_CASE("one changed byte in a PNG is noticed") {
  const Folder folder;
  REQUIRE(write_png(noise(20, 20), folder.file("whole.png")).ok());
  auto png = bytes_of(folder.file("whole.png"));
  for (std::size_t k = 8; k < png.size(); k += 7) {
    auto bad = png;
    bad[k] = static_cast<char>(bad[k] ^ 0x10);
    put(folder.file("bad.png"), bad);
    CHECK_FALSE(read_image(folder.file("bad.png")).ok());
  }
}

TEST_CASE("a picture over 120 megapixels is refused from its first bytes") {
  // The header of a PNG 12000 x 10001 with nothing behind it (PNG specification, section 11.2.2).
  const Folder folder;
  std::string png("\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\x2e\xe0\0\0\x27\x11\10\2\0\0\0\0\0\0\0", 33);
  png += std::string("\0\0\0\0IDAT\0\0\0\0", 12);
  put(folder.file("big.png"), png);
  CHECK(problem_of(folder.file("big.png")).find("12000 x 10001") != std::string::npos);
}

TEST_CASE("a folder that cannot be written to is a problem, not a crash") {
  const auto out = write_png(noise(3, 3), "/nowhere/at/all.png");
  REQUIRE_FALSE(out.ok());
  CHECK(out.problem().where == "/nowhere/at/all.png");
  CHECK_FALSE(write_png(Image{}, "/tmp/empty.png").ok());
}

TEST_CASE("bilinear colour: exact at pixel centres, halfway between them, the edge beyond it") {
  const Image image{2, 1, {0, 100, 200, 255, 0, 0}};
  CHECK(sample(image, 0.5, 0.5).y == Approx(100 / 255.0));
  CHECK(sample(image, 1.0, 0.5).x == Approx(0.5));
  CHECK(sample(image, -3, 9).z == Approx(200 / 255.0));
  CHECK(sample(image, 7, 0.5).x == Approx(1.0));
}
