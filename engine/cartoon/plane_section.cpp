#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <unordered_map>

#include "engine/cartoon/snapped_lines.h"

namespace pontata {
namespace {

using EdgeKey = std::uint64_t;

EdgeKey key_of(std::uint32_t a, std::uint32_t b) {
  return (static_cast<EdgeKey>(std::min(a, b)) << 32) | std::max(a, b);
}

// A crossing of the plane with a triangle, from one of its edges to another.
struct Crossing {
  std::array<EdgeKey, 2> edge{};
  std::array<ChartPoint, 2> place{};
  bool used = false;
};

class Section {
 public:
  Section(const ChartedWall& wall, std::vector<double> height) : wall_(wall), height_(std::move(height)) {}

  void add(const Triangle& t) {
    Crossing c;
    std::size_t n = 0;
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t a = t[k], b = t[(k + 1) % 3];
      if ((height_[a] < 0) == (height_[b] < 0)) continue;  // a point on the plane counts as above it
      c.edge[n] = key_of(a, b), c.place[n] = place(a, b), ++n;
    }
    if (n != 2) return;
    for (const EdgeKey e : c.edge) by_edge_[e].push_back(crossings_.size());
    crossings_.push_back(c);
  }

  std::vector<std::vector<ChartPoint>> pieces() {
    std::vector<std::vector<ChartPoint>> out;
    for (std::size_t i = 0; i < crossings_.size(); ++i) {
      if (crossings_[i].used) continue;
      std::vector<ChartPoint> back = run(i, 0), ahead = run(i, 1);
      std::reverse(back.begin(), back.end());
      back.insert(back.end(), ahead.begin(), ahead.end());
      out.push_back(std::move(back));
    }
    return out;
  }

 private:
  // The same on either side of the edge, bit for bit.
  ChartPoint place(std::uint32_t a, std::uint32_t b) const {
    if (a > b) std::swap(a, b);
    const double share = height_[a] / (height_[a] - height_[b]);
    const auto& places = wall_.chart->places();
    const Vec2 p = to_vec(to_chart(places[a])), q = to_vec(to_chart(places[b]));
    return to_chart(p + share * (q - p));
  }
  // Places from a crossing's end on, over all that follow.
  std::vector<ChartPoint> run(std::size_t i, std::size_t end) {
    std::vector<ChartPoint> out;
    crossings_[i].used = true;
    EdgeKey over = crossings_[i].edge[end];
    out.push_back(crossings_[i].place[end]);
    for (bool more = true; more;) {
      more = false;
      for (const std::size_t j : by_edge_[over]) {
        Crossing& next = crossings_[j];
        if (next.used) continue;
        next.used = more = true;
        const std::size_t far = next.edge[0] == over ? 1 : 0;
        over = next.edge[far];
        out.push_back(next.place[far]);
        break;
      }
    }
    return out;
  }

  const ChartedWall& wall_;
  std::vector<double> height_;
  std::vector<Crossing> crossings_;
  std::unordered_map<EdgeKey, std::vector<std::size_t>> by_edge_;
};

}  // namespace

std::vector<std::vector<ChartPoint>> plane_section(const ChartedWall& wall, const Vec3& at, const Vec3& normal,
                                                   double least, double most) {
  const SurfaceMesh& mesh = wall.mesh();
  std::vector<double> height;
  height.reserve(mesh.points.size());
  for (const Vec3& p : mesh.points) height.push_back(glm::dot(p - at, normal));
  Section section(wall, std::move(height));
  for (const Triangle& t : mesh.triangles) {
    const Vec3 n = glm::cross(mesh.points[t[1]] - mesh.points[t[0]], mesh.points[t[2]] - mesh.points[t[0]]);
    const double size = glm::length(n), upright = size > 0 ? std::abs(n.z) / size : 0;
    if (size > 0 && upright >= least && upright <= most) section.add(t);
  }
  return section.pieces();
}

std::optional<SurfaceFrame> surface_frame(const ChartedWall& wall, ChartPoint place) {
  const auto p = wall.chart->locate(place);
  if (!p) return std::nullopt;
  const SurfaceMesh& mesh = wall.mesh();
  const Triangle& t = mesh.triangles[p->triangle];
  std::array<Vec2, 3> c;
  for (std::size_t k = 0; k < 3; ++k) c[k] = to_vec(to_chart(wall.chart->places()[t[k]]));
  const Vec2 a = c[1] - c[0], b = c[2] - c[0];
  const Vec3 x = mesh.points[t[1]] - mesh.points[t[0]], y = mesh.points[t[2]] - mesh.points[t[0]];
  const double turn = cross2(a, b);
  return SurfaceFrame{position(mesh, *p), (b.y * x - a.y * y) / turn, (a.x * y - b.x * x) / turn, normal(mesh, *p)};
}

}  // namespace pontata
