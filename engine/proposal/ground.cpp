#include "engine/proposal/ground.h"

#include <algorithm>
#include <cmath>

#include "engine/base/parallel.h"
#include "engine/calendar/rates.h"
#include "engine/picture/metric_grid.h"
#include "engine/picture/wall_rows.h"
#include "engine/seams/hug_cost.h"

namespace pontata {

namespace {

constexpr double kStrength = 0.10;                      // as HugOptions
constexpr float kHalf = 0.7f;                           // of standing out: a contour that hides half, as in hug_cost
constexpr float kPlain = 0.9f;                          // how well any contour of that strength hides a seam
constexpr float kRib = 0.7f;                            // how well a rib hides a seam
constexpr double kLeastCell = 0.003, kMostCell = 0.02;  // surface m

// Calls each(j, first, last) for the runs of cells in row j whose middles lie inside the rings.
template <class Each>
void each_run(const ProposalGround& ground, std::span<const Ring> rings, const Each& each) {
  const WallRows rows(rings, ground.origin.y + 0.5 * ground.cell, ground.cell, ground.rows);
  for (int j = 0; j < ground.rows; ++j)
    for (const RowSpan& span : rows.spans(j)) {
      const double from = (span.from - ground.origin.x) / ground.cell, to = (span.to - ground.origin.x) / ground.cell;
      const int first = std::max(0, static_cast<int>(std::ceil(from - 0.5)));
      const int last = std::min(ground.columns - 1, static_cast<int>(std::ceil(to - 0.5)) - 1);
      if (first <= last) each(j, first, last);
    }
}

void lay_out(ProposalGround& ground, const ChartedWall& wall, std::size_t cells) {
  const ChartBox box = wall.chart->box();
  const double chart_area = box.width * box.height, scale = std::sqrt(wall.metric->area() / chart_area);
  const double wanted = std::sqrt(wall.metric->area() / static_cast<double>(cells));
  ground.cell = std::clamp(wanted, kLeastCell, kMostCell) / std::max(1e-6, std::min(1.0, scale));
  // Off the lattice's round places, so that no line of cells lies along a straight edge of the wall.
  ground.origin = Vec2(-0.3719, -0.4127) * ground.cell;
  ground.columns = static_cast<int>(std::ceil(box.width / ground.cell)) + 2;
  ground.rows = static_cast<int>(std::ceil(box.height / ground.cell)) + 2;
  const auto count = static_cast<std::size_t>(ground.columns) * static_cast<std::size_t>(ground.rows);
  ground.free.assign(count, 0);
  for (auto* field : {&ground.across, &ground.up, &ground.area, &ground.hours, &ground.height, &ground.hides})
    field->assign(count, 0);
  ground.whole.assign(count, kNoAtom);
}

void mark_free(ProposalGround& ground, const Network& network, const ChartedWall& wall) {
  const auto mark = [&](std::span<const Ring> rings, std::uint8_t as) {
    each_run(ground, rings, [&](int j, int first, int last) {
      std::fill_n(ground.free.begin() + static_cast<std::ptrdiff_t>(ground.index(first, j)), last - first + 1, as);
    });
  };
  mark(wall.chart->border_rings(), 1);
  for (const FaceId face : network.faces())
    if (network.face(face).owner) mark(network.rings(face), 0);
}

void measure(ProposalGround& ground, const ChartedWall& wall) {
  const MetricGrid grid = metric_grid(wall, 4 * ground.cell);
  for_each_item(static_cast<std::size_t>(ground.rows), 8, [&](std::size_t row) {
    const int j = static_cast<int>(row);
    for (int i = 0; i < ground.columns; ++i) {
      const std::size_t k = ground.index(i, j);
      if (!ground.free[k]) continue;
      const ChartPoint p = to_chart(ground.middle(i, j));
      const auto form = grid.at(p);
      ground.across[k] = static_cast<float>(std::sqrt(form.E) * ground.cell);
      ground.up[k] = static_cast<float>(std::sqrt(form.G) * ground.cell);
      ground.area[k] =
          static_cast<float>(std::sqrt(std::max(0.0, form.E * form.G - form.F * form.F)) * ground.cell * ground.cell);
      const auto at = wall.position(p);
      ground.height[k] = static_cast<float>(at ? at->z : 0.0);
    }
  });
}

void add_hours(ProposalGround& ground, const ProposalInput& input) {
  std::vector<float> rate(ground.free.size(), static_cast<float>(plain_rate(input.calendar).value_or(0)));
  std::vector<std::uint8_t> told(ground.free.size(), 0);
  for (const Zone& zone : input.zones) {
    if (!tells_rate(zone)) continue;
    const auto own = static_cast<float>(zone_rate(zone, input.calendar).value_or(0));
    each_run(ground, zone.rings(), [&](int j, int first, int last) {
      for (std::size_t k = ground.index(first, j); k <= ground.index(last, j); ++k)
        if (!told[k]) told[k] = 1, rate[k] = own;
    });
  }
  for (std::size_t k = 0; k < rate.size(); ++k)
    if (ground.free[k] && rate[k] > 0) ground.hours[k] = ground.area[k] / rate[k];
}

// Keep-whole zones with a margin of a cell, so that no side of a cell enters one.
void mark_whole(ProposalGround& ground, std::span<const Zone> zones) {
  for (std::size_t z = 0; z < zones.size(); ++z) {
    if (zones[z].kind != ZoneKind::keep_whole || zones[z].ring.size() < 3) continue;
    each_run(ground, zones[z].rings(), [&](int j, int first, int last) {
      for (int y = std::max(0, j - 1); y <= std::min(ground.rows - 1, j + 1); ++y)
        for (int x = std::max(0, first - 1); x <= std::min(ground.columns - 1, last + 1); ++x) {
          const std::size_t k = ground.index(x, y);
          if (ground.free[k] && ground.whole[k] == kNoAtom) ground.whole[k] = static_cast<std::uint32_t>(z);
        }
    });
  }
}

void hide(ProposalGround& ground, Vec2 p, float share) {
  const Vec2 at = (p - ground.origin) / ground.cell;
  const int i = static_cast<int>(std::floor(at.x)), j = static_cast<int>(std::floor(at.y));
  if (!ground.is_free(i, j)) return;
  float& hides = ground.hides[ground.index(i, j)];
  hides = std::max(hides, share);
}

void add_contours(ProposalGround& ground, const ContourField& field) {
  field.each_ridge([&](int i, int j, const Ridge& ridge) {
    const double along = ridge.offset * field.spacing, turn = ridge.direction;
    const Vec2 p = Vec2(i, j) * field.spacing + along * Vec2(std::cos(turn), std::sin(turn));
    const float stands = stands_out(ridge, field.busy(i / ContourTile::kBlock, j / ContourTile::kBlock), kStrength);
    // Any plain contour hides a seam about as well; one that stands out is the better choice of two.
    const float plain = ridge.strength >= static_cast<float>(kStrength) ? kPlain : 0;
    hide(ground, p, std::max(plain, stands / (stands + kHalf)));
  });
}

void add_ribs(ProposalGround& ground, const WallRibs& ribs) {
  for (const auto& line : ribs.lines)
    for (std::size_t k = 0; k + 1 < line.size(); ++k) {
      const Vec2 a = to_vec(line[k]), step = to_vec(line[k + 1]) - a;
      const int parts = 1 + static_cast<int>(2 * glm::length(step) / ground.cell);
      for (int s = 0; s <= parts; ++s) hide(ground, a + step * (static_cast<double>(s) / parts), kRib);
    }
}

}  // namespace

ProposalGround proposal_ground(const ProposalInput& input, const Network& network, std::size_t cells,
                               Progress* progress) {
  ProposalGround ground;
  lay_out(ground, *input.wall, cells);
  mark_free(ground, network, *input.wall);
  if (is_cancelled(progress)) return ground;
  measure(ground, *input.wall);
  add_hours(ground, input);
  mark_whole(ground, input.zones);
  if (input.contours && input.contours->columns > 0) add_contours(ground, *input.contours);
  if (input.ribs) add_ribs(ground, *input.ribs);
  return ground;
}

}  // namespace pontata
