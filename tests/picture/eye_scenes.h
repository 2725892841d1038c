// Walls with something before them, and a design of dots made for an eye.
#pragma once

#include <numbers>

#include "engine/picture/draped.h"
#include "engine/wall/shape_point.h"
#include "tests/fixtures/pictures.h"
#include "tests/fixtures/random_places.h"
#include "tests/fixtures/walls.h"

namespace pontata::fixtures {

// A wall of known shape, seen by an eye past a screen: a flat wall with a round hole, or without one. What the screen
// hides is known in closed form.
struct EyeScene {
  ShapeSpec spec;
  Placement3 placement;
  WallRef wall, screen;
  Vec3 eye, look, up;
  Vec3 corner, right, rise;  // of the screen: its lower left corner, unit directions
  double width = 0, height = 0;
  Vec2 hole{0, 0};
  double hole_radius = 0;

  ShapePoint exact(ChartPoint p) const {
    const auto own = shape_point(spec, to_vec(p));
    return {apply(placement, own.place), apply_direction(placement, own.normal)};
  }
  // How far (m, measured on the screen) the line from the eye to a place passes inside the screen's stuff: negative
  // where it passes clear of it.
  double behind_screen(const Vec3& place) const {
    const Vec3 normal = glm::cross(right, rise), d = place - eye;
    const double t = glm::dot(corner - eye, normal) / glm::dot(d, normal);
    if (!(t > 0 && t < 1)) return -1;
    const Vec3 q = eye + t * d - corner;
    const double x = glm::dot(q, right), y = glm::dot(q, rise);
    double inside = std::min(std::min(x, width - x), std::min(y, height - y));
    if (hole_radius > 0) inside = std::min(inside, glm::length(Vec2(x, y) - hole) - hole_radius);
    return inside;
  }
};

// A barrel seen from the floor through a round hole in a wall that stands across it.
inline EyeScene barrel_scene() {
  EyeScene s;
  s.spec = barrel_spec(4, 6, 2);
  s.placement = {{1, 2, 3}, 20};
  s.wall = build_wall(s.spec, s.placement, "barrel").value();
  s.eye = apply(s.placement, {-3, 0.6, -1.4});
  s.look = apply(s.placement, {4, 0.1, 1.2});
  s.up = {0, 0, 1};
  // A flat wall lies in the plane y = 0 of its own frame, (u, v) = (x, z); turned so that it stands across the axis.
  s.width = 5, s.height = 5, s.hole = {2.4, 3.0}, s.hole_radius = 0.7;
  const Placement3 across{apply(s.placement, {-0.5, -2.5, -3}), s.placement.turn_deg + 90};
  const Opening hole = [&] {
    Opening one;
    one.kind = OpeningKind::round;
    one.at = {s.hole.x, s.hole.y};
    one.width = 2 * s.hole_radius;
    return one;
  }();
  s.screen = build_wall(flat_spec(s.width, s.height), across, "screen", 0, std::vector{hole}).value();
  s.corner = apply(across, {0, 0, 0}), s.right = apply_direction(across, {1, 0, 0}), s.rise = {0, 0, 1};
  return s;
}

// A dome seen from the floor aside of its middle, past the edge of a wall that hides part of it.
inline EyeScene dome_scene() {
  EyeScene s;
  s.spec = dome_spec(6, 3);
  s.placement = {{-2, 5, 4}, -35};
  s.wall = build_wall(s.spec, s.placement, "dome").value();
  s.eye = apply(s.placement, {-0.8, 0.5, -3});
  s.look = apply(s.placement, {0.4, 0, 3});
  s.up = apply_direction(s.placement, {1, 0, 0});
  s.width = 4, s.height = 2.2;
  const Placement3 beside{apply(s.placement, {0.3, -2, -2.2}), s.placement.turn_deg + 90};
  s.screen = build_wall(flat_spec(s.width, s.height), beside, "screen").value();
  s.corner = apply(beside, {0, 0, 0}), s.right = apply_direction(beside, {1, 0, 0}), s.rise = {0, 0, 1};
  return s;
}

// Round black dots on white with soft rims, at given pixels.
inline Image dots(PictureSize size, const std::vector<Vec2>& middles, double radius) {
  Image image{size.width, size.height, {}};
  image.rgb.assign(static_cast<std::size_t>(3) * static_cast<std::size_t>(size.width * size.height), 255);
  for (const Vec2& m : middles)
    for (int y = static_cast<int>(m.y - radius - 2); y <= static_cast<int>(m.y + radius + 2); ++y)
      for (int x = static_cast<int>(m.x - radius - 2); x <= static_cast<int>(m.x + radius + 2); ++x) {
        const double ink = std::clamp(radius + 0.5 - glm::length(Vec2(x + 0.5, y + 0.5) - m), 0.0, 1.0);
        for (int c = 0; c < 3; ++c) {
          auto& v = image.rgb[static_cast<std::size_t>(3 * (y * size.width + x) + c)];
          v = std::min(v, static_cast<std::uint8_t>(std::lround(255 * (1 - ink))));
        }
      }
  return image;
}

}  // namespace pontata::fixtures
