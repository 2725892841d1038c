#include "engine/chart/parameterise_start.h"

#include <fmt/format.h>

#include <Eigen/Sparse>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "engine/base/roots.h"
#include "engine/wall/scan_handles.h"
#include "engine/wall/scan_report.h"
#include "engine/wall/scan_topology.h"

namespace pontata {
namespace {

// Each directed edge once, with the triangle on its left.
struct Directed {
  std::uint32_t from, to, triangle;
  bool operator<(const Directed& o) const { return from != o.from ? from < o.from : to < o.to; }
  bool operator==(const Directed& o) const { return from == o.from && to == o.to; }
};

std::vector<Directed> directed_edges(const std::vector<Triangle>& triangles) {
  std::vector<Directed> out;
  out.reserve(3 * triangles.size());
  for (std::uint32_t t = 0; t < triangles.size(); ++t)
    for (std::size_t k = 0; k < 3; ++k) out.push_back({triangles[t][k], triangles[t][(k + 1) % 3], t});
  std::sort(out.begin(), out.end());
  return out;
}

std::optional<Problem> not_a_sheet(const SurfaceMesh& mesh, const std::vector<Directed>& edges,
                                   const std::string& name) {
  const auto twice = std::adjacent_find(edges.begin(), edges.end());
  if (twice != edges.end())
    return Problem{
        fmt::format("the surface branches or turns inside out near {}", place_words(mesh.points[twice->from])), name,
        "Repair the scan there, or cut that part away"};
  return std::nullopt;
}

// Rim edges leaving each point; two mean that the surface hangs together there by a single point.
std::optional<Problem> pinched(const SurfaceMesh& mesh, const std::vector<Triangle>& across, const std::string& name) {
  std::vector<bool> left(mesh.points.size(), false);
  for (std::size_t t = 0; t < across.size(); ++t)
    for (std::size_t k = 0; k < 3; ++k) {
      if (across[t][k] != kNoNeighbour) continue;
      const std::uint32_t p = mesh.triangles[t][k];
      if (left[p])
        return Problem{fmt::format("the surface hangs together by a single point near {}", place_words(mesh.points[p])),
                       name, "Repair the scan there, or cut that part away"};
      left[p] = true;
    }
  return std::nullopt;
}

}  // namespace

Result<Loops> sheet_rims(const SurfaceMesh& mesh, const std::string& name) {
  if (mesh.triangles.empty()) return Problem{"there is no surface", name, "Choose a scan that holds the painted wall"};
  const auto edges = directed_edges(mesh.triangles);
  if (auto problem = not_a_sheet(mesh, edges, name)) return *problem;
  const auto across = link_triangles(mesh.points, mesh.triangles);
  if (auto problem = pinched(mesh, across, name)) return *problem;
  Loops rims = border_loops(mesh.points, mesh.triangles, across);
  std::vector<std::uint32_t> up(mesh.points.size());
  std::iota(up.begin(), up.end(), 0u);
  for (const Directed& e : edges) up[root_of(up, e.from)] = root_of(up, e.to);
  for (const Directed& e : edges)
    if (root_of(up, e.from) != root_of(up, edges.front().from))
      return Problem{
          fmt::format("the surface is in separate parts; one lies near {}", place_words(mesh.points[e.from])), name,
          "Bring in each part as a wall of its own"};
  if (rims.empty())
    return Problem{fmt::format("the surface closes on itself like a ball; it cannot be laid out flat (near {})",
                               place_words(mesh.points[edges.front().from])),
                   name, "Cut the scan open, down to the part that will be painted"};
  const std::size_t handles = count_handles(mesh.triangles, across, rims.size());
  if (handles == 0) return rims;
  const auto loops = handle_loops(mesh.points, mesh.triangles, rims);
  return Problem{
      fmt::format("the surface has {} like the handle of a cup, so it cannot be laid out flat in one piece{}",
                  handles == 1 ? "a bridge" : fmt::format("{} bridges", handles),
                  loops.empty() ? "" : " (one passes near " + place_words(mesh.points[loops[0][0]]) + ")"),
      name, "Cut the bridge away in the scan, or bring in the wall in parts"};
}

bool convex_start(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles,
                  const std::vector<std::uint32_t>& outer, std::vector<Vec2>& places) {
  constexpr int kUnused = -2, kOnCircle = -1;
  std::vector<int> row(points.size(), kUnused);
  for (const Triangle& t : triangles)
    for (const auto corner : t) row[corner] = 0;
  double area = 0, rim_length = 0, along = 0;
  for (const Triangle& t : triangles) area += triangle_area(points, t);
  const double radius = std::sqrt(area / std::numbers::pi);
  rim_length = loop_length(points, outer);
  for (std::size_t i = 0; i < outer.size(); ++i) {
    const double angle = 2 * std::numbers::pi * along / rim_length;
    places[outer[i]] = radius * Vec2{std::cos(angle), std::sin(angle)};
    row[outer[i]] = kOnCircle;
    along += glm::length(points[outer[(i + 1) % outer.size()]] - points[outer[i]]);
  }
  int unknowns = 0;
  for (int& r : row)
    if (r == 0) r = unknowns++;
  std::vector<Eigen::Triplet<double>> entries;
  Eigen::MatrixX2d right = Eigen::MatrixX2d::Zero(unknowns, 2);
  const auto join = [&](int i, std::uint32_t q, double weight) {  // one direction of a spring
    if (i < 0) return;
    entries.emplace_back(i, i, weight);
    if (row[q] >= 0)
      entries.emplace_back(i, row[q], -weight);
    else
      right.row(i) += weight * Eigen::RowVector2d(places[q].x, places[q].y);
  };
  for (const Triangle& t : triangles)
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t a = t[k], b = t[(k + 1) % 3];
      join(row[a], b, 1), join(row[b], a, 1);
    }
  if (unknowns > 0) {
    Eigen::SparseMatrix<double> matrix(unknowns, unknowns);
    matrix.setFromTriplets(entries.begin(), entries.end());
    Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor(matrix);
    if (factor.info() != Eigen::Success) return false;
    const Eigen::MatrixX2d solved = factor.solve(right);
    for (std::size_t p = 0; p < points.size(); ++p)
      if (row[p] >= 0) places[p] = {solved(row[p], 0), solved(row[p], 1)};
  }
  return std::all_of(triangles.begin(), triangles.end(), [&](const Triangle& t) {
    return cross2(places[t[1]] - places[t[0]], places[t[2]] - places[t[0]]) > 1e-18 * area;
  });
}

}  // namespace pontata
