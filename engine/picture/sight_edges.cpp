#include "engine/picture/sight_edges.h"

#include <algorithm>
#include <cmath>

namespace pontata {

namespace {

constexpr int kCells = 1024;    // along the longer side
constexpr double kNear = 1e-3;  // m in front of the eye
constexpr int kDeepest = 16;    // halvings of an edge

double ahead(const Camera& camera, const Vec3& p) { return glm::dot(p - camera.eye, camera.ahead); }

bool turned_to(const Vec3& eye, const SurfaceMesh& mesh, std::uint32_t t) {
  const auto& c = mesh.triangles[t];
  const Vec3 &a = mesh.points[c[0]], &b = mesh.points[c[1]], &d = mesh.points[c[2]];
  return glm::dot(glm::cross(b - a, d - a), eye - a) > 0;
}

}  // namespace

SightEdges::SightEdges(const Camera& camera, std::span<const WallRef> walls, const PixelBox& part) : part_(part) {
  const double width = std::max(1e-9, part.right - part.left), height = std::max(1e-9, part.bottom - part.top);
  const double cell = std::max(width, height) / kCells;
  columns_ = std::max(1, static_cast<int>(std::ceil(width / cell)));
  rows_ = std::max(1, static_cast<int>(std::ceil(height / cell)));
  per_x_ = per_y_ = 1 / cell;
  marked_.assign(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_), 0);
  for (const auto& wall : walls) {
    const SurfaceMesh& mesh = wall->mesh();
    std::vector<std::uint8_t> turned(mesh.triangles.size());
    for (std::uint32_t t = 0; t < turned.size(); ++t) turned[t] = turned_to(camera.eye, mesh, t);
    for (std::uint32_t t = 0; t < turned.size(); ++t)
      for (int k = 0; k < 3; ++k) {
        const auto other = wall->chart->across(t, k);
        if (other != Chart::kNoTriangle && (other < t || turned[other] == turned[t])) continue;
        const auto& c = mesh.triangles[t];
        mark(camera, mesh.points[c[static_cast<std::size_t>(k)]], mesh.points[c[static_cast<std::size_t>((k + 1) % 3)]],
             0);
      }
  }
}

int SightEdges::column(double x) const {
  return static_cast<int>(std::clamp(std::floor((x - part_.left) * per_x_), -1.0, 1.0 * columns_));
}
int SightEdges::row(double y) const {
  return static_cast<int>(std::clamp(std::floor((y - part_.top) * per_y_), -1.0, 1.0 * rows_));
}

// Halves the edge until its ends fall into one cell or neighbours; may_pass() looks a cell further.
void SightEdges::mark(const Camera& camera, const Vec3& a, const Vec3& b, int depth) {
  const double za = ahead(camera, a), zb = ahead(camera, b);
  if (za < kNear && zb < kNear) return;
  if (za < kNear) return mark(camera, a + (b - a) * ((kNear * 1.001 - za) / (zb - za)), b, depth);
  if (zb < kNear) return mark(camera, a, b + (a - b) * ((kNear * 1.001 - zb) / (za - zb)), depth);
  const auto p = project(camera, a), q = project(camera, b);
  if (!p && !q && depth >= 6) return;  // beyond the lens's fold
  if (p && q) {
    const int px = column(p->x), py = row(p->y), qx = column(q->x), qy = row(q->y);
    const bool aside = (px == qx && (px < 0 || px == columns_)) || (py == qy && (py < 0 || py == rows_));
    if (aside && depth >= 4) return;  // a lens bends a short edge by less than a cell
    if ((std::abs(px - qx) <= 1 && std::abs(py - qy) <= 1) || depth == kDeepest) {
      for (const auto& [x, y] : {std::pair{px, py}, std::pair{qx, qy}})
        if (x >= 0 && y >= 0 && x < columns_ && y < rows_)
          marked_[static_cast<std::size_t>(y) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(x)] = 1;
      return;
    }
  }
  if (depth == kDeepest) return;
  const Vec3 middle = 0.5 * (a + b);
  mark(camera, a, middle, depth + 1);
  mark(camera, middle, b, depth + 1);
}

bool SightEdges::may_pass(const PixelBox& box) const {
  const int x0 = std::max(0, column(box.left) - 1), x1 = std::min(columns_ - 1, column(box.right) + 1);
  const int y0 = std::max(0, row(box.top) - 1), y1 = std::min(rows_ - 1, row(box.bottom) + 1);
  for (int y = y0; y <= y1; ++y)
    for (int x = x0; x <= x1; ++x)
      if (marked_[static_cast<std::size_t>(y) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(x)])
        return true;
  return false;
}

}  // namespace pontata
