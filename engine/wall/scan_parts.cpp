#include "engine/wall/scan_parts.h"

#include <algorithm>

#include "engine/wall/picking.h"

namespace pontata {
namespace {

Vec3 middle(const Soup& soup, std::size_t t) {
  const Triangle& c = soup.triangles[t];
  return (soup.points[c[0]] + soup.points[c[1]] + soup.points[c[2]]) / 3.0;
}

}  // namespace

std::vector<FoundPart> weigh_parts(const Soup& soup, const std::vector<std::uint32_t>& part_of, std::uint32_t count) {
  std::vector<FoundPart> parts(count);
  std::vector<Vec3> centre(count, Vec3{0, 0, 0});
  for (std::size_t t = 0; t < part_of.size(); ++t) {
    const double area = triangle_area(soup.points, soup.triangles[t]);
    parts[part_of[t]].area_m2 += area;
    centre[part_of[t]] += middle(soup, t) * area;
  }
  for (std::uint32_t p = 0; p < count; ++p) {
    parts[p].part = p;
    if (parts[p].area_m2 > 0) centre[p] /= parts[p].area_m2;
  }
  std::vector<double> least(count, 1e300);
  for (std::size_t t = 0; t < part_of.size(); ++t) {
    const Vec3 at = middle(soup, t), off = at - centre[part_of[t]];
    if (const double d = glm::dot(off, off); d < least[part_of[t]]) least[part_of[t]] = d, parts[part_of[t]].at = at;
  }
  std::stable_sort(parts.begin(), parts.end(), [](const auto& a, const auto& b) { return a.area_m2 > b.area_m2; });
  return parts;
}

std::uint32_t triangle_nearest(const Soup& soup, const Vec3& place) {
  auto mesh = std::make_shared<SurfaceMesh>();
  mesh->points = soup.points;
  mesh->triangles = soup.triangles;
  return PickTree(std::move(mesh)).nearest(place).point.triangle;
}

}  // namespace pontata
