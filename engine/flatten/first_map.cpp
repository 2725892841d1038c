#include "engine/flatten/first_map.h"

#include <Eigen/Sparse>
#include <cmath>

namespace pontata {
namespace {

bool right_side_up(const Patch& patch, const std::vector<Vec2>& flat) {
  for (const Triangle& v : patch.triangles)
    if (!(cross2(flat[v[1]] - flat[v[0]], flat[v[2]] - flat[v[0]]) > 0)) return false;
  return true;
}

// A rim point and the point farthest from it.
std::pair<std::uint32_t, std::uint32_t> far_pair(const Patch& patch) {
  const std::uint32_t a = patch.rims.front().front();
  std::uint32_t b = patch.rims.front().back();
  for (const std::uint32_t v : patch.rims.front())
    if (glm::distance(patch.points[v], patch.points[a]) > glm::distance(patch.points[b], patch.points[a])) b = v;
  return {a, b};
}

}  // namespace

std::optional<std::vector<Vec2>> map_by_chart(const Patch& patch, std::span<const RestTriangle> rest) {
  if (patch.places.size() != patch.points.size() || !patch.corner_places.empty()) return std::nullopt;
  const Vec2 origin = to_vec(patch.places.front());
  std::vector<Vec2> flat;
  for (const ChartPoint& p : patch.places) flat.push_back(to_vec(p) - origin);
  // Average first form in the chart: with J the gradient rest -> chart, it is the inverse of J J^T.
  double E = 0, F = 0, G = 0, mass = 0;
  for (std::size_t t = 0; t < rest.size(); ++t) {
    const Triangle& v = patch.triangles[t];
    const Gradient g = gradient(rest[t], flat[v[0]], flat[v[1]], flat[v[2]]);
    const double det = g.det();
    if (!(det > 0)) return std::nullopt;
    const double w = rest[t].area / (det * det);
    E += w * (g.yx * g.yx + g.yy * g.yy), F -= w * (g.xx * g.yx + g.xy * g.yy), G += w * (g.xx * g.xx + g.xy * g.xy);
    mass += rest[t].area;
  }
  E /= mass, F /= mass, G /= mass;
  const double xx = std::sqrt(E), xy = F / xx, yy = std::sqrt(std::max(G - xy * xy, 1e-9 * G));
  for (Vec2& p : flat) p = {xx * p.x + xy * p.y, yy * p.y};
  if (!right_side_up(patch, flat)) return std::nullopt;
  return flat;
}

std::optional<std::vector<Vec2>> map_conformal(const Patch& patch, std::span<const RestTriangle> rest) {
  // Minimise the sum over triangles of area |J - rotated J|^2, two far points held; unknowns x and y interleaved.
  const auto n = static_cast<int>(patch.points.size());
  const auto [a, b] = far_pair(patch);
  std::vector<Eigen::Triplet<double>> entries;
  for (std::size_t t = 0; t < rest.size(); ++t) {
    const RestTriangle& r = rest[t];
    const std::array<Vec2, 3> hat{Vec2{-r.a, -r.b - r.d}, Vec2{r.a, r.b}, Vec2{0, r.d}};
    for (std::size_t i = 0; i < 3; ++i)
      for (std::size_t j = 0; j < 3; ++j) {
        const int p = static_cast<int>(patch.triangles[t][i]), q = static_cast<int>(patch.triangles[t][j]);
        const double same = r.area * glm::dot(hat[i], hat[j]), turned = r.area * cross2(hat[i], hat[j]);
        entries.emplace_back(2 * p, 2 * q, same), entries.emplace_back(2 * p + 1, 2 * q + 1, same);
        entries.emplace_back(2 * p, 2 * q + 1, -turned), entries.emplace_back(2 * p + 1, 2 * q, turned);
      }
  }
  double mass = 0;
  for (const RestTriangle& r : rest) mass += r.area;
  const double length = glm::distance(patch.points[a], patch.points[b]), hold = 1e6;
  Eigen::VectorXd right = Eigen::VectorXd::Zero(2 * n);
  for (const std::uint32_t v : {a, b})
    for (int c = 0; c < 2; ++c) entries.emplace_back(2 * static_cast<int>(v) + c, 2 * static_cast<int>(v) + c, hold);
  right[2 * static_cast<int>(b)] = hold * length;
  Eigen::SparseMatrix<double> m(2 * n, 2 * n);
  m.setFromTriplets(entries.begin(), entries.end());
  const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> solver(m);
  if (solver.info() != Eigen::Success) return std::nullopt;
  const Eigen::VectorXd x = solver.solve(right);
  std::vector<Vec2> flat;
  for (int i = 0; i < n; ++i) flat.emplace_back(x[2 * i], x[2 * i + 1]);
  double area = 0;
  for (const Triangle& v : patch.triangles) area += 0.5 * cross2(flat[v[1]] - flat[v[0]], flat[v[2]] - flat[v[0]]);
  if (!(area > 0)) return std::nullopt;
  const double scale = std::sqrt(mass / area);
  for (Vec2& p : flat) p *= scale;
  if (!right_side_up(patch, flat)) return std::nullopt;
  return flat;
}

}  // namespace pontata
