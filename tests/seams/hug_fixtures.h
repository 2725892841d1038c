// Grounds to hug on, clicks round figures, and measures of the lines that come of them.
#pragma once

#include <algorithm>
#include <cmath>
#include <memory>
#include <random>
#include <vector>

#include "engine/base/predicates.h"
#include "engine/seams/hug.h"
#include "tests/fixtures/figures.h"
#include "tests/fixtures/pictures.h"
#include "tests/fixtures/walls.h"

namespace pontata::fixtures {

inline constexpr double kNear = 0.001;  // m: the mean distance from the true contour that is asked for

inline Network border_of(const ChartedWall& wall) {
  return Network::from_border(wall.chart->border_rings(), wall.metric->meter()).value();
}

inline std::shared_ptr<HugGround> ground_of(WallRef wall, std::shared_ptr<const ContourField> contours = nullptr) {
  auto ground = std::make_shared<HugGround>();
  ground->network = border_of(*wall);
  ground->wall = std::move(wall);
  ground->contours = std::move(contours);
  return ground;
}

// The wall with a square picture of the figure, `side` chart metres wide about `middle`, one pixel a millimetre.
inline std::shared_ptr<HugGround> drawn_ground(const WallRef& wall, Vec2 middle, double side, const Figure& figure) {
  const PictureFrame frame{{middle.x - side / 2, middle.y - side / 2}, side, side, 0};
  const int pixels = static_cast<int>(std::lround(side * 1000));
  const auto on_wall = draped(wall, drawn(frame, pixels, pixels, figure), frame, 0.001);
  return ground_of(wall, std::make_shared<ContourField>(contour_field(*on_wall)));
}

// The wall with a square picture, one pixel a millimetre, of overlapping blobs in many colours.
inline std::shared_ptr<HugGround> busy_ground(const WallRef& wall, Vec2 middle, double side, unsigned seed) {
  const PictureFrame frame{{middle.x - side / 2, middle.y - side / 2}, side, side, 0};
  const int pixels = static_cast<int>(std::lround(side * 1000));
  const auto count = static_cast<std::size_t>(pixels) * static_cast<std::size_t>(pixels);
  Image image{pixels, pixels, std::vector<std::uint8_t>(3 * count, 200)};
  std::mt19937 rng(seed);
  const auto random = [&](double a, double b) { return a + (b - a) * static_cast<double>(rng()) / 4294967295.0; };
  for (int f = 0; f < 14; ++f) {
    const Vec2 at = middle + side * Vec2(random(-0.5, 0.5), random(-0.5, 0.5));
    const auto figure = blob(at, random(0.05, 0.25) * side, random(0, 0.3), 2 + static_cast<int>(rng() % 6));
    const std::uint8_t colour[3] = {static_cast<std::uint8_t>(rng()), static_cast<std::uint8_t>(rng()),
                                    static_cast<std::uint8_t>(rng())};
    for (std::size_t k = 0; k < count; ++k) {
      const Vec2 pixel(static_cast<double>(k % static_cast<std::size_t>(pixels)) + 0.5,
                       static_cast<double>(k / static_cast<std::size_t>(pixels)) + 0.5);
      if (figure.inside(to_vec(from_pixel(frame, image, pixel))))
        std::copy(colour, colour + 3, image.rgb.begin() + 3 * static_cast<std::ptrdiff_t>(k));
    }
  }
  return ground_of(wall, std::make_shared<ContourField>(contour_field(*draped(wall, image, frame, 0.001))));
}

inline std::vector<ChartPoint> clicks(const Figure& figure, int count, double jitter = 0) {
  std::mt19937 rng(2);
  std::normal_distribution<double> shake(0, jitter > 0 ? jitter : 1);
  std::vector<ChartPoint> points;
  for (int k = 0; k < count; ++k) {
    auto p = figure.at((k + 0.3) / count);
    if (jitter > 0) p = {p.u + shake(rng), p.v + shake(rng)};
    points.push_back(p);
  }
  return points;
}

inline Ring ring_of(const std::vector<ChartPoint>& line) {
  Ring ring;
  for (const auto& p : line) ring.push_back(to_lattice(p));
  return ring;
}

// Exact: no two pieces of the open line share more than the point between neighbours.
inline bool simple_line(const std::vector<ChartPoint>& line) {
  const Ring r = ring_of(line);
  for (std::size_t a = 0; a + 1 < r.size(); ++a) {
    for (std::size_t b = a + 2; b + 1 < r.size(); ++b) {
      if (segments_meet(r[a], r[a + 1], r[b], r[b + 1])) return false;
    }
    if (a + 2 < r.size() && on_segment(r[a], r[a + 1], r[a + 2])) return false;
  }
  return true;
}

inline bool holds(const std::vector<ChartPoint>& line, ChartPoint p) {
  return std::find(line.begin(), line.end(), p) != line.end();
}

inline double surface_length(const ChartedWall& wall, const std::vector<ChartPoint>& line, bool closed) {
  double sum = 0;
  for (std::size_t k = 0; k + (closed ? 0 : 1) < line.size(); ++k) {
    sum += wall.metric->measure(to_lattice(line[k]), to_lattice(line[(k + 1) % line.size()])).length_m;
  }
  return sum;
}

// Greatest chart distance from the points of one line, taken every millimetre, to another.
inline double apart(const std::vector<ChartPoint>& from, const std::vector<ChartPoint>& to) {
  double most = 0;
  for (std::size_t k = 0; k + 1 < from.size(); ++k) {
    const Vec2 a = to_vec(from[k]), d = to_vec(from[k + 1]) - a;
    const int parts = std::max(1, static_cast<int>(glm::length(d) / 0.001));
    for (int s = 0; s <= parts; ++s) {
      const Vec2 p = a + d * (static_cast<double>(s) / parts);
      double best = 1e9;
      for (std::size_t n = 0; n + 1 < to.size(); ++n) {
        const Vec2 b = to_vec(to[n]), e = to_vec(to[n + 1]) - b;
        const double t = glm::dot(e, e) > 0 ? std::clamp(glm::dot(p - b, e) / glm::dot(e, e), 0.0, 1.0) : 0;
        best = std::min(best, glm::length(p - b - e * t));
      }
      most = std::max(most, best);
    }
  }
  return most;
}

}  // namespace pontata::fixtures
