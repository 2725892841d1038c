// Colour profiles: against closed forms of the standards, and against ImageMagick (both sides by lcms there).
#include <lcms2.h>

#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "tests/fixtures/picture_files.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

using Colour = std::array<double, 3>;
using Matrix = std::array<Colour, 3>;

Matrix inverse(const Matrix& m) {
  Matrix out;
  const auto minor = [&](std::size_t r, std::size_t c) {
    const std::size_t a = (r + 1) % 3, b = (r + 2) % 3, d = (c + 1) % 3, e = (c + 2) % 3;
    return m[a][d] * m[b][e] - m[a][e] * m[b][d];
  };
  const double det = m[0][0] * minor(0, 0) + m[0][1] * minor(0, 1) + m[0][2] * minor(0, 2);
  for (std::size_t r = 0; r < 3; ++r)
    for (std::size_t c = 0; c < 3; ++c) out[c][r] = minor(r, c) / det;
  return out;
}
Colour times(const Matrix& m, const Colour& v) {
  Colour out{};
  for (std::size_t r = 0; r < 3; ++r)
    for (std::size_t c = 0; c < 3; ++c) out[r] += m[r][c] * v[c];
  return out;
}
// XYZ from linear colours of primaries with this white (x, y pairs): SMPTE RP 177, 1993.
Matrix xyz_from(const std::array<double, 8>& p) {
  Matrix m{};
  for (std::size_t k = 0; k < 3; ++k) {
    const double x = p[2 + 2 * k], y = p[3 + 2 * k];
    m[0][k] = x / y, m[1][k] = 1, m[2][k] = (1 - x - y) / y;
  }
  const Colour share = times(inverse(m), {p[0] / p[1], 1, (1 - p[0] - p[1]) / p[1]});
  for (auto& row : m)
    for (std::size_t k = 0; k < 3; ++k) row[k] *= share[k];
  return m;
}
// Bradford's adaptation of white a to white b (ICC.1:2010, annex E.3).
Matrix adapted(const Colour& a, const Colour& b) {
  const Matrix cone{{{0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}}};
  const Colour from = times(cone, a), to = times(cone, b);
  Matrix out{};
  const Matrix back = inverse(cone);
  for (std::size_t r = 0; r < 3; ++r)
    for (std::size_t c = 0; c < 3; ++c)
      for (std::size_t k = 0; k < 3; ++k) out[r][c] += back[r][k] * to[k] / from[k] * cone[k][c];
  return out;
}

constexpr std::array<double, 8> kSrgb{0.3127, 0.3290, 0.64, 0.33, 0.30, 0.60, 0.15, 0.06};             // IEC 61966-2-1
constexpr std::array<double, 8> kWide{0.3127, 0.3290, 0.64, 0.33, 0.21, 0.71, 0.15, 0.06};             // IEC 61966-2-5
constexpr std::array<double, 8> kD50{0.3457, 0.3585, 0.7347, 0.2653, 0.1596, 0.8404, 0.0366, 0.0001};  // ISO 22028-2

double encoded(double v) {  // IEC 61966-2-1
  v = std::clamp(v, 0.0, 1.0);
  return v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1 / 2.4) - 0.055;
}
Colour white_of(const std::array<double, 8>& p) { return {p[0] / p[1], 1, (1 - p[0] - p[1]) / p[1]}; }

// What samples 0..1 of a space with a plain gamma are in sRGB, 0..255.
Colour in_srgb(const Colour& sample, const std::array<double, 8>& places, double gamma) {
  Colour linear;
  for (std::size_t c = 0; c < 3; ++c) linear[c] = std::pow(sample[c], gamma);
  const Colour xyz = times(adapted(white_of(places), white_of(kSrgb)), times(xyz_from(places), linear));
  Colour out = times(inverse(xyz_from(kSrgb)), xyz);
  for (auto& v : out) v = 255 * encoded(v);
  return out;
}

std::string saved(cmsHPROFILE profile) {
  cmsUInt32Number size = 0;
  cmsSaveProfileToMem(profile, nullptr, &size);
  std::string out(size, '\0');
  cmsSaveProfileToMem(profile, out.data(), &size);
  cmsCloseProfile(profile);
  return out;
}
std::string rgb_profile(const std::array<double, 8>& p, double gamma) {
  const cmsCIExyY white{p[0], p[1], 1};
  const cmsCIExyYTRIPLE primaries{{p[2], p[3], 1}, {p[4], p[5], 1}, {p[6], p[7], 1}};
  cmsToneCurve* curve = cmsBuildGamma(nullptr, gamma);
  cmsToneCurve* curves[3] = {curve, curve, curve};
  const auto profile = cmsCreateRGBProfile(&white, &primaries, curves);
  cmsFreeToneCurve(curve);
  return saved(profile);
}
std::string grey_profile(double gamma) {
  const cmsCIExyY white{0.3457, 0.3585, 1};
  cmsToneCurve* curve = cmsBuildGamma(nullptr, gamma);
  const auto profile = cmsCreateGrayProfile(&white, curve);
  cmsFreeToneCurve(curve);
  return saved(profile);
}

std::string iccp(const std::string& profile) { return png_chunk("iCCP", std::string("p\0\0", 3) + deflated(profile)); }

// Colours on a grid of 9 a side, 8 bits, 27 x 27 pixels.
std::vector<std::uint8_t> grid() {
  std::vector<std::uint8_t> out;
  for (int k = 0; k < 729; ++k)
    for (const int v : {k % 9, k / 9 % 9, k / 81}) out.push_back(static_cast<std::uint8_t>(v * 255 / 8));
  return out;
}
std::string rgb_png(const std::vector<std::uint8_t>& rgb, int side, const std::string& more) {
  std::string rows;
  for (int y = 0; y < side; ++y)
    rows += '\0' + std::string(rgb.begin() + 3 * side * y, rgb.begin() + 3 * side * (y + 1));
  return png_file(static_cast<std::uint32_t>(side), static_cast<std::uint32_t>(side), 8, 2, rows, more);
}

double worst_from(const std::vector<std::uint8_t>& ours, const std::vector<std::uint8_t>& rgb,
                  const std::array<double, 8>& places, double gamma) {
  double worst = 0;
  for (std::size_t k = 0; k < rgb.size() / 3; ++k) {
    const Colour want = in_srgb({rgb[3 * k] / 255.0, rgb[3 * k + 1] / 255.0, rgb[3 * k + 2] / 255.0}, places, gamma);
    for (std::size_t c = 0; c < 3; ++c) worst = std::max(worst, std::abs(ours[4 * k + c] - want[c]));
  }
  return worst;
}

std::vector<std::uint8_t> pixels_in(const std::string& path) {
  const auto picture = read_picture(path);
  INFO(path);
  REQUIRE(picture.ok());
  return pixels_of(**picture);
}

}  // namespace

TEST_CASE("a profile in PNG, JPEG and TIFF is converted as the standards' closed forms say") {
  const PictureFolder folder;
  const auto rgb = grid();
  const struct {
    std::array<double, 8> places;
    double gamma;
  } spaces[] = {{kWide, 2.19921875}, {kD50, 1.8}, {kSrgb, 1.0}};
  for (const auto& space : spaces) {
    const auto profile = rgb_profile(space.places, space.gamma);
    CHECK(worst_from(pixels_in(put(folder.file("a.png"), rgb_png(rgb, 27, iccp(profile)))), rgb, space.places,
                     space.gamma) < 1.6);
    TiffKind kind;
    kind.profile = profile;
    const auto tiff = pixels_in(tiff_file(folder.file("a.tif"), 27, 27, rgb, kind));
    CHECK(worst_from(tiff, rgb, space.places, space.gamma) < 1.6);
    // In a JPEG what the decoder gives is converted: the same file without its profile.
    const auto plain = jpeg_file(27, 27, rgb, {3, false, 100});
    const auto decoded = pixels_in(put(folder.file("b.jpg"), plain));
    std::vector<std::uint8_t> given;
    for (std::size_t k = 0; k < decoded.size(); ++k)
      if (k % 4 != 3) given.push_back(decoded[k]);
    const auto half = profile.size() / 2;
    const std::string name("ICC_PROFILE\0", 12);
    auto jpeg = with_segment(plain, jpeg_segment(0xe2, name + "\2\2" + profile.substr(half)));
    jpeg = with_segment(jpeg, jpeg_segment(0xe2, name + "\1\2" + profile.substr(0, half)));
    CHECK(worst_from(pixels_in(put(folder.file("a.jpg"), jpeg)), given, space.places, space.gamma) < 1.6);
  }
}

TEST_CASE("16 bits are converted at 16 bits: light measured without gamma keeps its darks") {
  // Linear samples below 1/255: at 8 bits they would all be 0. IEC 61966-2-1 gives what they are.
  const PictureFolder folder;
  std::vector<std::uint8_t> samples;
  std::vector<double> want;
  for (int k = 0; k < 1024; ++k) {
    const int v = k * 257 / 1023 * (k < 512 ? 1 : 200);
    for (int c = 0; c < 3; ++c)
      samples.push_back(static_cast<std::uint8_t>(v & 255)), samples.push_back(static_cast<std::uint8_t>(v >> 8));
    want.push_back(255 * encoded(v / 65535.0));
  }
  TiffKind kind;
  kind.bits = 16;
  kind.profile = rgb_profile(kSrgb, 1.0);
  const auto pixels = pixels_in(tiff_file(folder.file("a.tif"), 32, 32, samples, kind));
  double worst = 0;
  for (std::size_t k = 0; k < want.size(); ++k)
    for (std::size_t c = 0; c < 3; ++c) worst = std::max(worst, std::abs(pixels[4 * k + c] - want[k]));
  CHECK(worst < 1.1);
}

TEST_CASE("as ImageMagick converts by the same profiles") {
  const PictureFolder folder;
  put(folder.file("srgb.icc"), saved(cmsCreate_sRGBProfile()));
  for (const char* depth : {"8", "16"}) {
    for (const auto& profile : {rgb_profile(kWide, 2.19921875), rgb_profile(kD50, 1.8)}) {
      put(folder.file("wide.icc"), profile);
      output_of("convert -size 64x64 plasma:red-blue -depth " + std::string(depth) + " -profile " +
                folder.file("wide.icc") + " " + folder.file("a.tif"));
      const auto theirs = output_of("convert " + folder.file("a.tif") + " -intent Relative -black-point-compensation " +
                                    "-profile " + folder.file("srgb.icc") + " -depth 8 rgba:-");
      const auto ours = pixels_in(folder.file("a.tif"));
      REQUIRE(theirs.size() == ours.size());
      int worst = 0;
      for (std::size_t k = 0; k < ours.size(); ++k)
        worst = std::max(worst, std::abs(ours[k] - static_cast<std::uint8_t>(theirs[k])));
      CHECK(worst <= 1);
    }
  }
}

TEST_CASE("sRGB's own profile leaves every byte as it is") {
  const PictureFolder folder;
  const auto rgb = noise_bytes(3 * 40 * 40);
  const auto pixels = pixels_in(put(folder.file("a.png"), rgb_png(rgb, 40, iccp(saved(cmsCreate_sRGBProfile())))));
  bool same = true;
  for (std::size_t k = 0; k < pixels.size() / 4; ++k)
    same = same && std::equal(pixels.begin() + static_cast<std::ptrdiff_t>(4 * k),
                              pixels.begin() + static_cast<std::ptrdiff_t>(4 * k + 3),
                              rgb.begin() + static_cast<std::ptrdiff_t>(3 * k));
  CHECK(same);
}

TEST_CASE("gamma and primaries by numbers in a PNG, where neither profile nor sRGB is named") {
  const PictureFolder folder;
  const auto rgb = grid();
  const auto gama = [](double g) { return png_chunk("gAMA", big32(static_cast<std::uint32_t>(std::lround(g * 1e5)))); };
  std::string chrm;
  for (const double v : kWide) chrm += big32(static_cast<std::uint32_t>(std::lround(v * 1e5)));
  chrm = png_chunk("cHRM", chrm);
  const auto read = [&](const std::string& more) {
    return pixels_in(put(folder.file("a.png"), rgb_png(rgb, 27, more)));
  };
  CHECK(worst_from(read(gama(1 / 1.8)), rgb, kSrgb, 1.8) < 1.6);
  CHECK(worst_from(read(gama(1 / 1.8) + chrm), rgb, kWide, 1.8) < 1.6);
  const auto plain = read("");
  CHECK(read(gama(0.45455)) == plain);  // that is how sRGB is written by numbers: PNG, 11.3.3.5
  CHECK(read(png_chunk("sRGB", std::string(1, '\0')) + gama(1 / 1.8)) == plain);
  // A profile overrides the numbers.
  const auto profile = iccp(rgb_profile(kWide, 2.19921875));
  CHECK(read(profile + gama(1.0)) == read(profile));
}

TEST_CASE("a grey picture goes by a profile of grey, or of colours") {
  const PictureFolder folder;
  std::string rows;
  for (int y = 0; y < 16; ++y) {
    rows += '\0';
    for (int x = 0; x < 16; ++x) rows += static_cast<char>(16 * y + x);
  }
  for (const auto& profile : {grey_profile(1.8), rgb_profile(kWide, 1.8)}) {
    const auto pixels = pixels_in(put(folder.file("a.png"), png_file(16, 16, 8, 0, rows, iccp(profile))));
    double worst = 0;
    for (int v = 0; v < 256; ++v)
      for (int c = 0; c < 3; ++c)
        worst = std::max(
            worst, std::abs(pixels[static_cast<std::size_t>(4 * v + c)] - 255 * encoded(std::pow(v / 255.0, 1.8))));
    CHECK(worst < 1.6);
  }
}

TEST_CASE("a profile that is damaged or belongs to another kind of picture is refused") {
  const PictureFolder folder;
  const auto rgb = grid();
  const auto refused = [&](const std::string& path) {
    const auto read = read_picture(path);
    REQUIRE_FALSE(read.ok());
    CHECK(read.problem().where == path);
    return read.problem().what.find("colour profile") != std::string::npos;
  };
  const auto whole = rgb_profile(kWide, 2.2);
  CHECK(refused(put(folder.file("a.png"), rgb_png(rgb, 27, iccp(whole.substr(0, 90))))));
  CHECK(refused(put(folder.file("a.png"), rgb_png(rgb, 27, iccp("no profile")))));
  CHECK(refused(put(folder.file("a.png"), rgb_png(rgb, 27, png_chunk("iCCP", "not deflated")))));
  CHECK(refused(put(folder.file("a.png"), rgb_png(rgb, 27, iccp(grey_profile(1.8))))));
  TiffKind kind;
  kind.profile = std::string(300, 'x');
  CHECK(refused(tiff_file(folder.file("a.tif"), 27, 27, rgb, kind)));
  const std::string name("ICC_PROFILE\0", 12);
  const auto jpeg = jpeg_file(27, 27, rgb, {});
  CHECK(refused(put(folder.file("a.jpg"), with_segment(jpeg, jpeg_segment(0xe2, name + "\1\2" + whole)))));
  CHECK(refused(put(folder.file("b.jpg"), with_segment(jpeg, jpeg_segment(0xe2, name + "\1\1" + whole.substr(4))))));
}
