#include "engine/flatten/cut_marks.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "engine/base/predicates.h"
#include "engine/chart/cut_runs.h"
#include "engine/flatten/rim.h"

namespace pontata {
namespace {

// A ring's segment along a border edge, as fractions of that edge; it runs in the edge's direction.
struct Lying {
  std::size_t ring = 0, segment = 0;
  double from = 0, to = 1;
};

bool near_edge(const Chart& chart, std::uint32_t edge, LatticePoint p) {
  constexpr double kNear = 6 * kPitch;  // vertices on a slanting border are rounded to the lattice
  const ChartPoint foot = border_place(chart, {edge, share_along(chart, edge, p)}), q = to_chart(p);
  return std::hypot(foot.u - q.u, foot.v - q.v) <= kNear;
}

bool clear_of(LatticePoint a, LatticePoint b, LatticePoint c, LatticePoint d) {
  constexpr std::int64_t kNear = 8;
  return std::max(a.x, b.x) + kNear < std::min(c.x, d.x) || std::max(c.x, d.x) + kNear < std::min(a.x, b.x) ||
         std::max(a.y, b.y) + kNear < std::min(c.y, d.y) || std::max(c.y, d.y) + kNear < std::min(a.y, b.y);
}

class Marker {
 public:
  Marker(const ChartedWall& wall, std::span<const Ring> rings, double spacing, double merge)
      : wall_(wall), chart_(*wall.chart), rings_(rings), spacing_(spacing), merge_(merge) {}

  CutMarks mark() {
    find_lying();
    for (auto& [edge, near] : lying_) {
      const auto far = lying_.find(chart_.across_cut(edge));
      if (chart_.across_cut(edge) > edge && far != lying_.end()) match(edge, near, far->second);
    }
    return write();
  }

 private:
  // A point in a ring's segment: its fraction along the border edge, or one of the segment's ends.
  struct Mark {
    std::size_t ring = 0, segment = 0;  // an end is the beginning of its own segment
    double share = 0;                   // along the segment; 0 for its beginning
    LatticePoint place;
  };

  void find_lying() {
    std::vector<std::uint32_t> cuts;
    for (std::uint32_t e = 0; e < chart_.border_edges().size(); ++e)
      if (chart_.across_cut(e) != Chart::kNoTriangle) cuts.push_back(e);
    for (std::size_t r = 0; r < rings_.size(); ++r)
      for (std::size_t i = 0; i < rings_[r].size(); ++i) {
        const LatticePoint a = rings_[r][i], b = rings_[r][(i + 1) % rings_[r].size()];
        for (const auto e : cuts) {
          if (clear_of(a, b, chart_.border_start(e), chart_.border_end(e))) continue;
          if (!near_edge(chart_, e, a) || !near_edge(chart_, e, b)) continue;
          const double from = share_along(chart_, e, a), to = share_along(chart_, e, b);
          if (to > from) lying_[e].push_back({r, i, from, to});
        }
      }
    for (auto& [edge, list] : lying_)
      std::sort(list.begin(), list.end(), [](const Lying& a, const Lying& b) { return a.from < b.from; });
  }

  void match(std::uint32_t edge, const std::vector<Lying>& near, const std::vector<Lying>& far) {
    std::size_t j = far.size();
    for (std::size_t i = 0; i < near.size() && j > 0;) {
      const Lying& other = far[j - 1];
      const double begin = std::max(near[i].from, 1 - other.to), end = std::min(near[i].to, 1 - other.from);
      if (end > begin) add_stretch(edge, near[i], other, begin, end);
      if (near[i].to <= 1 - other.from)
        ++i;
      else
        --j;
    }
  }

  void add_stretch(std::uint32_t edge, const Lying& near, const Lying& far, double begin, double end) {
    const double length = std::max(length_on(edge, begin, end), length_on(chart_.across_cut(edge), 1 - end, 1 - begin));
    if (length <= merge_) return;    // its ends are one point
    constexpr double kSlack = 0.99;  // so that rims are not divided again, on one side only
    const auto steps = static_cast<int>(std::min(std::ceil(length / (kSlack * spacing_)), 1e6));
    const double edge_m = length / (end - begin);
    for (int k = 0; k <= steps; ++k) {
      const double share = begin + (end - begin) * k / steps;
      pairs_.push_back(
          {add_mark(edge, near, share, edge_m), add_mark(chart_.across_cut(edge), far, 1 - share, edge_m), edge});
    }
  }

  double length_on(std::uint32_t edge, double from, double to) const {
    const LatticePoint a = to_lattice(border_place(chart_, {edge, from})),
                       b = to_lattice(border_place(chart_, {edge, to}));
    return a == b ? 0 : seam_length(*wall_.metric, a, b);
  }

  std::size_t add_mark(std::uint32_t edge, const Lying& on, double share, double edge_m) {
    const std::size_t next = (on.segment + 1) % rings_[on.ring].size();
    Mark mark{on.ring, on.segment, 0, {}};
    if ((on.to - share) * edge_m <= merge_ && on.to - share < share - on.from) {
      mark.segment = next;
    } else if ((share - on.from) * edge_m > merge_) {
      mark.share = (share - on.from) / (on.to - on.from);
      mark.place = to_lattice(border_place(chart_, {edge, share}));
    }
    const auto same = [&](const Mark& m) {
      return m.ring == mark.ring && m.segment == mark.segment && m.share == mark.share;
    };
    for (std::size_t m = marks_.size(); m-- > 0 && marks_.size() - m < 6;)
      if (same(marks_[m])) return m;
    marks_.push_back(mark);
    return marks_.size() - 1;
  }

  CutMarks write() const {
    std::map<std::pair<std::size_t, std::size_t>, std::vector<std::size_t>> inside;  // marks within each segment
    for (std::size_t m = 0; m < marks_.size(); ++m)
      if (marks_[m].share > 0) inside[{marks_[m].ring, marks_[m].segment}].push_back(m);
    CutMarks out;
    std::vector<std::vector<std::size_t>> moved(rings_.size());  // where each given point has come to
    std::vector<std::size_t> place(marks_.size(), 0);
    for (std::size_t r = 0; r < rings_.size(); ++r) {
      Ring& ring = out.rings.emplace_back();
      for (std::size_t i = 0; i < rings_[r].size(); ++i) {
        moved[r].push_back(ring.size());
        ring.push_back(rings_[r][i]);
        const auto added = inside.find({r, i});
        if (added == inside.end()) continue;
        std::sort(added->second.begin(), added->second.end(),
                  [&](std::size_t a, std::size_t b) { return marks_[a].share < marks_[b].share; });
        for (const std::size_t m : added->second) {
          place[m] = ring.size();
          ring.push_back(marks_[m].place);
        }
      }
    }
    const auto point = [&](std::size_t m) {
      return RingPoint{marks_[m].ring, marks_[m].share > 0 ? place[m] : moved[marks_[m].ring][marks_[m].segment]};
    };
    for (const auto& [here, there, edge] : pairs_) out.pairs.push_back({point(here), point(there), edge});
    return out;
  }

  struct MarkPair {
    std::size_t here = 0, there = 0;
    std::uint32_t edge = 0;
  };

  const ChartedWall& wall_;
  const Chart& chart_;
  std::span<const Ring> rings_;
  double spacing_, merge_;
  std::map<std::uint32_t, std::vector<Lying>> lying_;
  std::vector<Mark> marks_;
  std::vector<MarkPair> pairs_;
};

}  // namespace

CutMarks mark_cuts(const ChartedWall& wall, std::span<const Ring> rings, double spacing_m, double merge_m) {
  if (!wall.chart->has_cuts()) return {{rings.begin(), rings.end()}, {}};
  return Marker(wall, rings, spacing_m, merge_m).mark();
}

std::vector<std::vector<std::size_t>> regions_of(std::span<const Ring> rings) {
  std::vector<std::vector<std::size_t>> regions;
  for (std::size_t r = 0; r < rings.size(); ++r)
    if (twice_area(rings[r]) > 0) regions.push_back({r});
  for (std::size_t h = 0; h < rings.size(); ++h) {
    const Ring& hole = rings[h];
    if (twice_area(hole) > 0) continue;
    std::vector<std::size_t>* home = nullptr;
    for (auto& region : regions) {
      const Ring& outer = rings[region[0]];
      const bool holds =
          std::all_of(hole.begin(), hole.end(), [&](LatticePoint p) { return point_in_ring(outer, p) >= 0; });
      if (holds && (!home || twice_area(outer) < twice_area(rings[(*home)[0]]))) home = &region;
    }
    if (home) home->push_back(h);
  }
  return regions;
}

}  // namespace pontata
