#include "engine/review/seam_walk.h"

#include <algorithm>
#include <cmath>

#include "engine/picture/metric_grid.h"

namespace pontata {

Vec2 MeasuredLine::place(double m) const {
  const auto it = std::ranges::upper_bound(length, m);
  if (it == length.begin()) return at.front();
  if (it == length.end()) return at.back();
  const auto k = static_cast<std::size_t>(it - length.begin());
  const double step = length[k] - length[k - 1];
  return at[k - 1] + (step > 0 ? (m - length[k - 1]) / step : 0.0) * (at[k] - at[k - 1]);
}

std::vector<ChartPoint> MeasuredLine::stretch(double from, double to) const {
  std::vector<ChartPoint> line{to_chart(place(from))};
  for (std::size_t k = 0; k < at.size(); ++k)
    if (length[k] > from && length[k] < to) line.push_back(to_chart(at[k]));
  line.push_back(to_chart(place(to)));
  return line;
}

MeasuredLine measured_line(const Network& network, const SeamChain& chain) {
  MeasuredLine line;
  for (const HalfEdgeId h : chain.seams) {
    if (line.at.empty()) line.at.push_back(to_vec(to_chart(network.origin(h)))), line.length.push_back(0);
    line.at.push_back(to_vec(to_chart(network.target(h))));
    line.length.push_back(line.length.back() + network.seam(Network::seam_of(h)).length_m);
  }
  return line;
}

double turn_at(const ChartedWall& wall, Vec2 p, Vec2 a, Vec2 b) {
  const auto g = form_near(wall, to_chart(p));
  const double along = g.E * a.x * b.x + g.F * (a.x * b.y + a.y * b.x) + g.G * a.y * b.y;
  return std::atan2(std::sqrt(std::max(0.0, g.E * g.G - g.F * g.F)) * cross2(a, b), along);
}

}  // namespace pontata
