#include "engine/calendar/least_squares.h"

#include <Eigen/Eigenvalues>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <set>

namespace pontata {

namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;
using Columns = std::vector<int>;

MatrixXd columns_of(const MatrixXd& a, const Columns& chosen) {
  MatrixXd part(a.rows(), static_cast<Eigen::Index>(chosen.size()));
  for (std::size_t k = 0; k < chosen.size(); ++k) part.col(static_cast<Eigen::Index>(k)) = a.col(chosen[k]);
  return part;
}

// Least squares over some columns, the others at 0.
VectorXd solve_over(const MatrixXd& a, const VectorXd& b, const Columns& chosen) {
  const VectorXd part = columns_of(a, chosen).completeOrthogonalDecomposition().solve(b);
  VectorXd x = VectorXd::Zero(a.cols());
  for (std::size_t k = 0; k < chosen.size(); ++k) x[chosen[k]] = part[static_cast<Eigen::Index>(k)];
  return x;
}

// Goes from x toward `to` until the first of the chosen reaches 0; those at 0 are no longer chosen.
void step_back(VectorXd& x, const VectorXd& to, Columns& chosen) {
  double share = 1;
  for (const int k : chosen)
    if (to[k] <= 0) share = std::min(share, x[k] / (x[k] - to[k]));
  x += share * (to - x);
  std::erase_if(chosen, [&](int k) { return x[k] <= 1e-14; });
  for (int k = 0; k < x.size(); ++k)
    if (std::ranges::find(chosen, k) == chosen.end()) x[k] = 0;
}

double median_of(std::vector<double> values) {
  const std::size_t half = values.size() / 2;
  std::ranges::nth_element(values, values.begin() + static_cast<std::ptrdiff_t>(half));
  if (values.size() % 2 == 1) return values[half];
  return (values[half] + *std::max_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(half))) / 2;
}

constexpr double kFar = 3;  // robust standard deviations

struct Weighed {
  MatrixXd a;       // rows over what they come to now
  VectorXd ratio;   // b over the same
  VectorXd weight;  // Huber's
  double scale = 0;
};

Weighed weigh(const MatrixXd& a, const VectorXd& b, const VectorXd& x) {
  const VectorXd now = (a * x).cwiseMax(1e-6 * b);
  Weighed w{a.array().colwise() / now.array(), b.cwiseQuotient(now), VectorXd::Ones(b.size()), 0};
  const VectorXd off = (w.ratio - w.a * x).cwiseAbs();
  const double spread = std::sqrt(static_cast<double>(a.rows()) / static_cast<double>(a.rows() - a.cols()));
  w.scale = 1.4826 * spread * median_of({off.begin(), off.end()});
  if (w.scale < 1e-9) return w;
  for (Eigen::Index i = 0; i < off.size(); ++i) w.weight[i] = std::min(1.0, kFar * w.scale / std::max(off[i], 1e-300));
  return w;
}

VectorXd solve_weighed(const Weighed& w) {
  const VectorXd root = w.weight.cwiseSqrt();
  return nonnegative_least_squares(root.asDiagonal() * w.a, root.cwiseProduct(w.ratio));
}

// Variance of one residual. Based on: Huber 1964, the asymptotic variance of his estimate.
double residual_variance(const Weighed& w, const VectorXd& x, Eigen::Index columns) {
  const VectorXd off = w.weight.cwiseProduct(w.ratio - w.a * x);
  const double inside = static_cast<double>((w.weight.array() >= 1).count()) / static_cast<double>(off.size());
  return off.squaredNorm() / static_cast<double>(off.size() - columns) / (inside * inside);
}

constexpr double kDependent = 1e-6;  // of the greatest eigenvalue: a way to go that changes nothing
constexpr double kTakesPart = 1e-3;  // of a column in such a way

// Ways in the space of columns (of unit length each) along which nothing changes.
std::vector<VectorXd> idle_ways(const Eigen::SelfAdjointEigenSolver<MatrixXd>& eigen) {
  std::vector<VectorXd> ways;
  const double most = eigen.eigenvalues().tail(1)[0];
  for (Eigen::Index k = 0; k < eigen.eigenvalues().size(); ++k)
    if (eigen.eigenvalues()[k] < kDependent * most) ways.push_back(eigen.eigenvectors().col(k));
  return ways;
}

// Columns that take part in one way, or in ways that share a column.
std::vector<Columns> tied_columns(const std::vector<VectorXd>& ways) {
  std::vector<std::set<int>> groups;
  for (const VectorXd& way : ways) {
    std::set<int> group;
    for (int k = 0; k < way.size(); ++k)
      if (std::abs(way[k]) > kTakesPart) group.insert(k);
    for (auto it = groups.begin(); it != groups.end();) {
      const bool meets = std::ranges::any_of(*it, [&](int k) { return group.contains(k); });
      if (meets) group.insert(it->begin(), it->end());
      it = meets ? groups.erase(it) : it + 1;
    }
    groups.push_back(std::move(group));
  }
  std::vector<Columns> tied;
  for (const auto& group : groups) tied.emplace_back(group.begin(), group.end());
  return tied;
}

// Half intervals of the positive ones, and what ties columns together.
void find_errors(const Weighed& w, RelativeFit& fit) {
  const Eigen::Index n = w.a.rows(), p = w.a.cols();
  const MatrixXd rows = w.weight.cwiseSqrt().asDiagonal() * w.a;
  const VectorXd length = rows.colwise().norm().transpose();
  const MatrixXd unit = rows * length.cwiseInverse().asDiagonal();
  const Eigen::SelfAdjointEigenSolver<MatrixXd> eigen(unit.transpose() * unit);
  fit.tied = tied_columns(idle_ways(eigen));
  const double most = eigen.eigenvalues().tail(1)[0];
  const double sigma = std::sqrt(residual_variance(w, fit.x, p)), t = t_quantile(static_cast<int>(n - p));
  fit.error = VectorXd::Constant(p, std::numeric_limits<double>::infinity());
  fit.determined.assign(static_cast<std::size_t>(p), 0);
  for (int k = 0; k < p; ++k) {
    const bool is_tied =
        std::ranges::any_of(fit.tied, [&](const Columns& c) { return std::ranges::find(c, k) != c.end(); });
    if (is_tied || fit.x[k] <= 0) continue;
    double variance = 0;
    for (Eigen::Index e = 0; e < p; ++e)
      if (eigen.eigenvalues()[e] >= kDependent * most)
        variance += std::pow(eigen.eigenvectors()(k, e), 2) / eigen.eigenvalues()[e];
    fit.error[k] = t * sigma * std::sqrt(variance) / length[k];
    fit.determined[static_cast<std::size_t>(k)] = 1;
  }
}

}  // namespace

VectorXd nonnegative_least_squares(const MatrixXd& a, const VectorXd& b) {
  VectorXd x = VectorXd::Zero(a.cols());
  Columns chosen;
  const double tiny = 1e-12 * (a.transpose() * b).cwiseAbs().maxCoeff();
  for (int turn = 0; turn < 10 * a.cols() + 10; ++turn) {
    const VectorXd slope = a.transpose() * (b - a * x);
    int best = -1;
    for (int k = 0; k < a.cols(); ++k)
      if (std::ranges::find(chosen, k) == chosen.end() && slope[k] > tiny && (best < 0 || slope[k] > slope[best]))
        best = k;
    if (best < 0) break;
    chosen.push_back(best);
    VectorXd to = solve_over(a, b, chosen);
    if (to[best] <= 0) break;  // rounding alone asked for it
    while (std::ranges::any_of(chosen, [&](int k) { return to[k] <= 0; })) {
      step_back(x, to, chosen);
      to = solve_over(a, b, chosen);
    }
    x = to;
  }
  return x;
}

RelativeFit fit_relative(const MatrixXd& a, const VectorXd& b) {
  RelativeFit fit;
  const VectorXd sums = a.rowwise().sum();
  fit.x = nonnegative_least_squares(a.array().colwise() / sums.array(), b.cwiseQuotient(sums));
  Weighed w = weigh(a, b, fit.x);
  for (int turn = 0; turn < 100; ++turn) {
    const VectorXd next = solve_weighed(w);
    const double moved = (next - fit.x).norm();
    fit.x = next;
    w = weigh(a, b, fit.x);
    if (moved <= 1e-10 * fit.x.norm()) break;
  }
  find_errors(w, fit);
  return fit;
}

double t_quantile(int degrees) {
  const double z = 1.959963984540054, n = degrees, z2 = z * z;
  const double g1 = (z2 + 1) * z / 4, g2 = ((5 * z2 + 16) * z2 + 3) * z / 96;
  const double g3 = (((3 * z2 + 19) * z2 + 17) * z2 - 15) * z / 384;
  const double g4 = ((((79 * z2 + 776) * z2 + 1482) * z2 - 1920) * z2 - 945) * z / 92160;
  return z + (g1 + (g2 + (g3 + g4 / n) / n) / n) / n;
}

namespace {

// The most values that may be left out on either side: P(Bin(n, 1/2) <= left out) at most 2.5 %; 0 where not even the
// least and the greatest will do.
std::size_t left_out_of(std::size_t n) {
  const double size = static_cast<double>(n);
  if (n > 500) return static_cast<std::size_t>(size / 2 - 0.98 * std::sqrt(size) - 1);
  double chance = std::pow(0.5, size), sum = chance;
  std::size_t left_out = 0;
  for (std::size_t k = 1; k <= (n - 1) / 2; ++k) {
    chance *= static_cast<double>(n - k + 1) / static_cast<double>(k);
    sum += chance;
    if (sum > 0.025) break;
    left_out = k;
  }
  return left_out;
}

}  // namespace

MedianFit fit_median(std::vector<double> values) {
  const std::size_t n = values.size(), left_out = left_out_of(n);
  const double median = median_of(values);
  std::ranges::sort(values);
  return {median, values[left_out], values[n - 1 - left_out]};
}

}  // namespace pontata
