#include "engine/cartoon/prick_marks.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "engine/cartoon/line_walk.h"
#include "engine/giornate/edge_rows.h"

namespace pontata {
namespace {

constexpr double kShortest = 3, kArm = 2, kStep = 2, kFork = 0.3, kFromRim = 1.5;  // mm
constexpr double kAlong = 0.8, kAlongFor = 6;                                      // mm
constexpr double kCorner = 40 * std::numbers::pi / 180;

// Which spacing holds where.
class Spacing {
 public:
  Spacing(std::span<const Zone> zones, const PrintChoice& print) : print_(print) {
    for (const Zone& zone : zones)
      (zone.kind == ZoneKind::keep_whole ? faces_ : drapery_).push_back(EdgeRows::of_rings(zone.rings()));
  }
  double at(ChartPoint place) const {
    const LatticePoint p = to_lattice(place);
    const auto in = [&](const EdgeRows& rows) {
      return p.x >= rows.low().x && p.x <= rows.high().x && p.y >= rows.low().y && p.y <= rows.high().y &&
             rows.winding(p) != 0;
    };
    if (std::any_of(faces_.begin(), faces_.end(), in)) return print_.prick_face_mm;
    if (std::any_of(drapery_.begin(), drapery_.end(), in)) return print_.prick_drapery_mm;
    return print_.prick_architecture_mm;
  }

 private:
  const PrintChoice& print_;
  std::vector<EdgeRows> faces_, drapery_;
};

// Places in the plane that are asked for their nearness.
template <class Value>
class Cells {
 public:
  explicit Cells(double side) : side_(side) {}
  void add(Vec2 p, Value value) { cells_[key(p, 0, 0)].push_back({p, value}); }
  template <class Test>
  bool any_near(Vec2 p, Test&& test) const {
    for (int j = -1; j <= 1; ++j)
      for (int i = -1; i <= 1; ++i)
        if (const auto cell = cells_.find(key(p, i, j)); cell != cells_.end())
          for (const auto& [at, value] : cell->second)
            if (test(at, value)) return true;
    return false;
  }

 private:
  std::pair<int, int> key(Vec2 p, int i, int j) const {
    return {static_cast<int>(std::floor(p.x / side_)) + i, static_cast<int>(std::floor(p.y / side_)) + j};
  }
  double side_;
  std::map<std::pair<int, int>, std::vector<std::pair<Vec2, Value>>> cells_;
};

struct Mark {
  Vec2 at{0, 0};
  double spacing = 0;  // mm
};

// A line in short steps.
CarriedLine divided(const CarriedLine& line) {
  CarriedLine out;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const Vec2 d = line[i + 1].at - line[i].at, e = to_vec(line[i + 1].place) - to_vec(line[i].place);
    const int n = std::max(1, static_cast<int>(std::ceil(glm::length(d) / kStep)));
    for (int k = 0; k < n; ++k) {
      const double share = static_cast<double>(k) / n;
      out.push_back({line[i].at + share * d, to_chart(to_vec(line[i].place) + share * e)});
    }
  }
  out.push_back(line.back());
  return out;
}

// The same, each place with the spacing that holds there.
struct Stepped {
  std::vector<Vec2> points;
  std::vector<double> spacing;  // per point
  std::vector<bool> original;   // a point of the line itself
};

Stepped stepped(const CarriedLine& line, const Spacing& spacing) {
  Stepped out;
  std::size_t next = 0;
  for (const CarriedPoint& p : divided(line)) {
    const bool original = next < line.size() && p.at == line[next].at;
    if (original) ++next;
    out.points.push_back(p.at), out.spacing.push_back(spacing.at(p.place)), out.original.push_back(original);
  }
  return out;
}

double turn_at(const LineWalk& walk, double s) {
  const Vec2 here = walk.point(s), back = here - walk.point(s - kArm), ahead = walk.point(s + kArm) - here;
  return std::abs(std::atan2(cross2(back, ahead), glm::dot(back, ahead)));
}

// Points where a mark must stand: ends, forks, and of each bend the sharpest place.
std::vector<std::size_t> stops_of(const Stepped& line, const LineWalk& walk, const Cells<int>& ends) {
  std::vector<std::size_t> out{0};
  double sharpest = 0;
  for (std::size_t i = 1; i + 1 < line.points.size(); ++i) {
    const double s = walk.at(i);
    const bool fork = ends.any_near(line.points[i], [&](Vec2 end, int) {
      const Vec2 d = line.points[i + 1] - line.points[i];
      const double share = std::clamp(glm::dot(end - line.points[i], d) / std::max(glm::dot(d, d), 1e-300), 0.0, 1.0);
      return share < 1 && glm::distance(end, line.points[i] + share * d) < kFork;
    });
    const bool inside = s > kArm && s < walk.length() - kArm;
    const double turn = line.original[i] && inside ? turn_at(walk, s) : 0;
    if (!fork && turn < kCorner) continue;
    if (!fork && out.size() > 1 && s - walk.at(out.back()) < kArm && sharpest > 0) {  // the same bend
      if (turn > sharpest) out.back() = i, sharpest = turn;
      continue;
    }
    out.push_back(i);
    sharpest = fork ? 0 : turn;
  }
  out.push_back(line.points.size() - 1);
  return out;
}

// Marks between two stops, evenly in steps of the spacing.
void between(const Stepped& line, const LineWalk& walk, std::size_t first, std::size_t last, std::vector<Mark>& out) {
  std::vector<double> steps{0};
  for (std::size_t i = first; i < last; ++i)
    steps.push_back(steps.back() +
                    (walk.at(i + 1) - walk.at(i)) * 0.5 * (1 / line.spacing[i] + 1 / line.spacing[i + 1]));
  const int n = std::max(1, static_cast<int>(std::lround(steps.back())));
  std::size_t i = 0;
  for (int k = 1; k < n; ++k) {
    const double wanted = steps.back() * k / n;
    while (i + 2 < steps.size() && steps[i + 1] < wanted) ++i;
    const double share = (wanted - steps[i]) / std::max(steps[i + 1] - steps[i], 1e-300);
    const Vec2 a = line.points[first + i], b = line.points[first + i + 1];
    out.push_back({a + share * (b - a), line.spacing[first + i + (share < 0.5 ? 0 : 1)]});
  }
}

// What is left of a line without the stretches that run along the outline; the line as it is where none does.
std::vector<CarriedLine> off_outline(const CarriedLine& line, std::span<const std::vector<Vec2>> outline) {
  const CarriedLine steps = divided(line);
  std::vector<bool> drop(steps.size(), false);
  bool any = false;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    std::size_t end = i;
    double length = 0;
    while (end < steps.size() && distance_to_rims(outline, steps[end].at) < kAlong) {
      if (end > i) length += glm::distance(steps[end].at, steps[end - 1].at);
      ++end;
    }
    if (length >= kAlongFor) {
      any = true;
      std::fill(drop.begin() + static_cast<std::ptrdiff_t>(i), drop.begin() + static_cast<std::ptrdiff_t>(end), true);
    }
    if (end > i) i = end - 1;
  }
  if (!any) return {line};
  std::vector<CarriedLine> out;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (drop[i]) continue;
    if (i == 0 || drop[i - 1]) out.emplace_back();
    out.back().push_back(steps[i]);
  }
  return out;
}

}  // namespace

std::vector<CarriedLine> pattern_contours(const Pattern& pattern, const PatternCarrier& carrier) {
  std::vector<CarriedLine> out;
  if (!pattern.wall->contours) return out;
  for (const auto& line : *pattern.wall->contours)
    for (const CarriedLine& part : carrier(line))
      for (CarriedLine& rest : off_outline(part, pattern.outline))
        if (rest.size() > 1 && LineWalk(shape_of(rest)).length() >= kShortest) out.push_back(std::move(rest));
  return out;
}

std::vector<Vec2> prick_marks(std::span<const CarriedLine> lines, std::span<const Zone> zones,
                              std::span<const std::vector<Vec2>> outline, const PrintChoice& print) {
  const Spacing spacing(zones, print);
  Cells<int> ends(kStep + 1);
  for (const CarriedLine& line : lines) ends.add(line.front().at, 0), ends.add(line.back().at, 0);
  std::vector<Mark> must, may;
  for (const CarriedLine& line : lines) {
    const Stepped steps = stepped(line, spacing);
    const LineWalk walk(steps.points);
    const auto stops = stops_of(steps, walk, ends);
    for (const std::size_t i : stops) must.push_back({steps.points[i], steps.spacing[i]});
    for (std::size_t k = 0; k + 1 < stops.size(); ++k) between(steps, walk, stops[k], stops[k + 1], may);
  }
  Cells<double> taken(0.5 * std::max({print.prick_face_mm, print.prick_drapery_mm, print.prick_architecture_mm}));
  std::vector<Vec2> out;
  for (const auto* marks : {&must, &may})
    for (const Mark& mark : *marks) {
      const bool crowded = taken.any_near(mark.at, [&](Vec2 other, double its) {
        return glm::distance(other, mark.at) < 0.5 * std::min(its, mark.spacing);
      });
      if (crowded || distance_to_rims(outline, mark.at) < kFromRim) continue;
      taken.add(mark.at, mark.spacing);
      out.push_back(mark.at);
    }
  return out;
}

}  // namespace pontata
