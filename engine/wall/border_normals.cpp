#include "engine/wall/border_normals.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>
#include <queue>
#include <span>
#include <utility>

namespace pontata {

namespace {

constexpr double kTrusted = 2.5;   // reaches from the border on, diffusion is right
constexpr double kRadius = 1.3;    // wavelengths: where fits look
constexpr double kCell = 0.25;     // wavelengths: places nearer than this are one sample
constexpr double kMostTurn = 0.1;  // radians
constexpr std::size_t kLeastSamples = 6;
constexpr double kFar = std::numeric_limits<double>::infinity();

using Cell = std::array<std::int32_t, 3>;

Cell cell_of(const Vec3& p, double size) {
  return {static_cast<std::int32_t>(std::floor(p.x / size)), static_cast<std::int32_t>(std::floor(p.y / size)),
          static_cast<std::int32_t>(std::floor(p.z / size))};
}

// The ends of the triangles' sides that start at each point, in one list.
struct Sides {
  std::vector<std::uint32_t> start, ends;

  Sides(const std::vector<Triangle>& triangles, std::size_t points) : start(points + 1, 0), ends(3 * triangles.size()) {
    for (const Triangle& t : triangles)
      for (const auto corner : t) ++start[corner + 1];
    for (std::size_t i = 0; i < points; ++i) start[i + 1] += start[i];
    auto next = start;
    for (const Triangle& t : triangles)
      for (std::size_t k = 0; k < 3; ++k) ends[next[t[k]]++] = t[(k + 1) % 3];
  }
  std::span<const std::uint32_t> from(std::uint32_t p) const {
    return std::span(ends).subspan(start[p], start[p + 1] - start[p]);
  }
  bool is_border(std::uint32_t p, std::uint32_t q) const {  // no triangle on the other side
    const auto back = from(q);
    return std::find(back.begin(), back.end(), p) == back.end();
  }
};

// m along edges from the border, up to `most`; infinity beyond.
std::vector<double> distances(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles, double most) {
  const Sides sides(triangles, points.size());
  std::vector<double> distance(points.size(), kFar);
  using Item = std::pair<double, std::uint32_t>;
  std::priority_queue<Item, std::vector<Item>, std::greater<>> queue;
  const auto reach = [&](std::uint32_t p, double d) {
    if (d < most && d < distance[p]) distance[p] = d, queue.push({d, p});
  };
  for (std::uint32_t p = 0; p < points.size(); ++p)
    for (const auto q : sides.from(p))
      if (sides.is_border(p, q)) reach(p, 0), reach(q, 0);
  while (!queue.empty()) {
    const auto [d, p] = queue.top();
    queue.pop();
    if (d > distance[p]) continue;
    for (const auto q : sides.from(p)) reach(q, d + glm::length(points[q] - points[p]));
  }
  return distance;
}

struct Sample {
  Cell block;  // of kRadius
  Vec3 place, normal;
};

// Means of the places that diffusion got right, one per small cell and side of the surface, sorted by block.
std::vector<Sample> make_samples(const std::vector<Vec3>& points, const std::vector<Vec3>& normals,
                                 const std::vector<double>& distance, double wavelength) {
  std::vector<std::pair<Cell, std::uint32_t>> order;
  for (std::uint32_t i = 0; i < points.size(); ++i)
    if (distance[i] == kFar) order.push_back({cell_of(points[i], kCell * wavelength), i});
  std::sort(order.begin(), order.end());
  std::vector<Sample> samples;
  for (std::size_t i = 0; i < order.size();) {
    const Vec3 first = normals[order[i].second];
    Vec3 place{0, 0, 0}, normal{0, 0, 0};
    double n = 0;
    const Cell cell = order[i].first;
    for (; i < order.size() && order[i].first == cell; ++i) {
      const auto p = order[i].second;
      if (glm::dot(normals[p], first) < 0.5) continue;
      place += points[p], normal += normals[p], n += 1;
    }
    place /= n;
    samples.push_back({cell_of(place, kRadius * wavelength), place, glm::normalize(normal)});
  }
  std::sort(samples.begin(), samples.end(), [](const Sample& a, const Sample& b) { return a.block < b.block; });
  return samples;
}

class Fitter {
 public:
  Fitter(std::vector<Sample> samples, double radius) : samples_(std::move(samples)), radius_(radius) {}

  // The fitted normal at a place with about this normal; the same normal where there is nothing to fit.
  Vec3 at(const Vec3& place, const Vec3& about) const {
    const Vec3 helper = std::abs(about.z) < 0.7 ? Vec3{0, 0, 1} : Vec3{1, 0, 0};
    const Vec3 u = glm::normalize(glm::cross(helper, about)), v = glm::cross(about, u);
    double m[6] = {};  // sums of w (1, x, y)(1, x, y)^T: 1, x, y, xx, xy, yy
    Vec3 right[3] = {Vec3{0, 0, 0}, Vec3{0, 0, 0}, Vec3{0, 0, 0}};
    std::size_t count = 0;
    visit(place, [&](const Sample& s) {
      const Vec3 off = s.place - place;
      const double far = glm::dot(off, off) / (radius_ * radius_);
      if (far >= 1 || glm::dot(s.normal, about) < 0.5 || std::abs(glm::dot(off, about)) > 0.5 * radius_) return;
      const double w = (1 - far) * (1 - far), x = glm::dot(off, u), y = glm::dot(off, v);
      const double terms[6] = {1, x, y, x * x, x * y, y * y};
      for (int k = 0; k < 6; ++k) m[k] += w * terms[k];
      for (int k = 0; k < 3; ++k) right[k] += w * terms[k] * s.normal;
      ++count;
    });
    if (count < kLeastSamples) return about;
    const double xx = m[3] * m[0] - m[1] * m[1], xy = m[4] * m[0] - m[1] * m[2], yy = m[5] * m[0] - m[2] * m[2];
    const double determinant = xx * yy - xy * xy;
    if (!(determinant > 1e-4 * (xx + yy) * (xx + yy))) return about;
    const Vec3 rx = m[0] * right[1] - m[1] * right[0], ry = m[0] * right[2] - m[2] * right[0];
    const Vec3 gx = (yy * rx - xy * ry) / determinant, gy = (xx * ry - xy * rx) / determinant;
    const Vec3 fit = glm::normalize((right[0] - m[1] * gx - m[2] * gy) / m[0]);
    return glm::length(fit - about) <= kMostTurn ? fit : about;
  }

 private:
  template <class F>
  void visit(const Vec3& place, F&& f) const {
    const Cell middle = cell_of(place, radius_);
    for (int x = -1; x <= 1; ++x)
      for (int y = -1; y <= 1; ++y)
        for (int z = -1; z <= 1; ++z) {
          const Cell block{middle[0] + x, middle[1] + y, middle[2] + z};
          auto s = std::lower_bound(samples_.begin(), samples_.end(), block,
                                    [](const Sample& a, const Cell& b) { return a.block < b; });
          for (; s != samples_.end() && s->block == block; ++s) f(*s);
        }
  }

  std::vector<Sample> samples_;
  double radius_;
};

}  // namespace

void straighten_border_normals(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles,
                               double wavelength, std::vector<Vec3>& normals) {
  if (!(wavelength > 0)) return;
  const double trusted = kTrusted * wavelength / (2 * std::numbers::pi);
  const auto distance = distances(points, triangles, trusted);
  const Fitter fitter(make_samples(points, normals, distance, wavelength), kRadius * wavelength);
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (distance[i] == kFar) continue;
    const double blend = std::min(1.0, 2 * (1 - distance[i] / trusted));
    normals[i] = glm::normalize(normals[i] + blend * (fitter.at(points[i], normals[i]) - normals[i]));
  }
}

}  // namespace pontata
