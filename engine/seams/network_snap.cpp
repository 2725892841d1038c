#include "engine/seams/network_snap.h"

#include <algorithm>
#include <unordered_map>

#include "engine/base/predicates.h"

namespace pontata {

namespace {

using Course = std::vector<LatticePoint>;

constexpr int kMostRounds = 24;
constexpr int kMostDepth = 64;

bool boxes_meet(LatticePoint a, LatticePoint b, LatticePoint c, LatticePoint d) {
  return std::min(a.x, b.x) <= std::max(c.x, d.x) && std::max(a.x, b.x) >= std::min(c.x, d.x) &&
         std::min(a.y, b.y) <= std::max(c.y, d.y) && std::max(a.y, b.y) >= std::min(c.y, d.y);
}

bool cross(LatticePoint a, LatticePoint b, LatticePoint c, LatticePoint d) {
  return boxes_meet(a, b, c, d) && segments_cross(a, b, c, d);
}

// Points and line segments by fine cells.
template <class T>
class CellHash {
 public:
  explicit CellHash(const CellFrame& frame) : frame_(frame) {}
  void add(LatticePoint a, LatticePoint b, const T& item) {
    frame_.walk(a, b, 0, [&](int c, int r) { cells_[key(c, r)].push_back(item); });
  }
  void clear() { cells_.clear(); }
  template <class F>
  void along(LatticePoint a, LatticePoint b, std::int64_t margin, F&& f) const {
    frame_.walk(a, b, margin, [&](int c, int r) {
      const auto it = cells_.find(key(c, r));
      if (it == cells_.end()) return;
      for (const T& item : it->second) f(item);
    });
  }

 private:
  static std::uint64_t key(int c, int r) {
    return (static_cast<std::uint64_t>(static_cast<std::uint32_t>(r)) << 32) | static_cast<std::uint32_t>(c);
  }
  CellFrame frame_;
  std::unordered_map<std::uint64_t, std::vector<T>> cells_;
};

CellFrame fine_frame(const Course& line) {
  LatticePoint lo = line[0], hi = line[0];
  for (const auto& p : line) {
    lo = {std::min(lo.x, p.x), std::min(lo.y, p.y)};
    hi = {std::max(hi.x, p.x), std::max(hi.y, p.y)};
  }
  const int most = std::clamp(static_cast<int>(line.size()), 16, 4096);
  return CellFrame::over({lo.x - 8, lo.y - 8}, {hi.x + 8, hi.y + 8}, most, 4);
}

class Snapper {
 public:
  Snapper(const Network& network, Course line, bool closed)
      : network_(network), line_(std::move(line)), hot_(fine_frame(line_)), pieces_(fine_frame(line_)) {
    if (closed) line_.push_back(line_.front());
    for (const auto& p : line_) add_hot(p);
  }

  bool run() {
    bend_to_seams();
    for (int round = 0; round < kMostRounds; ++round) {
      const bool crossed = add_crossings();
      const bool moved = lead_line();
      if (!lead_seams() && !moved && !crossed) return true;
    }
    return false;
  }

  const Course& line() const { return line_; }
  std::map<SeamId, Course>& courses() { return courses_; }

 private:
  Course course(SeamId s) const {
    const auto it = courses_.find(s);
    if (it != courses_.end()) return it->second;
    return {network_.origin({s.value << 1}), network_.target({s.value << 1})};
  }

  bool add_hot(LatticePoint p) {
    if (!hot_points_.emplace(p, true).second) return false;
    hot_list_.push_back(p);
    hot_.add(p, p, p);
    return true;
  }

  std::vector<SeamId> seams_along(LatticePoint a, LatticePoint b) const {
    std::vector<SeamId> found;
    network_.grid().along(a, b, 1, [&](std::uint32_t s) { found.push_back({s}); });
    std::sort(found.begin(), found.end());
    found.erase(std::unique(found.begin(), found.end()), found.end());
    return found;
  }

  // Before anything else a crossing of the line with a seam is given the lattice point nearest to the seam's line
  // within three pitches, by bending the line, which is new and may; so the old seam hardly moves.
  void bend_to_seams() {
    Course bent;
    for (std::size_t i = 0; i + 1 < line_.size(); ++i) {
      const LatticePoint p = line_[i], q = line_[i + 1];
      Course met;
      for (const SeamId s : seams_along(p, q)) {
        const LatticePoint a = network_.origin({s.value << 1}), b = network_.target({s.value << 1});
        if (cross(p, q, a, b)) met.push_back(on_seam(a, b, rounded_crossing(p, q, a, b)));
      }
      sort_along(p, q, met);
      bent.push_back(p);
      for (const auto& x : met)
        if (x != bent.back() && x != q) bent.push_back(x);
    }
    bent.push_back(line_.back());
    Course open = bent;
    if (line_.front() == line_.back()) {
      open.pop_back();
      if (find_self_crossing(open).first >= 0) return;
    }
    line_ = std::move(bent);
    for (const auto& p : line_) add_hot(p);
  }

  static void sort_along(LatticePoint a, LatticePoint b, Course& points) {
    const auto along = [&](LatticePoint p) {
      return static_cast<Int128>(p.x - a.x) * (b.x - a.x) + static_cast<Int128>(p.y - a.y) * (b.y - a.y);
    };
    std::sort(points.begin(), points.end(), [&](LatticePoint p, LatticePoint q) {
      const Int128 l = along(p), r = along(q);
      return l != r ? l < r : p < q;
    });
    points.erase(std::unique(points.begin(), points.end()), points.end());
  }

  // Vertices, old and new, whose unit square segment ab passes, in order.
  Course hot_along(LatticePoint a, LatticePoint b) const {
    Course found;
    const auto look = [&](LatticePoint p) {
      if (p != a && p != b && passes_pixel(a, b, p)) found.push_back(p);
    };
    hot_.along(a, b, 1, look);
    network_.grid().along(a, b, 1, [&](std::uint32_t s) {
      look(network_.origin({s << 1}));
      look(network_.target({s << 1}));
    });
    sort_along(a, b, found);
    return found;
  }

  // Appends the way from a to b without a.
  void lead(LatticePoint a, LatticePoint b, int depth, Course& out) const {
    const Course through = a == b || depth > kMostDepth ? Course{} : hot_along(a, b);
    LatticePoint from = a;
    for (const auto& p : through) {
      lead(from, p, depth + 1, out);
      from = p;
    }
    if (through.empty())
      out.push_back(b);
    else
      lead(from, b, depth + 1, out);
  }

  bool lead_course(Course& course) const {
    Course led{course.front()};
    for (std::size_t i = 0; i + 1 < course.size(); ++i) lead(course[i], course[i + 1], 0, led);
    if (led.size() == course.size()) return false;
    course = std::move(led);
    return true;
  }

  bool lead_line() { return lead_course(line_); }

  // Seams passing a new vertex' unit square, and those already moved, are led through what they now pass.
  bool lead_seams() {
    std::vector<SeamId> wanted;
    for (const auto& [s, course] : courses_) wanted.push_back(s);
    for (const auto& p : hot_list_)
      network_.grid().along(p, p, 1, [&](std::uint32_t s) {
        const LatticePoint a = network_.origin({s << 1}), b = network_.target({s << 1});
        if (a != p && b != p && passes_pixel(a, b, p)) wanted.push_back({s});
      });
    std::sort(wanted.begin(), wanted.end());
    wanted.erase(std::unique(wanted.begin(), wanted.end()), wanted.end());
    bool moved = false;
    for (const SeamId s : wanted) {
      Course c = course(s);
      if (!lead_course(c)) continue;
      courses_[s] = std::move(c);
      moved = true;
    }
    return moved;
  }

  bool cross_seams(LatticePoint p, LatticePoint q, std::optional<SeamId> self) {
    bool added = false;
    for (const SeamId s : seams_along(p, q)) {
      if (self && s == *self) continue;
      const auto it = courses_.find(s);
      if (it == courses_.end()) {
        const LatticePoint a = network_.origin({s.value << 1}), b = network_.target({s.value << 1});
        if (cross(p, q, a, b)) added |= add_crossing(p, q, a, b);
        continue;
      }
      const Course& c = it->second;
      for (std::size_t i = 0; i + 1 < c.size(); ++i)
        if (cross(p, q, c[i], c[i + 1])) added |= add_crossing(p, q, c[i], c[i + 1]);
    }
    return added;
  }

  bool add_crossing(LatticePoint a, LatticePoint b, LatticePoint c, LatticePoint d) {
    return add_hot(rounded_crossing(a, b, c, d));
  }

  bool add_crossings() {
    bool added = false;
    pieces_.clear();
    for (std::size_t i = 0; i + 1 < line_.size(); ++i) {
      const LatticePoint p = line_[i], q = line_[i + 1];
      added |= cross_seams(p, q, std::nullopt);
      pieces_.along(p, q, 1, [&](std::size_t j) {
        if (cross(p, q, line_[j], line_[j + 1])) added |= add_crossing(p, q, line_[j], line_[j + 1]);
      });
      pieces_.add(p, q, i);
    }
    for (const auto& [s, c] : courses_)
      for (std::size_t i = 0; i + 1 < c.size(); ++i) added |= cross_seams(c[i], c[i + 1], s);
    return added;
  }

  const Network& network_;
  Course line_;  // with its first point again at the end when closed
  std::map<SeamId, Course> courses_;
  CellHash<LatticePoint> hot_;
  CellHash<std::size_t> pieces_;
  std::unordered_map<LatticePoint, bool> hot_points_;
  std::vector<LatticePoint> hot_list_;
};

}  // namespace

bool passes_pixel(LatticePoint a, LatticePoint b, LatticePoint p) {
  // In half pitches: the square is [x0, x1) x [y0, y1).
  const std::int64_t x0 = 2 * p.x - 1, x1 = x0 + 2, y0 = 2 * p.y - 1, y1 = y0 + 2;
  a = {2 * a.x, 2 * a.y};
  b = {2 * b.x, 2 * b.y};
  if (std::min(a.x, b.x) >= x1 || std::max(a.x, b.x) < x0 || std::min(a.y, b.y) >= y1 || std::max(a.y, b.y) < y0)
    return false;
  const LatticePoint low_left{x0, y0}, low_right{x1, y0}, top_left{x0, y1}, top_right{x1, y1};
  const int sides[4] = {side(a, b, low_left), side(a, b, low_right), side(a, b, top_left), side(a, b, top_right)};
  const bool some_left = *std::max_element(sides, sides + 4) > 0, some_right = *std::min_element(sides, sides + 4) < 0;
  const bool boxes_overlap =
      std::min(a.x, b.x) < x1 && std::max(a.x, b.x) > x0 && std::min(a.y, b.y) < y1 && std::max(a.y, b.y) > y0;
  if (some_left && some_right && boxes_overlap) return true;
  // Not through the inside: only the left and lower edges count, without their far corners.
  if (a.x == x0 && b.x == x0) return std::min(a.y, b.y) < y1 && std::max(a.y, b.y) >= y0;
  if (a.y == y0 && b.y == y0) return std::min(a.x, b.x) < x1 && std::max(a.x, b.x) >= x0;
  return (segments_meet(a, b, low_left, top_left) && !on_segment(a, b, top_left)) ||
         (segments_meet(a, b, low_left, low_right) && !on_segment(a, b, low_right));
}

LatticePoint on_seam(LatticePoint a, LatticePoint b, LatticePoint p) {
  const auto off = [&](LatticePoint q) {
    const Int128 o = orient(a, b, q);
    return o < 0 ? -o : o;
  };
  std::optional<LatticePoint> best;
  const auto better = [&](LatticePoint q) {
    const auto away = [&](LatticePoint r) { return (r.x - p.x) * (r.x - p.x) + (r.y - p.y) * (r.y - p.y); };
    return !best || off(q) < off(*best) || (off(q) == off(*best) && away(q) < away(*best));
  };
  for (std::int64_t dy = -2; dy <= 2; ++dy)
    for (std::int64_t dx = -2; dx <= 2; ++dx) {
      const LatticePoint q{p.x + dx, p.y + dy};
      if (q != a && q != b && passes_pixel(a, b, q) && better(q)) best = q;
    }
  return best.value_or(p);
}

std::optional<LatticePoint> line_crossing(const std::vector<LatticePoint>& line) {
  CellHash<std::size_t> cells(fine_frame(line));
  std::optional<LatticePoint> found;
  for (std::size_t i = 0; i + 1 < line.size() && !found; ++i) {
    const LatticePoint a = line[i], b = line[i + 1];
    cells.along(a, b, 0, [&](std::size_t j) {
      const LatticePoint c = line[j], d = line[j + 1];
      if (!boxes_meet(a, b, c, d)) return;
      if (j + 1 == i ? on_segment(a, b, c) || on_segment(c, d, b) : segments_meet(a, b, c, d))
        found = segments_cross(a, b, c, d) ? rounded_crossing(a, b, c, d) : a;
    });
    cells.add(a, b, i);
  }
  return found;
}

std::optional<SnappedLine> snap_line(const Network& network, std::vector<LatticePoint> line, bool closed) {
  Snapper snapper(network, std::move(line), closed);
  if (!snapper.run()) return std::nullopt;
  SnappedLine snapped{snapper.line(), std::move(snapper.courses())};
  if (closed) snapped.line.pop_back();
  return snapped;
}

}  // namespace pontata
