// Based on: Umeyama, "Least-squares estimation of transformation parameters between two point patterns", 1991, without
// scale; the chart is a pattern in the plane.
#include "engine/picture/flatness.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

namespace pontata {

namespace {

constexpr double kOff = 1e-3;            // m
constexpr double kOffPart = 1.0 / 4000;  // of the chart's diagonal
constexpr std::size_t kMost = 20000;     // points looked at

using Columns = Eigen::Matrix<double, 3, Eigen::Dynamic>;

}  // namespace

bool lies_flat(const ChartedWall& wall) {
  const auto& points = wall.mesh().points;
  const auto& places = wall.chart->places();
  const std::size_t step = points.size() / kMost + 1, n = (points.size() + step - 1) / step;
  Columns surface(3, static_cast<Eigen::Index>(n)), chart(3, static_cast<Eigen::Index>(n));
  for (std::size_t k = 0; k < n; ++k) {
    const Vec3 p = points[k * step];
    const ChartPoint c = to_chart(places[k * step]);
    surface.col(static_cast<Eigen::Index>(k)) << p.x, p.y, p.z;
    chart.col(static_cast<Eigen::Index>(k)) << c.u, c.v, 0;
  }
  const Eigen::Vector3d surface_middle = surface.rowwise().mean(), chart_middle = chart.rowwise().mean();
  surface.colwise() -= surface_middle;
  chart.colwise() -= chart_middle;
  const Eigen::JacobiSVD<Eigen::Matrix3d> svd(surface * chart.transpose(), Eigen::ComputeFullU | Eigen::ComputeFullV);
  const Columns off = surface - svd.matrixU() * svd.matrixV().transpose() * chart;
  const double most = off.colwise().norm().maxCoeff();
  const auto box = wall.chart->box();
  return most <= std::max(kOff, kOffPart * std::hypot(box.width, box.height));
}

}  // namespace pontata
