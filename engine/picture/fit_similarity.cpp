#include "engine/picture/fit_similarity.h"

#include <complex>
#include <numbers>

namespace pontata {

namespace {

using Complex = std::complex<double>;

// Sums about the middles: pixels q (y turned up) and places p as complex numbers.
struct Moments {
  Complex q_middle, p_middle;
  double qq = 0, pp = 0;
  Complex straight, mirrored;  // sum of conj(p) q; of p q
};

Moments moments(std::span<const PlanePair> pairs) {
  Moments m;
  for (const auto& pair : pairs) {
    m.q_middle += Complex(pair.pixel.x, -pair.pixel.y);
    m.p_middle += Complex(pair.place.x, pair.place.y);
  }
  m.q_middle /= static_cast<double>(pairs.size());
  m.p_middle /= static_cast<double>(pairs.size());
  for (const auto& pair : pairs) {
    const Complex q = Complex(pair.pixel.x, -pair.pixel.y) - m.q_middle;
    const Complex p = Complex(pair.place.x, pair.place.y) - m.p_middle;
    m.qq += std::norm(q);
    m.pp += std::norm(p);
    m.straight += std::conj(p) * q;
    m.mirrored += p * q;
  }
  return m;
}

}  // namespace

Result<PictureFrame> fit_similarity(PictureSize picture, std::span<const PlanePair> pairs) {
  if (pairs.size() < 2)
    return Problem{"one point does not say how large the picture is", "the points", "Mark two points or more."};
  const auto m = moments(pairs);
  // q - q_middle = a (p - p_middle); least squares in q.
  const Complex a = m.straight / m.pp;
  if (!(m.pp > 0) || !(m.qq > 0) || !(std::abs(a) * std::sqrt(m.pp) > 1e-6 * std::sqrt(m.qq)))
    return Problem{"the points do not say how large the picture is", "the points",
                   "Mark places that lie well apart, in the same order on the picture and on the wall."};
  const Complex lower_left(0, -static_cast<double>(picture.height));
  const Complex at = m.p_middle + (lower_left - m.q_middle) / a;
  PictureFrame frame;
  frame.at = {at.real(), at.imag()};
  frame.width = picture.width / std::abs(a);
  frame.height = picture.height / std::abs(a);
  frame.turn_deg = -std::arg(a) * 180 / std::numbers::pi;
  return frame;
}

bool looks_mirrored(std::span<const PlanePair> pairs) {
  if (pairs.size() < 3) return false;
  const auto m = moments(pairs);
  if (!(m.pp > 0)) return false;
  const double straight = m.qq - std::norm(m.straight) / m.pp, mirrored = m.qq - std::norm(m.mirrored) / m.pp;
  return std::max(mirrored, 1e-6 * m.qq) < 0.25 * straight;
}

}  // namespace pontata
