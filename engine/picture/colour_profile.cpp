#include "engine/picture/colour_profile.h"

#include <lcms2.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <vector>

namespace pontata {

namespace {

using Profile = std::unique_ptr<void, decltype(&cmsCloseProfile)>;
using Transform = std::unique_ptr<void, decltype(&cmsDeleteTransform)>;

Profile kept(cmsHPROFILE profile) { return {profile, &cmsCloseProfile}; }

// sRGB's own places (IEC 61966-2-1 = ITU-R BT.709), as cHRM lists them.
constexpr std::array<double, 8> kSrgbPlaces{0.3127, 0.3290, 0.64, 0.33, 0.30, 0.60, 0.15, 0.06};

bool near_srgb(const std::array<double, 8>& places) {
  for (std::size_t k = 0; k < 8; ++k)
    if (std::abs(places[k] - kSrgbPlaces[k]) > 0.0015) return false;
  return true;
}

struct FreeCurve {
  void operator()(cmsToneCurve* curve) const { cmsFreeToneCurve(curve); }
};
using Curve = std::unique_ptr<cmsToneCurve, FreeCurve>;

// sRGB's curve where no gamma is given, or 1/2.2: that is how sRGB is written by numbers (PNG, 11.3.3.5).
Curve curve_of(const std::optional<double>& gamma) {
  if (gamma && std::abs(*gamma - 0.45455) > 0.005) return Curve(cmsBuildGamma(nullptr, 1 / *gamma));
  const double srgb[5] = {2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045};
  return Curve(cmsBuildParametricToneCurve(nullptr, 4, srgb));
}

Profile profile_of(const ColourNumbers& numbers) {
  if (numbers.gamma && !(*numbers.gamma > 0.01 && *numbers.gamma < 100)) return kept(nullptr);
  const auto p = numbers.places && !near_srgb(*numbers.places) ? *numbers.places : kSrgbPlaces;
  const cmsCIExyY white{p[0], p[1], 1};
  const cmsCIExyYTRIPLE primaries{{p[2], p[3], 1}, {p[4], p[5], 1}, {p[6], p[7], 1}};
  const auto curve = curve_of(numbers.gamma);
  if (!curve) return kept(nullptr);
  cmsToneCurve* curves[3] = {curve.get(), curve.get(), curve.get()};
  return kept(cmsCreateRGBProfile(&white, &primaries, curves));
}

// Nothing to convert: no numbers, or sRGB's.
bool plain(const ColourNumbers& n) {
  const bool gamma = n.gamma && std::abs(*n.gamma - 0.45455) > 0.005;
  return !gamma && (!n.places || near_srgb(*n.places));
}

struct Layout {
  int colours, bits;  // into the transform
  cmsUInt32Number in() const {
    if (colours == 1) return bits == 16 ? TYPE_GRAY_16 : TYPE_GRAY_8;
    return bits == 16 ? TYPE_RGB_16 : TYPE_RGB_8;
  }
  cmsUInt32Number out() const { return bits == 16 ? TYPE_RGB_16 : TYPE_RGB_8; }
};

Transform to_srgb(cmsHPROFILE from, Layout layout, cmsUInt32Number flags) {
  const auto srgb = kept(cmsCreate_sRGBProfile());
  return {cmsCreateTransform(from, layout.in(), srgb.get(), layout.out(), INTENT_RELATIVE_COLORIMETRIC,
                             flags | cmsFLAGS_BLACKPOINTCOMPENSATION | cmsFLAGS_NOCACHE),
          &cmsDeleteTransform};
}

std::uint8_t rounded(std::uint16_t v) { return static_cast<std::uint8_t>((v * 255u + 32767u) / 65535u); }

// Colours all over, with more of them where it is dark: 16-bit samples, or 8-bit ones.
template <class Sample>
std::vector<Sample> probes(int colours) {
  constexpr int kSteps = 16;
  const auto step = [](int k) {
    const double t = k / (kSteps - 1.0);
    return static_cast<Sample>(std::lround(std::pow(t, 1.6) * std::numeric_limits<Sample>::max()));
  };
  std::vector<Sample> all;
  for (int v = 0; v < 1024; ++v)
    for (int c = 0; c < colours; ++c) all.push_back(static_cast<Sample>(std::numeric_limits<Sample>::max() * v / 1023));
  if (colours == 1) return all;
  for (int r = 0; r < kSteps; ++r)
    for (int g = 0; g < kSteps; ++g)
      for (int b = 0; b < kSteps; ++b)
        for (const int k : {r, g, b}) all.push_back(step(k));
  return all;
}

// Largest difference of two runs, in 8-bit levels.
template <class Sample>
double difference(const std::vector<Sample>& a, const std::vector<Sample>& b) {
  double worst = 0;
  for (std::size_t k = 0; k < a.size(); ++k)
    worst = std::max(worst, std::abs(static_cast<double>(a[k]) - static_cast<double>(b[k])));
  return worst * 255 / std::numeric_limits<Sample>::max();
}

// lcms shortens a transform to tables. They are taken where they keep within a level on the probes; else every pixel
// goes the long way.
template <class Sample>
Transform truest(cmsHPROFILE from, Layout layout, bool& changes) {
  auto quick = to_srgb(from, layout, cmsFLAGS_HIGHRESPRECALC), exact = to_srgb(from, layout, cmsFLAGS_NOOPTIMIZE);
  if (!quick || !exact) return {nullptr, &cmsDeleteTransform};
  const auto in = probes<Sample>(layout.colours);
  const auto count = in.size() / static_cast<std::size_t>(layout.colours);
  std::vector<Sample> by_table(3 * count), by_hand(3 * count), same(3 * count);
  cmsDoTransform(quick.get(), in.data(), by_table.data(), static_cast<cmsUInt32Number>(count));
  cmsDoTransform(exact.get(), in.data(), by_hand.data(), static_cast<cmsUInt32Number>(count));
  for (std::size_t k = 0; k < same.size(); ++k) same[k] = layout.colours == 3 ? in[k] : in[k / 3];
  changes = difference(by_hand, same) > 1;
  return difference(by_table, by_hand) > (sizeof(Sample) == 1 ? 1.0 : 0.5) ? std::move(exact) : std::move(quick);
}

}  // namespace

struct ToSrgb::Parts {
  int width = 0, colours = 3, bits = 8;  // of the picture
  bool opacity = false;
  int wide = 3;  // colours into the transform: a grey picture may go through a profile of three
  Transform transform{nullptr, &cmsDeleteTransform};
  std::vector<std::uint8_t> into, out_of;

  template <class Sample>
  void run(const std::uint8_t* from, std::uint8_t* rgba);
};

namespace {

template <class Sample>
Sample sample_at(const std::uint8_t* from, std::size_t k) {
  Sample v;
  std::memcpy(&v, from + sizeof(Sample) * k, sizeof(Sample));
  return v;
}

std::uint8_t to_8(std::uint8_t v) { return v; }
std::uint8_t to_8(std::uint16_t v) { return rounded(v); }

}  // namespace

template <class Sample>
void ToSrgb::Parts::run(const std::uint8_t* from, std::uint8_t* rgba) {
  const auto n = static_cast<std::size_t>(width), in = static_cast<std::size_t>(colours);
  const std::size_t step = in + (opacity ? 1 : 0), w = static_cast<std::size_t>(wide);
  const auto colour = [&](std::size_t k, std::size_t c) {
    return sample_at<Sample>(from, k * step + (in == 1 ? 0 : c));
  };
  if (transform) {
    into.resize(n * w * sizeof(Sample));
    out_of.resize(n * 3 * sizeof(Sample));
    for (std::size_t k = 0; k < n; ++k)
      for (std::size_t c = 0; c < w; ++c) {
        const Sample v = colour(k, c);
        std::memcpy(into.data() + sizeof(Sample) * (w * k + c), &v, sizeof v);
      }
    cmsDoTransform(transform.get(), into.data(), out_of.data(), static_cast<cmsUInt32Number>(n));
  }
  for (std::size_t k = 0; k < n; ++k, rgba += 4) {
    for (std::size_t c = 0; c < 3; ++c)
      rgba[c] = to_8(transform ? sample_at<Sample>(out_of.data(), 3 * k + c) : colour(k, c));
    rgba[3] = opacity ? to_8(sample_at<Sample>(from, k * step + in)) : std::uint8_t{255};
  }
}

Problem bad_profile(const std::string& path) {
  return {"the colour profile of the picture is damaged or does not belong to it", path,
          "Save the picture again with the profile sRGB."};
}

ToSrgb::ToSrgb(std::unique_ptr<Parts> parts) : parts_(std::move(parts)) {}
ToSrgb::ToSrgb(ToSrgb&&) noexcept = default;
ToSrgb& ToSrgb::operator=(ToSrgb&&) noexcept = default;
ToSrgb::~ToSrgb() = default;

Result<ToSrgb> ToSrgb::make(const PictureHead& head) {
  auto parts = std::make_unique<Parts>();
  parts->width = head.width, parts->colours = head.colours, parts->bits = head.bits, parts->opacity = head.opacity;
  if (head.profile.empty() && plain(head.numbers)) return ToSrgb(std::move(parts));
  const auto profile =
      head.profile.empty()
          ? profile_of(head.numbers)
          : kept(cmsOpenProfileFromMem(head.profile.data(), static_cast<cmsUInt32Number>(head.profile.size())));
  if (!profile) return bad_profile(head.path);
  const auto space = cmsGetColorSpace(profile.get());
  const bool fits = space == cmsSigRgbData || (space == cmsSigGrayData && head.colours == 1);
  if (!fits) return bad_profile(head.path);
  parts->wide = space == cmsSigGrayData ? 1 : 3;
  const Layout layout{parts->wide, head.bits};
  bool changes = true;
  parts->transform = head.bits == 16 ? truest<std::uint16_t>(profile.get(), layout, changes)
                                     : truest<std::uint8_t>(profile.get(), layout, changes);
  if (!parts->transform) return bad_profile(head.path);
  if (!changes) parts->transform.reset();
  return ToSrgb(std::move(parts));
}

void ToSrgb::row(const std::uint8_t* from, std::uint8_t* rgba) {
  if (parts_->bits == 16) return parts_->run<std::uint16_t>(from, rgba);
  parts_->run<std::uint8_t>(from, rgba);
}

}  // namespace pontata
