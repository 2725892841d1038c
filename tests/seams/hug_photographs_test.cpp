// Hug beside the reference library's tool for the same job: on photographs with contours that people drew, where the
// dataset is at hand, and on the demo's vault, whose arches are known chords, weathered.
#include <catch2/catch.hpp>
#include <filesystem>
#include <iostream>
#include <numbers>
#include <random>

#include "tests/fixtures/human_contours.h"
#include "tests/fixtures/places.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

struct Vault {
  Image image;
  static constexpr double kPixel = 0.0025;  // m: 400 pixels to the metre
};

// The demo's script draws it anew.
Vault vault() {
  const auto folder = std::filesystem::temp_directory_path() / "pontata-weathered-vault";
  std::filesystem::create_directories(folder);
  const std::string command =
      "/usr/bin/python3 " + source_folder() + "/demo/draw_pictures.py " + folder.string() + " > /dev/null";
  REQUIRE(std::system(command.c_str()) == 0);
  auto image = read_image((folder / "vault.png").string());
  REQUIRE(image.ok());
  std::filesystem::remove_all(folder);
  return {std::move(*image)};
}

// The left arch of the vault's lower side: u from 0.2 to 2.45 m, v from 1.7 to 2.9 m.
constexpr double kLeft = 0.2, kLow = 1.7;
Image arch(const Image& image) {
  Image out{900, 480, {}};
  const int x0 = static_cast<int>(std::lround(kLeft / Vault::kPixel)),
            y0 = image.height - static_cast<int>(std::lround(kLow / Vault::kPixel)) - 480;
  for (int y = 0; y < 480; ++y) {
    const auto row = image.rgb.begin() + 3 * (static_cast<std::ptrdiff_t>(y0 + y) * image.width + x0);
    out.rgb.insert(out.rgb.end(), row, row + 3 * 900);
  }
  return out;
}

// Grain of six levels, 20 stains that darken or bleach by up to 30 levels, and 30 cracks a pixel wide.
Image weathered(Image image, unsigned seed) {
  std::mt19937 rng(seed);
  const auto random = [&](double a, double b) { return a + (b - a) * static_cast<double>(rng()) / 4294967295.0; };
  std::normal_distribution<double> grain(0, 6);
  std::vector<double> change(static_cast<std::size_t>(image.width) * static_cast<std::size_t>(image.height), 0);
  const auto add = [&](int x, int y, double by) {
    if (x >= 0 && y >= 0 && x < image.width && y < image.height)
      change[static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width) + static_cast<std::size_t>(x)] += by;
  };
  for (int stain = 0; stain < 20; ++stain) {
    const double x0 = random(0, image.width), y0 = random(0, image.height), r = random(20, 120), by = random(-30, 30);
    for (int y = static_cast<int>(y0 - 2.5 * r); y < y0 + 2.5 * r; ++y)
      for (int x = static_cast<int>(x0 - 2.5 * r); x < x0 + 2.5 * r; ++x)
        add(x, y, by * std::exp(-((x - x0) * (x - x0) + (y - y0) * (y - y0)) / (r * r)));
  }
  for (int crack = 0; crack < 30; ++crack) {
    double x = random(0, image.width), y = random(0, image.height), heading = random(0, 2 * std::numbers::pi);
    for (int step = 0; step < 300; ++step) {
      heading += random(-0.35, 0.35);
      x += std::cos(heading), y += std::sin(heading);
      add(static_cast<int>(x), static_cast<int>(y), -60);
    }
  }
  for (std::size_t k = 0; k < image.rgb.size(); ++k)
    image.rgb[k] =
        static_cast<std::uint8_t>(std::clamp(std::lround(image.rgb[k] + change[k / 3] + grain(rng)), 0l, 255l));
  return image;
}

// The arch as the script draws it, in pixels: 24 chords of a half circle of radius 0.95 m about (1.32, 1.75) m, along
// which runs a line 12 mm wide.
class Chords {
 public:
  explicit Chords(int height)
      : middle_((1.32 - kLeft) / Vault::kPixel - 0.5, height - 0.5 - (1.75 - kLow) / Vault::kPixel) {}
  // On the line's inner edge, at an angle of so many degrees.
  Vec2 inner(double degrees) const {
    const double radius = kRadius * std::cos(radians(3.75)) / std::cos(radians(std::fmod(degrees, 7.5) - 3.75));
    return middle_ + Vec2(std::cos(radians(degrees)), -std::sin(radians(degrees))) * (radius - kHalfLine);
  }
  // From a place to the nearer edge of the line.
  double off(Vec2 p) const {
    double least = 1e9;
    for (int k = 0; k < 24; ++k) {
      const Vec2 a = corner(k), d = corner(k + 1) - a;
      least = std::min(least, glm::length(p - a - d * std::clamp(glm::dot(p - a, d) / glm::dot(d, d), 0.0, 1.0)));
    }
    return std::abs(least - kHalfLine);
  }

 private:
  static constexpr double kRadius = 0.95 / Vault::kPixel, kHalfLine = 0.006 / Vault::kPixel;
  static double radians(double degrees) { return degrees * std::numbers::pi / 180; }
  Vec2 corner(int k) const { return middle_ + Vec2(std::cos(radians(7.5 * k)), -std::sin(radians(7.5 * k))) * kRadius; }
  Vec2 middle_;
};

struct ArchFit {
  double ours = 0, peer = 0;  // pixels, mean
};
ArchFit along_arch(const Image& image) {
  const HungPhotograph hung(image, Vault::kPixel);
  PeerLine peer(image);
  const Chords chords(image.height);
  const auto at = [&](int k) {
    const Vec2 p = chords.inner(36 + 9 * k);  // 60 pixels apart
    return Vec2(std::round(p.x), std::round(p.y));
  };
  const auto mean = [&](const auto& line_between) {
    double sum = 0;
    int places = 0;
    for (int k = 0; k < 12; ++k) {
      const PixelLine line = line_between(at(k), at(k + 1));
      for (std::size_t n = 0; n + 1 < line.size(); ++n) {
        const int parts = std::max(1, static_cast<int>(2 * glm::length(line[n + 1] - line[n])));
        for (int s = 0; s < parts; ++s, ++places)
          sum += chords.off(line[n] + (line[n + 1] - line[n]) * ((s + 0.5) / parts));
      }
    }
    return sum / places;
  };
  return {mean([&](Vec2 a, Vec2 b) { return hung.hugged(a, b); }),
          mean([&](Vec2 a, Vec2 b) { return peer.from_to(a, b); })};
}

}  // namespace

TEST_CASE("an arch of the painted vault is followed to half a pixel, fresh and weathered") {
  const auto fresh = arch(vault().image);
  for (const auto& image : {fresh, weathered(fresh, 1), weathered(fresh, 2)}) {
    const auto fit = along_arch(image);
    CAPTURE(fit.ours, fit.peer);
    CHECK(fit.ours < 0.5);  // 1.25 mm on the wall
    CHECK(fit.ours < fit.peer);
  }
}

TEST_CASE("on photographs the line keeps nearer to what people drew than the reference library's") {
  const auto folder = photographs_folder();
  if (!folder) {
    std::cout << "skipped: PONTATA_BSDS500 does not name the folder of the photographs\n";
    return;
  }
  const auto names = photograph_names(*folder);
  REQUIRE(names.size() >= 200);
  std::vector<double> ours, peers;
  for (std::size_t k = 0; k < names.size(); k += 40) {
    const auto photograph = drawn_photograph(*folder, names[k]);
    const HungPhotograph hung(photograph.image, 0.005);
    PeerLine peer(photograph.image);
    for (std::size_t n = 0; n < photograph.strokes.size(); n += 5) {
      const auto& stroke = photograph.strokes[n];
      add_distances(photograph, stroke.person, hung.hugged(stroke.from, stroke.to), ours);
      add_distances(photograph, stroke.person, peer.from_to(stroke.from, stroke.to), peers);
    }
  }
  const auto fit = fit_of(ours), other = fit_of(peers);
  CAPTURE(fit.mean, fit.p95, fit.share, other.mean, other.p95, other.share);
  CHECK(fit.mean < other.mean);
  CHECK(fit.share > other.share);
}
