// Notation of Wahba 1990, section 2.4: K kernel, T affine part = Q1 R, Q2 its complement; Q2' K Q2 = U diag(bend) U'.
// For a stiffness s the weights are Q2 U diag(1 / (bend + s)) U' Q2' d, the residual is s times them.
#include "engine/picture/fit_thin_plate.h"

#include <Eigen/Dense>
#include <algorithm>

#include "engine/picture/fit_checks.h"

namespace pontata {

namespace {

using Matrix = Eigen::MatrixXd;

struct Smoother {
  double scale = 1;
  Vec2 middle{0, 0};      // of the centres, in scales
  Matrix K, Q1, R, ways;  // ways: Q2 U
  Eigen::VectorXd bend;
  bool sound = false;
};

double kernel(const Vec2& d) {
  const double r2 = glm::dot(d, d);
  return r2 > 0 ? 0.5 * r2 * std::log(r2) : 0;
}

Smoother smoother(std::span<const Vec2> centres) {
  const auto n = static_cast<Eigen::Index>(centres.size());
  Smoother s;
  if (n < 4) return s;
  for (const auto& c : centres) s.middle += c / static_cast<double>(n);
  double sum = 0;
  for (const auto& c : centres) sum += glm::dot(c - s.middle, c - s.middle);
  s.scale = std::sqrt(sum / static_cast<double>(n));
  if (!(s.scale > 0)) return s;
  s.middle /= s.scale;
  Matrix T(n, 3);
  s.K.resize(n, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const Vec2 a = centres[static_cast<std::size_t>(i)] / s.scale;
    T.row(i) << 1, a.x - s.middle.x, a.y - s.middle.y;
    for (Eigen::Index j = 0; j < n; ++j) s.K(i, j) = kernel(a - centres[static_cast<std::size_t>(j)] / s.scale);
  }
  const Eigen::HouseholderQR<Matrix> qr(T);
  const Matrix Q = qr.householderQ();
  s.Q1 = Q.leftCols(3);
  s.R = s.Q1.transpose() * T;
  if (!(std::abs(s.R(2, 2)) > 1e-6 * std::abs(s.R(0, 0)))) return s;  // on a line
  const Matrix Q2 = Q.rightCols(n - 3), inner = Q2.transpose() * s.K * Q2;
  const Eigen::SelfAdjointEigenSolver<Matrix> eigen(0.5 * (inner + inner.transpose()));
  s.ways = Q2 * eigen.eigenvectors();
  s.bend = eigen.eigenvalues().cwiseMax(0.0);
  s.sound = true;
  return s;
}

Matrix rows(std::span<const Vec2> v) {
  Matrix m(static_cast<Eigen::Index>(v.size()), 2);
  for (std::size_t i = 0; i < v.size(); ++i) m.row(static_cast<Eigen::Index>(i)) << v[i].x, v[i].y;
  return m;
}

Matrix weights_of(const Smoother& s, const Matrix& wanted, double stiffness) {
  const Eigen::VectorXd give = (s.bend.array() + stiffness).inverse();
  return s.ways * give.asDiagonal() * (s.ways.transpose() * wanted);
}

ThinPlate plate_of(const Smoother& s, std::span<const Vec2> centres, const Matrix& wanted, double stiffness) {
  const Matrix w = weights_of(s, wanted, stiffness);
  const Matrix affine = s.R.triangularView<Eigen::Upper>().solve(Matrix(s.Q1.transpose() * (wanted - s.K * w)));
  ThinPlate plate;
  plate.scale_px = s.scale;
  plate.centres.assign(centres.begin(), centres.end());
  for (Eigen::Index i = 0; i < w.rows(); ++i) plate.weights.emplace_back(w(i, 0), w(i, 1));
  plate.per_x = {affine(1, 0), affine(1, 1)};
  plate.per_y = {affine(2, 0), affine(2, 1)};
  plate.constant = Vec2(affine(0, 0), affine(0, 1)) - s.middle.x * plate.per_x - s.middle.y * plate.per_y;
  return plate;
}

// Squared distances of every point from what the others foretell.
std::vector<double> left_out_squares(const Smoother& s, const Matrix& wanted, double stiffness) {
  const Matrix w = weights_of(s, wanted, stiffness);
  const Eigen::VectorXd give = (s.bend.array() + stiffness).inverse();
  std::vector<double> squares;
  for (Eigen::Index i = 0; i < w.rows(); ++i) {
    const double rest = (s.ways.row(i).array().square() * give.transpose().array()).sum();  // (1 - own weight) / s
    squares.push_back(rest > 0 ? w.row(i).squaredNorm() / (rest * rest) : 0);
  }
  return squares;
}

double sum_of(const std::vector<double>& v) {
  double sum = 0;
  for (const double x : v) sum += x;
  return sum;
}

}  // namespace

ThinPlate smoothed_plate(std::span<const Vec2> centres, std::span<const Vec2> wanted, double stiffness) {
  const auto s = smoother(centres);
  if (!s.sound) return {};
  return plate_of(s, centres, rows(wanted), std::max(stiffness, 0.0));
}

ThinPlate earned_plate(std::span<const Vec2> centres, std::span<const Vec2> wanted) {
  const auto s = smoother(centres);
  if (!s.sound) return {};
  const Matrix d = rows(wanted);
  std::vector<double> none;
  for (const auto& w : wanted) none.push_back(glm::dot(w, w));
  const double stiffest = s.bend.maxCoeff() * 100;
  double best = -1;
  std::vector<double> with;
  for (int k = 0; k <= 32; ++k) {  // quarter decades, eight of them
    const double stiffness = stiffest * std::pow(10.0, -0.25 * k);
    auto squares = left_out_squares(s, d, stiffness);
    if (best >= 0 && !(sum_of(squares) < sum_of(with))) continue;
    best = stiffness;
    with = std::move(squares);
  }
  if (!beyond_chance(none, with)) return {};
  return plate_of(s, centres, d, best);
}

}  // namespace pontata
