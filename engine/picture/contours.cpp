#include "engine/picture/contours.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>

#include "engine/base/parallel.h"
#include "engine/picture/contour_distance.h"
#include "engine/picture/contour_tile.h"
#include "engine/picture/metric_grid.h"

namespace pontata {

struct ContourOrigin {
  WallRef wall;
  ContourFilter filter;
  std::shared_ptr<const MetricGrid> metric;
  int across = 0, up = 0;                              // draped tiles
  std::vector<std::weak_ptr<const DrapedTile>> tiles;  // weak: identity alone is asked
};

namespace {

constexpr double kFinestSigma = 1.5;  // samples
constexpr int kMetricStep = 16;       // draped samples between nodes of the metric
constexpr double kFloor = 0.03;       // so that a change of strength takes the tiles over
constexpr double kGoesOn = 0.4;       // of the strength needed somewhere

// Mean length on the surface of a chart metre.
double mean_scale(const ChartedWall& wall) {
  const auto& mesh = wall.mesh();
  const auto& places = wall.chart->places();
  double surface = 0, chart = 0;
  for (const auto& t : mesh.triangles) {
    surface += glm::length(glm::cross(mesh.points[t[1]] - mesh.points[t[0]], mesh.points[t[2]] - mesh.points[t[0]]));
    const Vec2 a = to_vec(to_chart(places[t[0]])), b = to_vec(to_chart(places[t[1]])) - a,
               c = to_vec(to_chart(places[t[2]])) - a;
    chart += std::abs(b.x * c.y - b.y * c.x);
  }
  return chart > 0 && surface > 0 ? std::sqrt(surface / chart) : 1;
}

ContourFilter filter_for(const Draped& draped, const ContourSettings& settings) {
  ContourFilter filter;
  double sigma = kFinestSigma;
  if (settings.scale_mm > 0) {
    const double wanted = 0.5 * settings.scale_mm / 1000 / mean_scale(*draped.input().wall) / draped.spacing();
    sigma = std::max(sigma, wanted);
  }
  filter.factor = std::max(1, static_cast<int>(std::floor(sigma / kFinestSigma + 1e-6)));
  filter.sigma = sigma / filter.factor;
  filter.floor = static_cast<float>(std::min(kFloor, kGoesOn * settings.strength));
  filter.spacing = draped.spacing() * filter.factor;
  filter.columns = (draped.columns() - 1) / filter.factor + 1;
  filter.rows = (draped.rows() - 1) / filter.factor + 1;
  return filter;
}

// Calls work(k) for k in [0, count), each once, on all workers; the caller's own reports.
template <class Work>
void share_out(std::size_t count, Progress* progress, double from, double to, std::string_view what, const Work& work) {
  std::atomic<std::size_t> next{0};
  for_each_item(worker_count(), 1, [&](std::size_t worker) {
    for (std::size_t k = next++; k < count && !is_cancelled(progress); k = next++) {
      work(k);
      if (worker == 0) report(progress, from + (to - from) * static_cast<double>(k) / static_cast<double>(count), what);
    }
  });
}

// Pictures on the wall before the search, so that no two workers wait for the same tile.
DrapedTiles read_tiles(const Draped& draped, Progress* progress) {
  DrapedTiles out;
  out.columns = draped.columns();
  out.rows = draped.rows();
  out.tiles.resize(static_cast<std::size_t>(out.across()) * static_cast<std::size_t>(out.up()));
  share_out(out.tiles.size(), progress, 0, 0.6, "Reading the pictures on the wall", [&](std::size_t k) {
    const auto across = static_cast<std::size_t>(out.across());
    out.tiles[k] = draped.tile(static_cast<int>(k % across), static_cast<int>(k / across));
  });
  return out;
}

bool same_object(const std::weak_ptr<const DrapedTile>& before, const std::shared_ptr<const DrapedTile>& now) {
  return !before.owner_before(now) && !now.owner_before(before);
}

bool same_tiles(const ContourOrigin& before, const DrapedTiles& now, const TileRange& range) {
  for (int b = range.b0; b < range.b1; ++b)
    for (int a = range.a0; a < range.a1; ++a) {
      const auto k = static_cast<std::size_t>(b) * static_cast<std::size_t>(now.across()) + static_cast<std::size_t>(a);
      if (!same_object(before.tiles[k], now.tiles[k])) return false;
    }
  return true;
}

}  // namespace

// Makes the tiles of one field and joins their ridges.
class ContourMaker {
 public:
  ContourMaker(const Draped& draped, const ContourSettings& settings, const ContourField* before)
      : wall_(draped.input().wall), strength_(static_cast<float>(settings.strength)) {
    auto origin = std::make_shared<ContourOrigin>();
    origin->wall = wall_;
    origin->filter = filter_for(draped, settings);
    field_.spacing = origin->filter.spacing;
    field_.columns = origin->filter.columns;
    field_.rows = origin->filter.rows;
    if (before && before->origin_ && before->origin_->wall == wall_ && before->origin_->filter == origin->filter)
      before_ = before;
    origin->metric = before_ ? before_->origin_->metric
                             : std::make_shared<const MetricGrid>(metric_grid(*wall_, kMetricStep * draped.spacing()));
    origin_ = std::move(origin);
  }

  ContourField make(const DrapedTiles& draped, Progress* progress) {
    field_.tiles_.resize(static_cast<std::size_t>(field_.tiles_across()) * static_cast<std::size_t>(field_.tiles_up()));
    if (before_ && (before_->origin_->across != draped.across() || before_->origin_->up != draped.up()))
      before_ = nullptr;
    share_out(field_.tiles_.size(), progress, 0.6, 0.95, "Looking for contours",
              [&](std::size_t k) { field_.tiles_[k] = tile(draped, k); });
    if (is_cancelled(progress)) return {};
    report(progress, 0.95, "Joining contours");
    join();
    origin_->across = draped.across();
    origin_->up = draped.up();
    origin_->tiles.assign(draped.tiles.begin(), draped.tiles.end());
    field_.origin_ = origin_;
    report(progress, 1, "Contours found");
    return std::move(field_);
  }

 private:
  std::shared_ptr<const ContourTile> tile(const DrapedTiles& draped, std::size_t k) const {
    const auto across = static_cast<std::size_t>(field_.tiles_across());
    const int a = static_cast<int>(k % across), b = static_cast<int>(k / across);
    if (before_ && same_tiles(*before_->origin_, draped, draped_range(origin_->filter, draped, a, b)))
      return before_->tiles_[k];
    return contour_tile(origin_->filter, draped, *origin_->metric, a, b);
  }

  // Keeps ridges joined to one of the strength asked for through neighbours of eight.
  void join() {
    field_.first_.reserve(field_.tiles_.size());
    std::size_t count = 0;
    for (const auto& tile : field_.tiles_) {
      field_.first_.push_back(count);
      if (tile) count += tile->ridges.size();
    }
    field_.joined_.assign(count, false);
    std::vector<std::pair<int, int>> open;
    for (std::size_t t = 0; t < field_.tiles_.size(); ++t) {
      if (!field_.tiles_[t]) continue;
      for (std::size_t k = 0; k < field_.tiles_[t]->ridges.size(); ++k) {
        if (field_.tiles_[t]->ridges[k].strength < strength_) continue;
        open.push_back(place(t, field_.tiles_[t]->samples[k]));
        spread(open);
      }
    }
  }

  std::pair<int, int> place(std::size_t t, int sample) const {
    const auto across = static_cast<std::size_t>(field_.tiles_across());
    return {static_cast<int>(t % across) * ContourTile::kSide + sample % ContourTile::kSide,
            static_cast<int>(t / across) * ContourTile::kSide + sample / ContourTile::kSide};
  }

  // Takes the places in `open` and all that hang together with them; leaves it empty.
  void spread(std::vector<std::pair<int, int>>& open) {
    if (!take(open.back().first, open.back().second)) open.pop_back();
    while (!open.empty()) {
      const auto [i, j] = open.back();
      open.pop_back();
      for (int y = j - 1; y <= j + 1; ++y)  // ridges never lie on the grid's rim
        for (int x = i - 1; x <= i + 1; ++x)
          if (take(x, y)) open.push_back({x, y});
    }
  }

  // False where there is no ridge strong enough or it was taken before.
  bool take(int i, int j) {
    const std::size_t t = field_.tile_index(i / ContourTile::kSide, j / ContourTile::kSide);
    const ContourTile* tile = field_.tiles_[t].get();
    if (!tile || tile->number.empty()) return false;
    const auto cell = j % ContourTile::kSide * ContourTile::kSide + i % ContourTile::kSide;
    const std::size_t number = tile->number[static_cast<std::size_t>(cell)];
    if (number == 0 || tile->ridges[number - 1].strength < static_cast<float>(kGoesOn) * strength_) return false;
    if (field_.joined_[field_.first_[t] + number - 1]) return false;
    field_.joined_[field_.first_[t] + number - 1] = true;
    return true;
  }

  WallRef wall_;
  float strength_;
  const ContourField* before_ = nullptr;
  std::shared_ptr<ContourOrigin> origin_;
  ContourField field_;
};

float ContourField::busy(int a, int b) const {
  constexpr int n = ContourTile::kBlocks, kReach = 2;
  const int across = tiles_across() * n, up = tiles_up() * n;
  float sum = 0, weights = 0;
  for (int y = std::max(b - kReach, 0); y <= std::min(b + kReach, up - 1); ++y)
    for (int x = std::max(a - kReach, 0); x <= std::min(a + kReach, across - 1); ++x) {
      const ContourTile* tile = tiles_[tile_index(x / n, y / n)].get();
      if (!tile || tile->blocks.empty()) continue;
      const float mean = tile->blocks[static_cast<std::size_t>(y % n * n + x % n)];
      if (mean < 0) continue;
      const auto weight = static_cast<float>((kReach + 1 - std::abs(x - a)) * (kReach + 1 - std::abs(y - b)));
      sum += weight * mean;
      weights += weight;
    }
  return weights > 0 ? sum / weights : 0;
}

std::size_t ContourField::bytes() const {
  std::size_t sum = first_.capacity() * sizeof(std::size_t) + joined_.capacity() / 8 +
                    tiles_.capacity() * sizeof(std::shared_ptr<const ContourTile>);
  for (const auto& tile : tiles_)
    if (tile)
      sum += sizeof(ContourTile) + 2 * (tile->number.capacity() + tile->samples.capacity()) +
             tile->ridges.capacity() * sizeof(Ridge) + tile->blocks.capacity() * sizeof(float);
  if (origin_)
    sum += origin_->metric->nodes.size() * sizeof(Metric::FirstForm) +
           origin_->tiles.size() * sizeof(std::weak_ptr<const DrapedTile>);
  return sum;
}

ContourField contour_field(const Draped& draped, const ContourSettings& settings, const ContourField* before,
                           Progress* progress) {
  const DrapedTiles tiles = read_tiles(draped, progress);
  if (is_cancelled(progress)) return {};
  return ContourMaker(draped, settings, before).make(tiles, progress);
}

namespace {

// Of ridges that `counts`, given the chart direction they run in.
template <class Counts>
double nearest_ridge(const ChartedWall& wall, const ContourField& field, ChartPoint p, double reach, double strength,
                     const Counts& counts) {
  const auto triangle = field.columns > 0 ? wall.chart->triangle_at(to_lattice(wall.chart->clamp(p))) : std::nullopt;
  if (!triangle || !(reach > 0)) return std::max(reach, 0.0);
  const auto form = wall.metric->first_form(*triangle);
  const double det = form.E * form.G - form.F * form.F;
  // The box of the ellipse of all chart steps of surface length `reach`, and one sample for the offsets.
  const double du = reach * std::sqrt(form.G / det) + field.spacing,
               dv = reach * std::sqrt(form.E / det) + field.spacing;
  const auto cell = [&](double x, int last) {
    return static_cast<int>(std::clamp(x / field.spacing, 0.0, 1.0 * last));
  };
  const int i0 = cell(p.u - du, field.columns - 1), i1 = cell(p.u + du + field.spacing, field.columns - 1);
  const int j0 = cell(p.v - dv, field.rows - 1), j1 = cell(p.v + dv + field.spacing, field.rows - 1);
  double best = reach;
  for (int j = j0; j <= j1; ++j) {
    for (int i = i0; i <= i1; ++i) {
      const Ridge ridge = field.at(i, j);
      if (ridge.strength <= 0 || static_cast<double>(ridge.strength) < strength) continue;
      const Vec2 across(std::cos(ridge.direction), std::sin(ridge.direction)), along(-across.y, across.x);
      if (!counts(along)) continue;
      Vec2 d = (Vec2(i, j) + across * static_cast<double>(ridge.offset)) * field.spacing - to_vec(p);
      d -= along * std::clamp(glm::dot(d, along), -0.6 * field.spacing, 0.6 * field.spacing);  // its piece of the ridge
      best = std::min(best, step_length(form, d));
    }
  }
  return best;
}

}  // namespace

double distance_to_contour(const ChartedWall& wall, const ContourField& field, ChartPoint p, double reach,
                           double strength) {
  return nearest_ridge(wall, field, p, reach, strength, [](Vec2) { return true; });
}

double distance_to_contour_along(const ChartedWall& wall, const ContourField& field, ChartPoint p, Vec2 along,
                                 double within_rad, double reach, double strength) {
  const Vec2 way = along / glm::length(along);
  const double least = std::cos(within_rad);
  return nearest_ridge(wall, field, p, reach, strength,
                       [&](Vec2 runs) { return std::abs(glm::dot(runs, way)) >= least; });
}

}  // namespace pontata
