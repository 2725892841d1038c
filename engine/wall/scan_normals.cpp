// Based on: Desbrun, Meyer, Schröder, Barr, "Implicit Fairing of Irregular Meshes using Diffusion and Curvature Flow",
// 1999: (M + s L) n' = M n, one backward Euler step of heat flow on the three components of the normal field.
//
// M holds a third of the area of the triangles round each point, L is the cotangent Laplacian. One step damps a wave of
// length w by 1 / (1 + s k^2), k = 2 pi / w. Two steps of s = (w / 2 pi)^2 / 2 leave 44 % of a wave of the stated
// length, 1 % of one a quarter as long and 94 % of one four times as long.
#include <Eigen/Sparse>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <optional>

#include "engine/base/parallel.h"
#include "engine/wall/scan.h"

namespace pontata {
namespace {

constexpr std::size_t kDirectLimit = 60'000;  // points; above it conjugate gradients are the cheaper way
constexpr double kMostCotangent = 20;         // of an angle of 3 degrees: slivers must not outweigh their neighbours
constexpr std::size_t kGrain = 10'000;        // points worth a worker of its own
constexpr std::size_t kChunk = 4096;          // points summed together, whatever the number of workers

using Field = std::vector<Vec3>;  // one vector per point

Field weighted_normals(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles) {
  Field sum(points.size(), Vec3{0, 0, 0});
  for (const Triangle& t : triangles) {
    const Vec3 n = glm::cross(points[t[1]] - points[t[0]], points[t[2]] - points[t[0]]);
    for (const auto corner : t) sum[corner] += n;
  }
  return sum;
}

// Unit vectors; a point where the sum vanishes takes straight up.
void normalise(Field& field) {
  for_each_item(field.size(), kGrain, [&](std::size_t i) {
    const double length = glm::length(field[i]);
    field[i] = length > 1e-300 ? field[i] / length : Vec3{0, 0, 1};
  });
}

// Cotangent of the angle at corner k, held between 0 and kMostCotangent so that the system stays well behaved.
double cotangent(const std::vector<Vec3>& points, const Triangle& t, std::size_t k) {
  const Vec3 a = points[t[(k + 1) % 3]] - points[t[k]], b = points[t[(k + 2) % 3]] - points[t[k]];
  const double area = glm::length(glm::cross(a, b));
  return std::clamp(glm::dot(a, b) / std::max(area, 1e-300), 0.0, kMostCotangent);
}

// M + s L by rows: the diagonal, and what lies beside it.
struct HeatMatrix {
  std::vector<double> mass, diagonal;
  std::vector<std::uint32_t> start;  // of each row in `beside`
  struct Entry {
    std::uint32_t column;
    double value;
  };
  std::vector<Entry> beside;

  HeatMatrix(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles, double s) {
    set_mass(points, triangles);
    gather(points, triangles, s);
    merge();
  }

  Field times(const Field& x) const {
    Field out(x.size());
    for_each_item(x.size(), kGrain, [&](std::size_t i) {
      Vec3 sum = diagonal[i] * x[i];
      for (auto e = start[i]; e < start[i + 1]; ++e) sum += beside[e].value * x[beside[e].column];
      out[i] = sum;
    });
    return out;
  }

 private:
  void set_mass(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles) {
    mass.assign(points.size(), 0);
    double total = 0;
    for (const Triangle& t : triangles) {
      const double third = glm::length(glm::cross(points[t[1]] - points[t[0]], points[t[2]] - points[t[0]])) / 6;
      total += third;
      for (const auto corner : t) mass[corner] += third;
    }
    const double least = 1e-9 * total / std::max<double>(1, static_cast<double>(points.size()));
    for (double& m : mass) m = std::max({m, least, 1e-300});
  }

  // Every triangle gives each of its corners an entry for the two others.
  void gather(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles, double s) {
    start.assign(points.size() + 1, 0);
    for (const Triangle& t : triangles)
      for (const auto corner : t) start[corner + 1] += 2;
    std::partial_sum(start.begin(), start.end(), start.begin());
    beside.resize(start.back());
    auto at = start;
    for (const Triangle& t : triangles)
      for (std::size_t k = 0; k < 3; ++k) {
        const double w = -0.5 * s * cotangent(points, t, k);
        const std::uint32_t i = t[(k + 1) % 3], j = t[(k + 2) % 3];
        beside[at[i]++] = {j, w}, beside[at[j]++] = {i, w};
      }
  }

  // Entries of one row and column become one.
  void merge() {
    diagonal = mass;
    std::uint32_t kept = 0;
    for (std::size_t i = 0; i + 1 < start.size(); ++i) {
      const auto first = beside.begin() + start[i], last = beside.begin() + start[i + 1];
      for (auto e = first; e != last; ++e) diagonal[i] -= e->value;
      std::stable_sort(first, last, [](const Entry& a, const Entry& b) { return a.column < b.column; });
      const std::uint32_t row = kept;
      for (auto e = first; e != last; ++e)
        if (kept > row && beside[kept - 1].column == e->column)
          beside[kept - 1].value += e->value;
        else
          beside[kept++] = *e;
      start[i] = row;
    }
    start.back() = kept;
    beside.resize(kept);
  }
};

// Component by component.
Vec3 sum_of_products(const Field& a, const Field& b) {
  std::vector<Vec3> chunks((a.size() + kChunk - 1) / kChunk, Vec3{0, 0, 0});
  for_each_item(chunks.size(), 4, [&](std::size_t c) {
    for (std::size_t i = c * kChunk; i < std::min(a.size(), (c + 1) * kChunk); ++i) chunks[c] += a[i] * b[i];
  });
  return std::accumulate(chunks.begin(), chunks.end(), Vec3{0, 0, 0});
}

// Conjugate gradients with the diagonal as preconditioner, all three components side by side, to 1e-6.
void solve_iteratively(const HeatMatrix& matrix, const Field& right, Field& x) {
  const std::size_t n = x.size();
  const auto over = [&](const Field& f) {
    Field out(n);
    for_each_item(n, kGrain, [&](std::size_t i) { out[i] = f[i] / matrix.diagonal[i]; });
    return out;
  };
  Field residual = matrix.times(x);
  for_each_item(n, kGrain, [&](std::size_t i) { residual[i] = right[i] - residual[i]; });
  Field direction = over(residual);
  Vec3 rho = sum_of_products(residual, direction);
  const Vec3 enough = 1e-12 * sum_of_products(right, over(right));
  for (int step = 0; step < 300 && (rho.x > enough.x || rho.y > enough.y || rho.z > enough.z); ++step) {
    const Field image = matrix.times(direction);
    const Vec3 curve = sum_of_products(direction, image);
    Vec3 reach{0, 0, 0};
    for (int c = 0; c < 3; ++c)
      if (curve[c] > 0) reach[c] = rho[c] / curve[c];
    for_each_item(n, kGrain, [&](std::size_t i) {
      x[i] += reach * direction[i];
      residual[i] -= reach * image[i];
    });
    const Field scaled = over(residual);
    const Vec3 next = sum_of_products(residual, scaled);
    Vec3 keep{0, 0, 0};
    for (int c = 0; c < 3; ++c)
      if (rho[c] > 0) keep[c] = next[c] / rho[c];
    for_each_item(n, kGrain, [&](std::size_t i) { direction[i] = scaled[i] + keep * direction[i]; });
    rho = next;
  }
}

class DirectSolver {
 public:
  explicit DirectSolver(const HeatMatrix& matrix) {
    const auto n = static_cast<int>(matrix.diagonal.size());
    std::vector<Eigen::Triplet<double>> entries;
    for (int i = 0; i < n; ++i) {
      const auto row = static_cast<std::size_t>(i);
      entries.emplace_back(i, i, matrix.diagonal[row]);
      for (auto e = matrix.start[row]; e < matrix.start[row + 1]; ++e)
        entries.emplace_back(i, static_cast<int>(matrix.beside[e].column), matrix.beside[e].value);
    }
    Eigen::SparseMatrix<double> sparse(n, n);
    sparse.setFromTriplets(entries.begin(), entries.end());
    factor_.compute(sparse);
  }
  bool works() const { return factor_.info() == Eigen::Success; }

  void solve(const Field& right, Field& x) const {
    Eigen::MatrixX3d columns(static_cast<Eigen::Index>(right.size()), 3);
    for (Eigen::Index i = 0; i < columns.rows(); ++i) {
      const Vec3& r = right[static_cast<std::size_t>(i)];
      columns.row(i) = Eigen::RowVector3d(r.x, r.y, r.z);
    }
    columns = factor_.solve(columns).eval();
    for (Eigen::Index i = 0; i < columns.rows(); ++i)
      x[static_cast<std::size_t>(i)] = {columns(i, 0), columns(i, 1), columns(i, 2)};
  }

 private:
  Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor_;
};

}  // namespace

std::vector<Vec3> smoothed_normals(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles,
                                   double wavelength) {
  Field field = weighted_normals(points, triangles);
  normalise(field);
  if (!(wavelength > 0) || triangles.empty()) return field;
  const double reach = wavelength / (2 * std::numbers::pi);
  const HeatMatrix matrix(points, triangles, 0.5 * reach * reach);
  std::optional<DirectSolver> direct;
  if (points.size() <= kDirectLimit && !direct.emplace(matrix).works()) direct.reset();
  for (int step = 0; step < 2; ++step) {
    Field right(field.size());
    for (std::size_t i = 0; i < right.size(); ++i) right[i] = matrix.mass[i] * field[i];
    if (direct)
      direct->solve(right, field);
    else
      solve_iteratively(matrix, right, field);
    normalise(field);
  }
  return field;
}

}  // namespace pontata
