// Fits of a few numbers that cannot be negative, robust against days far off.
//
// Based on: C. L. Lawson and R. J. Hanson, "Solving Least Squares Problems", 1974, ch. 23 (NNLS); P. J. Huber, "Robust
// Estimation of a Location Parameter", Ann. Math. Statist. 35 (1964); M. Abramowitz and I. A. Stegun, "Handbook of
// Mathematical Functions", 26.7.5 (quantiles of Student's t).
#pragma once

#include <Eigen/Core>
#include <span>
#include <vector>

namespace pontata {

// The x >= 0 of least |A x - b|. Columns may depend on each other: one of the best x. O(rows x columns^2) a step.
Eigen::VectorXd nonnegative_least_squares(const Eigen::MatrixXd& a, const Eigen::VectorXd& b);

struct RelativeFit {
  Eigen::VectorXd x;
  Eigen::VectorXd error;         // half of the 95 % interval of each x; infinity where its value is not determined
  std::vector<char> determined;  // whatever the others are; false too where x came out at 0
  // Columns that depend on each other, as sets of indices: only some sum of theirs is known.
  std::vector<std::vector<int>> tied;
};
// x >= 0 so that A x is near b in proportion: residuals are shares of A x, and those beyond 3 robust standard
// deviations (1.4826 times the median of their sizes) count less, by Huber's weights. Precondition: at least two rows
// more than columns, no row and no column of zeros, b > 0.
RelativeFit fit_relative(const Eigen::MatrixXd& a, const Eigen::VectorXd& b);

// 97.5 % quantile of Student's t with that many degrees of freedom, at least 2; within 1 %.
double t_quantile(int degrees);

// The median, and the two values of the list between which the true median lies with 95 % or more (order statistics;
// W. J. Conover, "Practical Nonparametric Statistics", ch. 3, from memory). Of fewer than 6 values the least and the
// greatest, which is less than 95 %. Precondition: not empty.
struct MedianFit {
  double median = 0, least = 0, most = 0;
};
MedianFit fit_median(std::vector<double> values);

}  // namespace pontata
