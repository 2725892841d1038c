#include "engine/picture/metric_grid.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>

namespace pontata {

namespace {

// Spreads known nodes to unknown ones in rings of steps, row order within a ring.
void fill_unknown(MetricGrid& grid, std::vector<std::uint8_t>& known) {
  std::vector<std::size_t> front;
  for (std::size_t k = 0; k < known.size(); ++k) {
    if (known[k]) front.push_back(k);
  }
  const auto columns = static_cast<std::ptrdiff_t>(grid.columns), rows = static_cast<std::ptrdiff_t>(grid.rows);
  while (!front.empty()) {
    std::vector<std::size_t> next;
    for (const auto k : front) {
      const auto i = static_cast<std::ptrdiff_t>(k) % columns, j = static_cast<std::ptrdiff_t>(k) / columns;
      for (const auto& [di, dj] : {std::pair{-1, 0}, std::pair{1, 0}, std::pair{0, -1}, std::pair{0, 1}}) {
        if (i + di < 0 || i + di >= columns || j + dj < 0 || j + dj >= rows) continue;
        const auto n = static_cast<std::size_t>((j + dj) * columns + i + di);
        if (known[n]) continue;
        known[n] = 1;
        grid.nodes[n] = grid.nodes[k];
        next.push_back(n);
      }
    }
    front = std::move(next);
  }
}

}  // namespace

Metric::FirstForm MetricGrid::at(ChartPoint p) const {
  const double x = std::clamp(p.u / spacing, 0.0, columns - 1.0), y = std::clamp(p.v / spacing, 0.0, rows - 1.0);
  const int i = std::min(static_cast<int>(x), std::max(columns - 2, 0));
  const int j = std::min(static_cast<int>(y), std::max(rows - 2, 0));
  const int right = std::min(i + 1, columns - 1), above = std::min(j + 1, rows - 1);
  const auto node = [&](int a, int b) -> const Metric::FirstForm& {
    return nodes[static_cast<std::size_t>(b) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(a)];
  };
  const double tx = x - i, ty = y - j;
  const double w00 = (1 - tx) * (1 - ty), w10 = tx * (1 - ty), w01 = (1 - tx) * ty, w11 = tx * ty;
  const auto &a = node(i, j), &b = node(right, j), &c = node(i, above), &d = node(right, above);
  return {w00 * a.E + w10 * b.E + w01 * c.E + w11 * d.E, w00 * a.F + w10 * b.F + w01 * c.F + w11 * d.F,
          w00 * a.G + w10 * b.G + w01 * c.G + w11 * d.G};
}

MetricGrid metric_grid(const ChartedWall& wall, double spacing) {
  const auto box = wall.chart->box();
  MetricGrid grid;
  grid.spacing = spacing;
  grid.columns = static_cast<int>(std::ceil(box.width / spacing)) + 1;
  grid.rows = static_cast<int>(std::ceil(box.height / spacing)) + 1;
  grid.nodes.resize(static_cast<std::size_t>(grid.columns) * static_cast<std::size_t>(grid.rows));
  std::vector<std::uint8_t> known(grid.nodes.size(), 0);
  for (int j = 0; j < grid.rows; ++j) {
    for (int i = 0; i < grid.columns; ++i) {
      const auto triangle = wall.chart->triangle_at(to_lattice({i * spacing, j * spacing}));
      if (!triangle) continue;
      const auto k = static_cast<std::size_t>(j) * static_cast<std::size_t>(grid.columns) + static_cast<std::size_t>(i);
      grid.nodes[k] = wall.metric->first_form(*triangle);
      known[k] = 1;
    }
  }
  fill_unknown(grid, known);
  return grid;
}

Metric::FirstForm form_near(const ChartedWall& wall, ChartPoint p) {
  auto triangle = wall.chart->triangle_at(to_lattice(p));
  if (!triangle) triangle = wall.chart->triangle_at(to_lattice(wall.chart->clamp(p)));
  return triangle ? wall.metric->first_form(*triangle) : Metric::FirstForm{};
}

double step_length(const Metric::FirstForm& form, const Vec2& d) {
  return std::sqrt(std::max(0.0, form.E * d.x * d.x + 2 * form.F * d.x * d.y + form.G * d.y * d.y));
}

}  // namespace pontata
