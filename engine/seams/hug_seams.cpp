#include "engine/seams/hug_seams.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>
#include <utility>

#include "engine/chart/first_form.h"
#include "engine/picture/metric_grid.h"
#include "engine/seams/cut_contacts.h"

namespace pontata {

namespace {

constexpr double kVertexReach = 0.0005;  // m
constexpr int kCells = 192;              // along the longer side
constexpr double kLeastCell = 0.01;      // m

}  // namespace

HugSeams::HugSeams(const ChartedWall& wall, const Network& network) : wall_(&wall), network_(&network) {
  find_plain();
  constexpr double far = std::numeric_limits<double>::infinity();
  Vec2 low(far, far), high(-far, -far);
  for (std::uint32_t h = 0; h + 1 < network.half_edge_slots(); h += 2) {
    if (!network.alive(HalfEdgeId{h}) || plain_.contains(SeamId{h / 2})) continue;
    seams_.push_back(SeamId{h / 2});
    for (int k = 0; k < 2; ++k) {
      const Vec2 p = end(seams_.back(), k);
      low = glm::min(low, p);
      high = glm::max(high, p);
    }
  }
  if (seams_.empty()) return;
  low_ = low;
  cell_ = std::max(kLeastCell, std::max(high.x - low.x, high.y - low.y) / kCells);
  columns_ = static_cast<int>((high.x - low.x) / cell_) + 1;
  rows_ = static_cast<int>((high.y - low.y) / cell_) + 1;
  cells_.resize(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_));
  for (const auto s : seams_) index(s);
}

void HugSeams::find_plain() {
  std::set<SeamId> between;
  for (const auto& [h, c] : contacts_by_half_edge(cut_contacts(*network_, *wall_->chart))) {
    const auto owner = [&](HalfEdgeId k) { return network_->face(network_->half_edge(k).face).owner; };
    (owner(c.here) == owner(c.there) ? plain_ : between).insert(Network::seam_of(h));
  }
  for (const SeamId s : between) plain_.erase(s);
}

Vec2 HugSeams::end(SeamId s, int which) const {
  const HalfEdgeId h{2 * s.value};
  return to_vec(to_chart(which == 0 ? network_->origin(h) : network_->target(h)));
}

void HugSeams::index(SeamId s) {
  Vec2 a = end(s, 0) - low_, b = end(s, 1) - low_;
  if (a.y > b.y) std::swap(a, b);
  const auto clamped = [this](double x, int count) {
    return std::clamp(static_cast<int>(std::floor(x / cell_)), 0, count - 1);
  };
  const int first = clamped(a.y, rows_), last = clamped(b.y, rows_);
  for (int r = first; r <= last; ++r) {
    const auto x_at = [&](double y) { return a.x + (b.x - a.x) * std::clamp((y - a.y) / (b.y - a.y), 0.0, 1.0); };
    double from = a.x, to = b.x;
    if (first != last) {
      from = x_at(r * cell_);
      to = x_at((r + 1) * cell_);
    }
    if (from > to) std::swap(from, to);
    for (int c = clamped(from - 1e-9, columns_); c <= clamped(to + 1e-9, columns_); ++c) {
      cells_[static_cast<std::size_t>(r) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(c)].push_back(
          s);
    }
  }
}

std::optional<SeamSpot> HugSeams::nearest(Vec2 p, double reach_m) const {
  if (seams_.empty() || !(reach_m > 0)) return std::nullopt;
  const auto form = form_near(*wall_, to_chart(p));
  const double det = form.E * form.G - form.F * form.F;
  const Vec2 box(reach_m * std::sqrt(form.G / det), reach_m * std::sqrt(form.E / det));  // of the ellipse of that reach
  const auto cell = [this](double x) { return static_cast<int>(std::floor(std::clamp(x / cell_, -1e6, 1e6))); };
  const int c0 = std::max(cell(p.x - box.x - low_.x), 0), c1 = std::min(cell(p.x + box.x - low_.x), columns_ - 1);
  const int r0 = std::max(cell(p.y - box.y - low_.y), 0), r1 = std::min(cell(p.y + box.y - low_.y), rows_ - 1);
  std::optional<SeamSpot> best;
  for (int r = r0; r <= r1; ++r) {
    for (int c = c0; c <= c1; ++c) {
      for (const auto s :
           cells_[static_cast<std::size_t>(r) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(c)]) {
        const Vec2 a = end(s, 0), d = end(s, 1) - a;
        const double share = std::clamp(dot(form, p - a, d) / dot(form, d, d), 0.0, 1.0);
        const double distance = step_length(form, a + d * share - p);
        if (distance > reach_m || (best && distance >= best->distance_m)) continue;
        best = SeamSpot{s, share, to_chart(a + d * share), d, distance};
      }
    }
  }
  if (!best) return best;
  const double length = step_length(form, best->along);
  if (best->share * length < kVertexReach && best->share <= 0.5) best->share = 0;
  if ((1 - best->share) * length < kVertexReach && best->share > 0.5) best->share = 1;
  if (best->share == 0 || best->share == 1) best->place = to_chart(end(best->seam, best->share == 0 ? 0 : 1));
  best->place = to_chart(to_lattice(best->place));
  return best;
}

std::optional<SeamRoute> HugSeams::route(const SeamSpot& from, const SeamSpot& to, double most_m,
                                         const std::function<bool(Vec2)>& admit) const {
  if (from.place == to.place) return std::nullopt;
  const auto length = [this](SeamId s) { return network_->seam(s).length_m; };
  if (from.seam == to.seam) {
    const double m = std::abs(to.share - from.share) * length(from.seam);
    return m <= most_m ? std::optional(SeamRoute{{from.place, to.place}, m}) : std::nullopt;
  }
  const auto end_of = [this](SeamId s, int which) {
    const HalfEdgeId h{2 * s.value};
    return network_->half_edge(which == 0 ? h : Network::twin(h)).origin;
  };
  struct Reached {
    double cost;
    VertexId parent;
  };
  std::map<VertexId, Reached> reached;
  std::set<std::pair<double, VertexId>> open;
  const auto relax = [&](VertexId v, double cost, VertexId parent) {
    if (cost > most_m || !admit(to_vec(to_chart(network_->vertex(v).place)))) return;
    const auto it = reached.find(v);
    if (it != reached.end() && it->second.cost <= cost) return;
    if (it != reached.end()) open.erase({it->second.cost, v});
    reached[v] = {cost, parent};
    open.insert({cost, v});
  };
  relax(end_of(from.seam, 0), from.share * length(from.seam), VertexId{kNone});
  relax(end_of(from.seam, 1), (1 - from.share) * length(from.seam), VertexId{kNone});
  const VertexId goals[2] = {end_of(to.seam, 0), end_of(to.seam, 1)};
  const double rest[2] = {to.share * length(to.seam), (1 - to.share) * length(to.seam)};
  double best = most_m;
  VertexId last{kNone};
  while (!open.empty() && open.begin()->first <= best) {
    const auto [cost, v] = *open.begin();
    open.erase(open.begin());
    for (int k = 0; k < 2; ++k) {
      if (v == goals[k] && cost + rest[k] <= best) {
        best = cost + rest[k];
        last = v;
      }
    }
    const HalfEdgeId start = network_->vertex(v).out;
    HalfEdgeId h = start;
    do {
      if (!plain_.contains(Network::seam_of(h)))
        relax(network_->half_edge(Network::twin(h)).origin, cost + length(Network::seam_of(h)), v);
      h = network_->half_edge(Network::twin(h)).next;
    } while (h != start);
  }
  if (last.value == kNone) return std::nullopt;
  SeamRoute route{{to.place}, best};
  const auto add = [&](ChartPoint p) {
    if (!(p == route.points.back())) route.points.push_back(p);
  };
  for (VertexId v = last; v.value != kNone; v = reached.at(v).parent) add(to_chart(network_->vertex(v).place));
  add(from.place);
  std::reverse(route.points.begin(), route.points.end());
  return route;
}

}  // namespace pontata
