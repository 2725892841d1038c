#include "engine/chart/cut_crossing.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/units.h"
#include "engine/chart/cut_runs.h"

namespace pontata {

namespace {

// A crossing of a cut: where the line leaves and where it comes in again.
struct Crossing {
  Chart::BorderPlace from, to;
  LatticePoint left, entered;
};

struct Way {
  double length = 0;  // m
  Crossing crossing;
};

double box_distance(LatticePoint low, LatticePoint high, LatticePoint p) {
  const auto off = [](std::int64_t lo, std::int64_t hi, std::int64_t x) {
    return static_cast<double>(std::max({lo - x, x - hi, std::int64_t{0}}));
  };
  return kPitch * std::hypot(off(low.x, high.x, p.x), off(low.y, high.y, p.y));
}

double direct_length(const ChartedWall& wall, LatticePoint a, LatticePoint b) {
  return a == b ? 0 : wall.metric->measure(a, b).length_m;
}

Crossing crossing_at(const Chart& chart, const CutRun& run, Chart::BorderPlace from) {
  Crossing c;
  c.from = from;
  c.to = chart.other_side(from).value();
  c.left = to_lattice(border_place(chart, from));
  c.entered = run.motion && run.motion->steps
                  ? LatticePoint{c.left.x + run.motion->steps->x, c.left.y + run.motion->steps->y}
                  : to_lattice(border_place(chart, c.to));
  return c;
}

Way way_through(const ChartedWall& wall, LatticePoint a, LatticePoint b, const Crossing& c) {
  return {direct_length(wall, a, c.left) + direct_length(wall, c.entered, b), c};
}

// a and b are one place of the wall, as the two sides of the run have it, to the rounding of places to the lattice.
std::optional<Way> same_place(const Chart& chart, const CutRun& run, LatticePoint a, LatticePoint b) {
  constexpr double kNear = 6 * kPitch;
  if (box_distance(run.low, run.high, a) > kNear || box_distance(run.low_across, run.high_across, b) > kNear)
    return std::nullopt;
  const auto near = [&](Chart::BorderPlace at, LatticePoint p) {
    const ChartPoint q = border_place(chart, at), r = to_chart(p);
    return std::hypot(q.u - r.u, q.v - r.v) <= kNear;
  };
  for (const auto e : run.edges) {
    const Chart::BorderPlace from{e, share_along(chart, e, a)};
    const Chart::BorderPlace to = chart.other_side(from).value();
    if (near(from, a) && near(to, b)) return Way{0, {from, to, a, b}};
  }
  return std::nullopt;
}

// Where the straight way from a leaves over the run when the chart beyond is laid on; nullopt where it does not.
std::optional<Way> straight_way(const ChartedWall& wall, const CutRun& run, LatticePoint a, LatticePoint b) {
  const Chart& chart = *wall.chart;
  const Vec2 from = to_vec(to_chart(a)), to = to_vec(run.motion->inverse().apply(to_chart(b)));
  constexpr double kSlack = 1e-9;  // of an edge: its ends belong to both edges there
  double first = 2;
  Chart::BorderPlace best;
  for (const auto e : run.edges) {
    const Vec2 p = to_vec(to_chart(chart.border_start(e))), along = to_vec(to_chart(chart.border_end(e))) - p;
    const double inside = cross2(along, from - p), beyond = cross2(along, to - p);
    if (inside < 0 || beyond > 0 || inside == beyond) continue;
    const double share = inside / (inside - beyond);
    const Vec2 meets = from + share * (to - from);
    const double s = glm::dot(meets - p, along) / glm::dot(along, along);
    if (s < -kSlack || s > 1 + kSlack || share >= first) continue;
    first = share;
    best = {e, std::clamp(s, 0.0, 1.0)};
  }
  if (first > 1) return std::nullopt;
  return way_through(wall, a, b, crossing_at(chart, run, best));
}

// The crossing over a run that makes the way shortest: the best of some places along it, then golden sections between
// its neighbours (Kiefer, "Sequential minimax search for a maximum", 1953).
class ShortestWay {
 public:
  ShortestWay(const ChartedWall& wall, const CutRun& run, LatticePoint a, LatticePoint b)
      : wall_(wall), run_(run), a_(a), b_(b) {
    for (const auto e : run.edges) {
      const ChartPoint p = to_chart(wall.chart->border_start(e)), q = to_chart(wall.chart->border_end(e));
      reach_.push_back(reach_.back() + std::hypot(q.u - p.u, q.v - p.v));
    }
  }
  Way find() const {
    constexpr int kPlaces = 32, kSections = 45;
    double best = 0, least = at(0).length;
    for (int i = 1; i <= kPlaces; ++i)
      if (const double l = at(reach_.back() * i / kPlaces).length; l < least)
        least = l, best = reach_.back() * i / kPlaces;
    const double step = reach_.back() / kPlaces, share = 0.5 * (std::sqrt(5.0) - 1);
    double low = std::max(0.0, best - step), high = std::min(reach_.back(), best + step);
    double p = high - share * (high - low), q = low + share * (high - low);
    double at_p = at(p).length, at_q = at(q).length;
    for (int i = 0; i < kSections; ++i) {
      if (at_p <= at_q) {
        high = q, q = p, at_q = at_p;
        at_p = at(p = high - share * (high - low)).length;
      } else {
        low = p, p = q, at_p = at_q;
        at_q = at(q = low + share * (high - low)).length;
      }
    }
    const Way refined = at(0.5 * (low + high)), sampled = at(best);
    return refined.length <= sampled.length ? refined : sampled;
  }

 private:
  Way at(double s) const {
    const auto after = std::upper_bound(reach_.begin() + 1, reach_.end() - 1, s);
    const auto k = static_cast<std::size_t>(after - reach_.begin()) - 1;
    const double along = std::clamp((s - reach_[k]) / (reach_[k + 1] - reach_[k]), 0.0, 1.0);
    return way_through(wall_, a_, b_, crossing_at(*wall_.chart, run_, {run_.edges[k], along}));
  }

  const ChartedWall& wall_;
  const CutRun& run_;
  LatticePoint a_, b_;
  std::vector<double> reach_{0};  // chart metres along the run to the start of each edge
};

class Leader {
 public:
  Leader(const ChartedWall& wall, bool closed) : wall_(wall), closed_(closed), runs_(cut_runs(*wall.chart)) {}

  Result<std::vector<CutPiece>> lead(std::span<const LatticePoint> places, std::span<const LatticePoint> turned) {
    const std::size_t n = places.size(), steps = closed_ ? n : n - 1;
    add(places[0]);
    for (std::size_t i = 0; i < steps; ++i) {
      const LatticePoint a = places[i], b = places[(i + 1) % n];
      std::optional<Crossing> crossing;
      if (turned.empty() || (turned[i] == LatticePoint{} && turned[(i + 1) % n] == LatticePoint{})) {
        crossing = shorter_across(a, b);
      } else if (turned[i] != turned[(i + 1) % n]) {
        crossing = as_drawn(a, turned[i], b, turned[(i + 1) % n]);
        if (!crossing)
          return Problem{"The line goes round the wall more than once",
                         fmt::format("at {} {}", format_fixed(to_chart(b).u, 3), format_fixed(to_chart(b).v, 3)),
                         "Give places no farther than one turn beyond the cut."};
      }
      if (crossing) cross(*crossing);
      if (!closed_ || i + 1 < steps) add(b);
    }
    if (closed_) close();
    drop_single_places();
    return std::move(pieces_);
  }

 private:
  void add(LatticePoint p) {
    if (pieces_.empty()) pieces_.emplace_back();
    auto& points = pieces_.back().points;
    if (points.empty() || points.back() != p) points.push_back(p);
  }
  void cross(const Crossing& c) {
    add(c.left);
    pieces_.back().ends = c.from;
    pieces_.emplace_back();
    pieces_.back().begins = c.to;
    add(c.entered);
  }

  std::optional<Crossing> shorter_across(LatticePoint a, LatticePoint b) const {
    if (runs_.empty() || a == b) return std::nullopt;
    constexpr double kShorter = 1 - 1e-9;
    const double least_scale = wall_.chart->stretch().least;
    double least = direct_length(wall_, a, b) * kShorter;
    std::optional<Crossing> best;
    for (const CutRun& run : runs_) {
      const double chart = box_distance(run.low, run.high, a) + box_distance(run.low_across, run.high_across, b);
      if (chart * least_scale >= least) continue;
      if (const auto way = same_place(*wall_.chart, run, a, b)) return way->crossing;
      const auto way = run.motion ? straight_way(wall_, run, a, b) : ShortestWay(wall_, run, a, b).find();
      if (way && way->length < least) least = way->length, best = way->crossing;
    }
    return best;
  }

  std::optional<Crossing> as_drawn(LatticePoint a, LatticePoint turned_a, LatticePoint b, LatticePoint turned_b) const {
    const LatticePoint shift{turned_b.x - turned_a.x, turned_b.y - turned_a.y};
    for (const CutRun& run : runs_)
      if (run.motion && run.motion->steps == shift)
        if (const auto way = straight_way(wall_, run, a, b)) return way->crossing;
    return std::nullopt;
  }

  // The part after the last crossing and the part before the first are one.
  void close() {
    if (pieces_.size() == 1) {
      auto& points = pieces_[0].points;
      while (points.size() > 1 && points.front() == points.back()) points.pop_back();
      return;
    }
    const auto& first = pieces_.front().points;
    for (const LatticePoint p : first) add(p);
    pieces_.back().ends = pieces_.front().ends;
    pieces_.erase(pieces_.begin());
  }

  // A place on the cut itself, come to and left over it: the parts before and after are one.
  void drop_single_places() {
    for (std::size_t i = 0; i < pieces_.size() && pieces_.size() > 1;) {
      CutPiece& piece = pieces_[i];
      if (piece.points.size() > 1) {
        ++i;
        continue;
      }
      const std::size_t n = pieces_.size(), before = (i + n - 1) % n, after = (i + 1) % n;
      const bool joins = piece.begins && piece.ends;
      if (joins && before == after) {  // all there is besides: closed without a crossing
        CutPiece& rest = pieces_[before];
        rest.begins = rest.ends = std::nullopt;
        while (rest.points.size() > 1 && rest.points.front() == rest.points.back()) rest.points.pop_back();
      } else if (joins) {
        auto& points = pieces_[before].points;
        for (const LatticePoint p : pieces_[after].points)
          if (points.back() != p) points.push_back(p);
        pieces_[before].ends = pieces_[after].ends;
        pieces_.erase(pieces_.begin() + static_cast<std::ptrdiff_t>(after));
        if (after < i) --i;
      } else if (piece.begins) {  // the line ends on the cut
        pieces_[before].ends = std::nullopt;
      } else {  // it begins there
        pieces_[after].begins = std::nullopt;
      }
      pieces_.erase(pieces_.begin() + static_cast<std::ptrdiff_t>(i));
    }
  }

  const ChartedWall& wall_;
  bool closed_;
  std::vector<CutRun> runs_;
  std::vector<CutPiece> pieces_;
};

}  // namespace

WrappedPlaces wrap_places(const Chart& chart, std::span<const ChartPoint> places) {
  WrappedPlaces out{{places.begin(), places.end()}, std::vector<LatticePoint>(places.size())};
  const auto runs = cut_runs(chart);
  const auto off = [&](ChartPoint p) {
    const ChartPoint on = chart.clamp(p);
    return std::hypot(p.u - on.u, p.v - on.v);
  };
  for (std::size_t i = 0; i < places.size() && !runs.empty(); ++i) {
    if (!fits_lattice(places[i]) || chart.triangle_at(to_lattice(places[i]))) continue;
    const LatticePoint given = to_lattice(places[i]);
    double least = off(places[i]);
    for (const CutRun& run : runs) {
      if (!run.motion || !run.motion->steps) continue;
      const LatticePoint steps = *run.motion->steps;
      const ChartPoint back = to_chart(LatticePoint{given.x + steps.x, given.y + steps.y});
      if (!fits_lattice(back) || off(back) >= least) continue;
      least = off(back);
      out.places[i] = back;
      out.turned[i] = steps;
    }
  }
  return out;
}

Result<std::vector<CutPiece>> lead_across(const ChartedWall& wall, std::span<const LatticePoint> places,
                                          std::span<const LatticePoint> turned, bool closed) {
  if (places.empty()) return std::vector<CutPiece>{};
  return Leader(wall, closed).lead(places, turned);
}

bool is_cut_step(const ChartedWall& wall, ChartPoint a, ChartPoint b) {
  constexpr double kOnePlace = 1e-6, kApart = 1e-3;  // m
  if (!wall.chart->has_cuts() || std::hypot(a.u - b.u, a.v - b.v) < kApart) return false;
  const auto p = wall.position(wall.chart->clamp(a)), q = wall.position(wall.chart->clamp(b));
  return p && q && glm::distance(*p, *q) < kOnePlace;
}

double length_of(const ChartedWall& wall, std::span<const CutPiece> pieces, bool closed) {
  double sum = 0;
  for (const CutPiece& piece : pieces) {
    for (std::size_t i = 0; i + 1 < piece.points.size(); ++i)
      sum += direct_length(wall, piece.points[i], piece.points[i + 1]);
    if (closed && !piece.begins) sum += direct_length(wall, piece.points.back(), piece.points.front());
  }
  return sum;
}

}  // namespace pontata
