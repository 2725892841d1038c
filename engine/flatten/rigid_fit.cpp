#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "engine/flatten/flattening.h"

namespace pontata {

// Based on: Umeyama, "Least-squares estimation of transformation parameters between two point patterns", 1991; in the
// plane the rotation is the angle of the summed products.
RigidFit fit_rigid(std::span<const Vec2> from, std::span<const Vec2> to) {
  if (from.size() != to.size()) throw std::logic_error("fit_rigid: lists of different length");
  RigidFit fit;
  if (from.empty()) return fit;
  Vec2 a{0, 0}, b{0, 0};
  for (std::size_t i = 0; i < from.size(); ++i) a += from[i], b += to[i];
  a /= static_cast<double>(from.size()), b /= static_cast<double>(from.size());
  double c = 0, s = 0;
  for (std::size_t i = 0; i < from.size(); ++i)
    c += glm::dot(from[i] - a, to[i] - b), s += cross2(from[i] - a, to[i] - b);
  fit.angle = c == 0 && s == 0 ? 0 : std::atan2(s, c);
  const Vec2 turn{std::cos(fit.angle), std::sin(fit.angle)};
  const auto turned = [&](Vec2 p) { return Vec2{turn.x * p.x - turn.y * p.y, turn.y * p.x + turn.x * p.y}; };
  fit.shift = b - turned(a);
  for (std::size_t i = 0; i < from.size(); ++i)
    fit.worst = std::max(fit.worst, glm::distance(turned(from[i]) + fit.shift, to[i]));
  return fit;
}

}  // namespace pontata
