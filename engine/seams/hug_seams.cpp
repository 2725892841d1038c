#include "engine/seams/hug_seams.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <set>
#include <unordered_map>
#include <utility>

#include "engine/base/predicates.h"
#include "engine/chart/first_form.h"
#include "engine/picture/metric_grid.h"
#include "engine/seams/cut_contacts.h"

namespace pontata {

namespace {

constexpr double kVertexReach = 0.0005;  // m
constexpr int kCells = 192;              // along the longer side
constexpr double kLeastCell = 0.01;      // m

SeamPiece piece_of(const Network& network, HalfEdgeId h, HugTarget what, GiornataId one, GiornataId other) {
  if (other < one) std::swap(one, other);
  return {network.origin(h),
          network.target(h),
          network.half_edge(h).origin.value,
          network.half_edge(Network::twin(h)).origin.value,
          network.seam(Network::seam_of(h)).length_m,
          what,
          one,
          other};
}

GiornataId owner_beside(const Network& network, HalfEdgeId h) { return network.face(network.half_edge(h).face).owner; }

}  // namespace

HugSeams::HugSeams(const ChartedWall& wall, const Network& network) : wall_(&wall) {
  take_border(network);
  take_inner(network);
  finish(network.vertex_slots());
}

HugSeams::HugSeams(const ChartedWall& wall, const WallRibs& ribs) : wall_(&wall) {
  std::unordered_map<LatticePoint, std::uint32_t> numbers;
  const auto number = [&](LatticePoint p) {
    return numbers.try_emplace(p, static_cast<std::uint32_t>(numbers.size())).first->second;
  };
  for (const auto& line : ribs.lines) {
    for (std::size_t k = 0; k + 1 < line.size(); ++k) {
      const LatticePoint a = to_lattice(line[k]), b = to_lattice(line[k + 1]);
      if (a == b) continue;
      const std::uint32_t from = number(a), to = number(b);
      pieces_.push_back({a, b, from, to, wall.metric->measure(a, b).length_m, HugTarget::rib, {}, {}});
    }
  }
  finish(numbers.size());
}

// Where the wall was cut open, its border is a seam between those on either side, or nothing to follow where one
// giornata, or the rest, lies on both.
void HugSeams::take_border(const Network& network) {
  std::map<SeamId, std::pair<GiornataId, GiornataId>> cuts;
  for (const auto& [h, c] : contacts_by_half_edge(cut_contacts(network, *wall_->chart))) {
    const auto both = std::pair(owner_beside(network, c.here), owner_beside(network, c.there));
    const auto [at, fresh] = cuts.try_emplace(Network::seam_of(h), both);
    if (!fresh && at->second.first == at->second.second) at->second = both;
  }
  for (const auto& cycle : network.cycles(Network::kOutside)) {
    Ring ring;
    for (const HalfEdgeId h : cycle) ring.push_back(network.origin(h));
    const auto target = twice_area(ring) > 0 ? HugTarget::opening : HugTarget::edge;  // the outside lies on its left
    for (const HalfEdgeId h : cycle) {
      const HalfEdgeId first{h.value & ~1u};
      const auto cut = cuts.find(Network::seam_of(h));
      if (cut == cuts.end()) {
        pieces_.push_back(piece_of(network, first, target, {}, {}));
      } else if (cut->second.first != cut->second.second) {
        pieces_.push_back(piece_of(network, first, HugTarget::seam, cut->second.first, cut->second.second));
      }
    }
  }
}

void HugSeams::take_inner(const Network& network) {
  for (std::uint32_t h = 0; h + 1 < network.half_edge_slots(); h += 2) {
    const HalfEdgeId first{h};
    if (!network.alive(first) || network.on_border(Network::seam_of(first))) continue;
    pieces_.push_back(piece_of(network, first, HugTarget::seam, owner_beside(network, first),
                               owner_beside(network, Network::twin(first))));
  }
}

void HugSeams::finish(std::size_t ends) {
  if (pieces_.empty()) return;
  first_.assign(ends + 1, 0);
  for (const auto& p : pieces_) ++first_[p.from], ++first_[p.to];
  std::partial_sum(first_.begin(), first_.end(), first_.begin());
  beside_.resize(first_.back());
  for (std::uint32_t k = 0; k < pieces_.size(); ++k)
    beside_[--first_[pieces_[k].from]] = k, beside_[--first_[pieces_[k].to]] = k;
  constexpr double far = std::numeric_limits<double>::infinity();
  Vec2 low(far, far), high(-far, -far);
  for (std::uint32_t k = 0; k < pieces_.size(); ++k) {
    for (int which = 0; which < 2; ++which) {
      low = glm::min(low, end(k, which));
      high = glm::max(high, end(k, which));
    }
  }
  low_ = low;
  cell_ = std::max(kLeastCell, std::max(high.x - low.x, high.y - low.y) / kCells);
  columns_ = static_cast<int>((high.x - low.x) / cell_) + 1;
  rows_ = static_cast<int>((high.y - low.y) / cell_) + 1;
  cells_.resize(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_));
  for (std::uint32_t k = 0; k < pieces_.size(); ++k) index(k);
}

void HugSeams::index(std::uint32_t piece) {
  Vec2 a = end(piece, 0) - low_, b = end(piece, 1) - low_;
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
          piece);
    }
  }
}

std::optional<SeamSpot> HugSeams::nearest(Vec2 p, double reach_m) const {
  if (pieces_.empty() || !(reach_m > 0)) return std::nullopt;
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
  if (best->share == 0 || best->share == 1) best->place = to_chart(end(best->piece, best->share == 0 ? 0 : 1));
  best->place = to_chart(to_lattice(best->place));
  return best;
}

std::optional<SeamRoute> HugSeams::route(const SeamSpot& from, const SeamSpot& to, double most_m,
                                         const std::function<bool(Vec2)>& admit) const {
  if (from.place == to.place) return std::nullopt;
  const SeamPiece &start = pieces_[from.piece], &goal = pieces_[to.piece];
  if (from.piece == to.piece) {
    const double m = std::abs(to.share - from.share) * start.length_m;
    return m <= most_m ? std::optional(SeamRoute{{from.place, to.place}, m}) : std::nullopt;
  }
  struct Reached {
    double cost;
    std::uint32_t parent;
    LatticePoint place;
  };
  std::map<std::uint32_t, Reached> reached;  // by end
  std::set<std::pair<double, std::uint32_t>> open;
  const auto relax = [&](std::uint32_t e, LatticePoint place, double cost, std::uint32_t parent) {
    if (cost > most_m || !admit(to_vec(to_chart(place)))) return;
    const auto it = reached.find(e);
    if (it != reached.end() && it->second.cost <= cost) return;
    if (it != reached.end()) open.erase({it->second.cost, e});
    reached[e] = {cost, parent, place};
    open.insert({cost, e});
  };
  relax(start.from, start.a, from.share * start.length_m, kNone);
  relax(start.to, start.b, (1 - from.share) * start.length_m, kNone);
  const std::uint32_t goals[2] = {goal.from, goal.to};
  const double rest[2] = {to.share * goal.length_m, (1 - to.share) * goal.length_m};
  double best = most_m;
  std::uint32_t last = kNone;
  while (!open.empty() && open.begin()->first <= best) {
    const auto [cost, e] = *open.begin();
    open.erase(open.begin());
    for (int k = 0; k < 2; ++k) {
      if (e == goals[k] && cost + rest[k] <= best) {
        best = cost + rest[k];
        last = e;
      }
    }
    for (auto n = first_[e]; n < first_[e + 1]; ++n) {
      const SeamPiece& p = pieces_[beside_[n]];
      if (p.from == e)
        relax(p.to, p.b, cost + p.length_m, e);
      else
        relax(p.from, p.a, cost + p.length_m, e);
    }
  }
  if (last == kNone) return std::nullopt;
  SeamRoute route{{to.place}, best};
  const auto add = [&](ChartPoint p) {
    if (!(p == route.points.back())) route.points.push_back(p);
  };
  for (std::uint32_t e = last; e != kNone; e = reached.at(e).parent) add(to_chart(reached.at(e).place));
  add(from.place);
  std::reverse(route.points.begin(), route.points.end());
  return route;
}

}  // namespace pontata
