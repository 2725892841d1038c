#include "engine/wall/triangle_rows.h"

#include <utility>

namespace pontata {

namespace {
constexpr std::uint32_t kFurther = 0x80000000u;  // marks a corner's normal as one of the further ones, until the end
}

void TriangleRows::Row::append(const Row& other) {
  corners.insert(corners.end(), other.corners.begin(), other.corners.end());
  keys.insert(keys.end(), other.keys.begin(), other.keys.end());
}

TriangleRows::Row TriangleRows::Row::reversed() const {
  return {{corners.rbegin(), corners.rend()}, {keys.rbegin(), keys.rend()}};
}

TriangleRows::Corner TriangleRows::add(const SurfacePoint& p) {
  const auto index = static_cast<std::uint32_t>(out_.address.size());
  out_.mesh.points.push_back(apply(placement_, p.place));
  out_.mesh.normals.push_back(apply_direction(placement_, p.normal));
  out_.address.push_back(p.address);
  own_normals_.push_back(p.normal);
  return {index, index};
}

TriangleRows::Corner TriangleRows::facing(Corner corner, const Vec3& normal) {
  if (own_normals_[corner.point] == normal) return {corner.point, corner.point};
  more_.emplace_back(corner.point, normal);
  return {corner.point, kFurther + static_cast<std::uint32_t>(more_.size() - 1)};
}

TriangleRows::Row TriangleRows::add_row(int count, const std::function<SurfacePoint(double)>& at) {
  Row row;
  for (int i = 0; i <= count; ++i) {
    const double fraction = static_cast<double>(i) / count;
    row.push(add(at(fraction)), fraction);
  }
  return row;
}

void TriangleRows::add_grid(int across, int up, const std::function<SurfacePoint(double, double)>& at) {
  Row below;
  for (int j = 0; j <= up; ++j) {
    const double v = static_cast<double>(j) / up;
    auto row = add_row(across, [&](double u) { return at(u, v); });
    if (j > 0) join(below, row);
    below = std::move(row);
  }
}

void TriangleRows::triangle(Corner a, Corner b, Corner c) {
  if (a.point == b.point || b.point == c.point || c.point == a.point) return;
  const Vec2 from = out_.address[a.point];
  if (cross2(out_.address[b.point] - from, out_.address[c.point] - from) < 0) std::swap(b, c);
  out_.mesh.triangles.push_back({a.point, b.point, c.point});
  out_.mesh.corner_normals.push_back({a.facing, b.facing, c.facing});
}

ShapeMesh TriangleRows::take() {
  const auto points = static_cast<std::uint32_t>(out_.mesh.normals.size());
  for (const auto& [point, normal] : more_) out_.mesh.normals.push_back(apply_direction(placement_, normal));
  for (auto& corners : out_.mesh.corner_normals)
    for (auto& normal : corners)
      if (normal >= kFurther) normal = normal - kFurther + points;
  return std::move(out_);
}

}  // namespace pontata
