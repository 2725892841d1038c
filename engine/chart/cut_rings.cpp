// A closed line cut up at the cut, closed again along it.
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>

#include "engine/base/predicates.h"
#include "engine/chart/cut_crossing.h"

namespace pontata {

namespace {

Problem goes_round() {
  return {"The outline goes all the way round the wall", "", "Draw it as two giornate, each round a part of the wall."};
}

Problem touches_itself(LatticePoint place) {
  const ChartPoint p = to_chart(place);
  return {"The outline crosses or touches itself", fmt::format("at {:.4f} {:.4f}", p.u, p.v),
          "Draw it so that it goes once around the giornata."};
}

Problem encloses_nothing() {
  return {"The outline encloses nothing", "",
          "Places on the two sides of the cut are one place; draw what goes all the way round as two giornate."};
}

// Where a piece begins or ends on the border.
struct Foot {
  std::size_t piece = 0;
  bool begins = false;
  Chart::BorderPlace at;
  bool inside_after = false;  // the border just after it lies inside
};

class Closer {
 public:
  Closer(const Chart& chart, std::span<const CutPiece> pieces) : chart_(chart), pieces_(pieces) {
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      feet_.push_back({i, true, pieces[i].begins.value()});
      feet_.push_back({i, false, pieces[i].ends.value()});
    }
    order_.resize(chart.border_loops().size());
    for (std::size_t f = 0; f < feet_.size(); ++f) order_[loop_of(f)].push_back(f);
  }

  Result<std::vector<Ring>> close() {
    for (std::uint32_t l = 0; l < order_.size(); ++l) {
      if (!mark_inside(l)) return goes_round();
      if (const auto place = crossed_twice(l)) return touches_itself(*place);
    }
    if (!sides_agree()) return goes_round();
    std::vector<Ring> rings;
    std::vector<bool> used(pieces_.size(), false);
    for (std::size_t i = 0; i < pieces_.size(); ++i)
      if (!used[i])
        if (Ring ring = trace(i, used); !is_sliver(ring)) rings.push_back(std::move(ring));
    if (rings.empty()) return encloses_nothing();
    return rings;
  }

 private:
  std::uint32_t loop_of(std::size_t f) const { return chart_.border_edges()[feet_[f].at.edge].loop; }
  bool is_cut(std::uint32_t edge) const { return chart_.across_cut(edge) != Chart::kNoTriangle; }

  // A border edge where the wall really ends, from which positions along the loop are counted; the first edge where
  // there is none.
  std::uint32_t start_of(std::uint32_t loop) const {
    const auto [begin, end] = chart_.loop_range(loop);
    for (auto e = begin; e < end; ++e)
      if (!is_cut(e)) return e;
    return begin;
  }
  // How far round its loop an edge lies, counted from `start`.
  std::uint32_t round_from(std::uint32_t start, std::uint32_t edge) const {
    const auto [begin, end] = chart_.loop_range(chart_.border_edges()[edge].loop);
    return edge >= start ? edge - start : edge - begin + (end - start);
  }
  std::uint32_t next_edge(std::uint32_t edge) const {
    const auto [begin, end] = chart_.loop_range(chart_.border_edges()[edge].loop);
    return edge + 1 < end ? edge + 1 : begin;
  }

  // Sorts the feet of one loop and says what lies after each. False where inside would reach the wall's real border.
  bool mark_inside(std::uint32_t loop) {
    auto& order = order_[loop];
    if (order.empty()) return true;
    const std::uint32_t start = start_of(loop);
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      const auto x = round_from(start, feet_[a].at.edge), y = round_from(start, feet_[b].at.edge);
      return x != y ? x < y : feet_[a].at.along < feet_[b].at.along;
    });
    if (order.size() % 2 != 0) return false;
    for (std::size_t i = 0; i < order.size(); ++i) {
      feet_[order[i]].inside_after = i % 2 == 0;
      if (i % 2 != 0) continue;
      const std::uint32_t last = feet_[order[i + 1]].at.edge;
      for (std::uint32_t e = feet_[order[i]].at.edge; e != last; e = next_edge(e))
        if (!is_cut(e)) return false;
    }
    return true;
  }

  LatticePoint place_of(std::size_t f) const {
    const auto& points = pieces_[feet_[f].piece].points;
    return feet_[f].begins ? points.front() : points.back();
  }
  // Where the line crosses the cut twice in one place.
  std::optional<LatticePoint> crossed_twice(std::uint32_t loop) const {
    const auto& order = order_[loop];
    for (std::size_t i = 0; i + 1 < order.size(); ++i)
      if (place_of(order[i]) == place_of(order[i + 1])) return place_of(order[i]);
    return std::nullopt;
  }

  // What lies after a crossing on one side lies before it on the other.
  bool sides_agree() const {
    for (std::size_t i = 0; i < pieces_.size(); ++i)
      if (feet_[2 * i + 1].inside_after == feet_[2 * ((i + 1) % pieces_.size())].inside_after) return false;
    return true;
  }

  // The foot at the other end of the stretch of border inside, the border's points on the way going to `ring`.
  std::size_t along_border(std::size_t f, Ring& ring) const {
    const auto& order = order_[loop_of(f)];
    const auto k = static_cast<std::size_t>(std::find(order.begin(), order.end(), f) - order.begin());
    const bool forward = feet_[f].inside_after;
    const std::size_t g = order[forward ? k + 1 : k - 1];
    const std::uint32_t from = feet_[forward ? f : g].at.edge, to = feet_[forward ? g : f].at.edge;
    std::vector<LatticePoint> between;
    for (std::uint32_t e = from; e != to; e = next_edge(e)) between.push_back(chart_.border_end(e));
    if (!forward) std::reverse(between.begin(), between.end());
    for (const LatticePoint p : between) put(ring, p);
    return g;
  }

  static void put(Ring& ring, LatticePoint p) {
    if (ring.empty() || ring.back() != p) ring.push_back(p);
  }

  Ring trace(std::size_t first, std::vector<bool>& used) const {
    Ring ring;
    std::size_t piece = first;
    bool forward = true;
    do {
      used[piece] = true;
      const auto& points = pieces_[piece].points;
      for (std::size_t i = 0; i < points.size(); ++i) put(ring, points[forward ? i : points.size() - 1 - i]);
      const Foot& next = feet_[along_border(2 * piece + (forward ? 1 : 0), ring)];
      piece = next.piece;
      forward = next.begins;
    } while (!used[piece]);
    while (ring.size() > 1 && ring.front() == ring.back()) ring.pop_back();
    return ring;
  }

  // A part of the line that ran along the cut encloses nothing on that side.
  static bool is_sliver(const Ring& ring) {
    if (ring.size() < 3) return true;
    Int128 rim = 0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const LatticePoint a = ring[i], b = ring[(i + 1) % ring.size()];
      rim += std::llabs(b.x - a.x) + std::llabs(b.y - a.y);
    }
    const Int128 area2 = twice_area(ring);
    return (area2 < 0 ? -area2 : area2) <= 4 * rim;
  }

  const Chart& chart_;
  std::span<const CutPiece> pieces_;
  std::vector<Foot> feet_;                       // of piece i: 2 i where it begins, 2 i + 1 where it ends
  std::vector<std::vector<std::size_t>> order_;  // feet of each loop along it
};

}  // namespace

Result<std::vector<Ring>> close_along_cuts(const Chart& chart, std::span<const CutPiece> pieces) {
  if (pieces.size() == 1 && !pieces[0].begins) return std::vector<Ring>{pieces[0].points};
  return Closer(chart, pieces).close();
}

}  // namespace pontata
