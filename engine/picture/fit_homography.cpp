#include "engine/picture/fit_homography.h"

#include <Eigen/Dense>

namespace pontata {

namespace {

using Matrix = Eigen::MatrixXd;
using H33 = Eigen::Matrix3d;
using Eight = Eigen::Matrix<double, 8, 1>;

constexpr const char* kWhere = "the points";
// Least singular value but one of the linear equations against the greatest, below which the points fix nothing.
constexpr double kLoose = 1e-3;

// Middle at 0, root mean square distance sqrt 2 (Hartley 1997).
struct Scaling {
  Vec2 middle{0, 0};
  double factor = 1;
  Vec2 operator()(const Vec2& p) const { return (p - middle) * factor; }
  H33 matrix() const {
    H33 m;
    m << factor, 0, -factor * middle.x, 0, factor, -factor * middle.y, 0, 0, 1;
    return m;
  }
};

template <class Of>
Scaling scaling(std::span<const PlanePair> pairs, const Of& of) {
  Scaling s;
  for (const auto& pair : pairs) s.middle += of(pair);
  s.middle /= static_cast<double>(pairs.size());
  double sum = 0;
  for (const auto& pair : pairs) sum += glm::dot(of(pair) - s.middle, of(pair) - s.middle);
  if (sum > 0) s.factor = std::sqrt(2 * static_cast<double>(pairs.size()) / sum);
  return s;
}

// Two equations a point in the nine entries, row after row (Hartley & Zisserman 4.3).
Matrix linear_equations(std::span<const PlanePair> scaled) {
  Matrix a = Matrix::Zero(static_cast<Eigen::Index>(2 * scaled.size()), 9);
  Eigen::Index row = 0;
  for (const auto& [q, p] : scaled) {
    a.row(row++) << p.x, p.y, 1, 0, 0, 0, -q.x * p.x, -q.x * p.y, -q.x;
    a.row(row++) << 0, 0, 0, p.x, p.y, 1, -q.y * p.x, -q.y * p.y, -q.y;
  }
  return a;
}

H33 as_matrix(const Eight& h) {
  H33 m;
  m << h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], 1;
  return m;
}

// Squared misfit; `normal` and `slope` get the Gauss-Newton equations.
double misfit(std::span<const PlanePair> scaled, const Eight& h, Eigen::Matrix<double, 8, 8>& normal, Eight& slope) {
  normal.setZero();
  slope.setZero();
  double sum = 0;
  for (const auto& [q, p] : scaled) {
    const double w = h[6] * p.x + h[7] * p.y + 1;
    if (!(w > 1e-9)) return std::numeric_limits<double>::infinity();
    const double x = (h[0] * p.x + h[1] * p.y + h[2]) / w, y = (h[3] * p.x + h[4] * p.y + h[5]) / w;
    Eigen::Matrix<double, 2, 8> j;
    j << p.x, p.y, 1, 0, 0, 0, -x * p.x, -x * p.y, 0, 0, 0, p.x, p.y, 1, -y * p.x, -y * p.y;
    j /= w;
    const Eigen::Vector2d r(x - q.x, y - q.y);
    normal += j.transpose() * j;
    slope += j.transpose() * r;
    sum += r.squaredNorm();
  }
  return sum;
}

// Levenberg-Marquardt from the linear solution; the middle of the places keeps w = 1.
Eight refined(std::span<const PlanePair> scaled, Eight h) {
  Eigen::Matrix<double, 8, 8> normal, tried_normal;
  Eight slope, tried_slope;
  double best = misfit(scaled, h, normal, slope), damping = 1e-6;
  for (int k = 0; k < 100 && damping < 1e12; ++k) {
    auto damped = normal;
    damped.diagonal() *= 1 + damping;
    const Eight step = damped.ldlt().solve(slope);
    const Eight next = h - step;
    const double sum = misfit(scaled, next, tried_normal, tried_slope);
    if (!(sum <= best)) {
      damping = std::max(1e-6, damping * 10);
      continue;
    }
    h = next;
    normal = tried_normal;
    slope = tried_slope;
    best = sum;
    damping *= 0.1;
    if (step.norm() <= 1e-14 * (1 + h.norm())) break;
  }
  return h;
}

Problem no_view() {
  return {"no view of a flat wall shows the points like that", kWhere,
          "Check that each point is the same place on the picture and on the wall, and that left and right are not "
          "swapped."};
}

}  // namespace

Result<Mat3> fit_homography(std::span<const PlanePair> pairs) {
  if (pairs.size() < 4) return Problem{"a flat wall seen at an angle needs four points", kWhere, "Mark more points."};
  const auto of_pixel = scaling(pairs, [](const PlanePair& p) { return p.pixel; });
  const auto of_place = scaling(pairs, [](const PlanePair& p) { return p.place; });
  std::vector<PlanePair> scaled;
  for (const auto& pair : pairs) scaled.push_back({of_pixel(pair.pixel), of_place(pair.place)});
  const Eigen::JacobiSVD<Matrix> svd(linear_equations(scaled), Eigen::ComputeFullV);
  if (!(svd.singularValues()[7] > kLoose * svd.singularValues()[0]))
    return Problem{"the points lie on a line, or all but one of them do: they do not fix the picture", kWhere,
                   "Mark points that spread over the wall in both directions."};
  const Eigen::VectorXd nine = svd.matrixV().col(8);
  if (!(std::abs(nine[8]) > 1e-9)) return no_view();
  Eight h = nine.head<8>() / nine[8];
  for (const auto& pair : scaled)
    if (!(h[6] * pair.place.x + h[7] * pair.place.y + 1 > 1e-6)) return no_view();
  h = refined(scaled, h);
  if (!(as_matrix(h).determinant() < 0)) return no_view();  // pixels run down, the wall up
  const H33 whole = of_pixel.matrix().inverse() * as_matrix(h) * of_place.matrix();
  Mat3 out;
  for (int r = 0; r < 3; ++r)
    for (int c = 0; c < 3; ++c) out[c][r] = whole(r, c);
  return out;
}

}  // namespace pontata
