#include "engine/cartoon/level_colours.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace pontata {

namespace {

// Stations of the ramp in CIE L*a*b*, evenly apart in lightness.
constexpr std::array<std::array<double, 3>, 5> kRamp{
    {{95, 0, 12}, {76.75, 4, 38}, {58.5, -16, 22}, {40.25, -14, -12}, {22, 6, -32}}};

double from_lab(double f) { return f > 6.0 / 29 ? f * f * f : 3 * (6.0 / 29) * (6.0 / 29) * (f - 4.0 / 29); }

double gamma(double linear) {
  const double c = std::clamp(linear, 0.0, 1.0);
  return c <= 0.0031308 ? 12.92 * c : 1.055 * std::pow(c, 1 / 2.4) - 0.055;
}

}  // namespace

Colour depth_colour(double share) {
  const double at = std::clamp(share, 0.0, 1.0) * (kRamp.size() - 1);
  const auto k = std::min(static_cast<std::size_t>(at), kRamp.size() - 2);
  std::array<double, 3> lab{};
  for (std::size_t c = 0; c < 3; ++c)
    lab[c] = kRamp[k][c] + (at - static_cast<double>(k)) * (kRamp[k + 1][c] - kRamp[k][c]);
  const double f = (lab[0] + 16) / 116;
  const double x = 0.95047 * from_lab(f + lab[1] / 500), y = from_lab(f), z = 1.08883 * from_lab(f - lab[2] / 200);
  return {gamma(3.2404542 * x - 1.5371385 * y - 0.4985314 * z), gamma(-0.9692660 * x + 1.8760108 * y + 0.0415560 * z),
          gamma(0.0556434 * x - 0.2040259 * y + 1.0572252 * z)};
}

DepthScale depth_scale(double thinnest_mm, double greatest_mm) {
  constexpr double kMostLines = 16;
  DepthScale scale;
  for (const double step : {5.0, 10.0, 20.0, 50.0, 100.0}) {
    scale.step_mm = step;
    scale.from_mm = step * std::floor(thinnest_mm / step);
    scale.to_mm = std::max(step * std::ceil(greatest_mm / step), scale.from_mm + step);
    if (scale.to_mm - scale.from_mm <= kMostLines * step) break;
  }
  return scale;
}

}  // namespace pontata
