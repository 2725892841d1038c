#include "engine/flatten/slits.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "engine/flatten/patch_points.h"

namespace pontata {
namespace {

// The slit's line from mouth to tip, divided to the spacing, with half its width at each place.
struct Line {
  std::vector<LatticePoint> places;
  std::vector<double> half;
};

Line divided(const Slit& slit, const Metric& metric, double spacing) {
  Line line;
  const auto half_at = [&](std::size_t i) { return i < slit.open_m.size() ? 0.5 * slit.open_m[i] : 0.0; };
  LatticePoint a = slit.mouth;
  for (std::size_t i = 0; i < slit.inward.size(); ++i) {
    const LatticePoint b = slit.inward[i];
    const auto steps = std::max<std::int64_t>(1, std::llround(std::ceil(seam_length(metric, a, b) / spacing)));
    for (std::int64_t k = 0; k < steps; ++k) {
      line.places.push_back({a.x + (b.x - a.x) * k / steps, a.y + (b.y - a.y) * k / steps});
      const double share = static_cast<double>(k) / static_cast<double>(steps);
      line.half.push_back(std::max(kLip, half_at(i) + (half_at(i + 1) - half_at(i)) * share));
    }
    a = b;
  }
  line.places.push_back(a);
  line.half.push_back(0);
  return line;
}

Vec2 difference(LatticePoint a, LatticePoint b) {
  return {static_cast<double>(b.x - a.x) * kPitch, static_cast<double>(b.y - a.y) * kPitch};
}

LatticePoint moved(LatticePoint p, Vec2 by) {
  return to_lattice(ChartPoint{to_chart(p).u + by.x, to_chart(p).v + by.y});
}

// Chart step of `length` (m on the surface) square to the chart direction, to its left.
Vec2 square_step(const ChartedWall& wall, LatticePoint at, Vec2 along, double length) {
  const auto f = wall.metric->first_form(triangle_near(*wall.chart, at));
  const Vec2 way{-(f.F * along.x + f.G * along.y), f.E * along.x + f.F * along.y};
  const double size = std::sqrt(f.E * way.x * way.x + 2 * f.F * way.x * way.y + f.G * way.y * way.y);
  return size > 0 ? way * (length / size) : Vec2{0, 0};
}

// A lip between mouth and tip; `side` +1: the left one.
std::vector<LatticePoint> lip(const Line& line, const ChartedWall& wall, double side) {
  std::vector<LatticePoint> out;
  for (std::size_t i = 1; i + 1 < line.places.size(); ++i) {
    const Vec2 along = difference(line.places[i - 1], line.places[i + 1]);
    out.push_back(moved(line.places[i], side * square_step(wall, line.places[i], along, line.half[i])));
  }
  return out;
}

// The place `length` (m) along the rim from position i, forwards (+1) or backwards (-1), and how many rim points lie
// before it.
struct Along {
  LatticePoint place;
  std::size_t passed = 0;
  double rest = 0;  // m from there to the next point
};
Along along_rim(const DenseRim& rim, std::size_t i, int way, double length) {
  const std::size_t n = rim.points.size();
  Along out;
  for (std::size_t k = i; out.passed + 3 < n;) {
    const std::size_t next = way > 0 ? (k + 1) % n : (k + n - 1) % n;
    const double step = rim.lengths[way > 0 ? k : next];
    if (length < 0.8 * step || out.passed + 4 >= n) {
      const double share = std::min(length / step, 0.8);
      out.place = moved(rim.points[k], share * difference(rim.points[k], rim.points[next]));
      out.rest = step * (1 - share);
      return out;
    }
    length = std::max(length - step, 0.1 * step), k = next, ++out.passed;
  }
  return out;
}

void put(SlitRim& at, std::size_t slit, std::size_t mouth, const Line& line, const ChartedWall& wall) {
  DenseRim& rim = at.rim;
  const std::size_t n = rim.points.size();
  const Along before = along_rim(rim, mouth, -1, line.half[0]), after = along_rim(rim, mouth, 1, line.half[0]);
  const bool plain = line.half[0] <= kLip;
  const auto left = lip(line, wall, 1), right = lip(line, wall, -1);

  // From the first point after the slit all round to the last before it, then the slit.
  SlitRim out;
  const std::size_t first = (mouth + 1 + after.passed) % n, kept = n - 1 - before.passed - after.passed;
  for (std::size_t k = 0; k < kept; ++k) {
    const std::size_t i = (first + k) % n;
    out.rim.points.push_back(rim.points[i]), out.rim.lengths.push_back(rim.lengths[i]);
    out.steps.push_back(at.steps[i]), out.marks.push_back(at.marks[i]);
  }
  if (!plain) out.rim.lengths.back() = before.rest, out.steps.back().second = before.place;
  const auto left_at = static_cast<std::uint32_t>(kept);
  const std::size_t tip = kept + line.places.size() - 1;
  const auto right_at = static_cast<std::uint32_t>(tip + line.places.size() - 1);
  std::vector<LatticePoint> way{before.place};
  way.insert(way.end(), left.begin(), left.end());
  way.push_back(line.places.back());
  way.insert(way.end(), right.rbegin(), right.rend());
  way.push_back(after.place);
  for (std::size_t k = 0; k + 1 < way.size(); ++k) {
    const std::size_t from = k + 1 < line.places.size() ? k : way.size() - 2 - k;  // the lips' lengths are the line's
    out.rim.points.push_back(way[k]);
    out.rim.lengths.push_back(plain ? seam_length(*wall.metric, line.places[from], line.places[from + 1])
                                    : seam_length(*wall.metric, way[k], way[k + 1]));
    out.steps.emplace_back(way[k], way[k + 1]);
  }
  out.rim.points.push_back(after.place);
  out.rim.lengths.push_back(plain ? rim.lengths[mouth] : after.rest);
  out.steps.push_back(at.steps[(mouth + after.passed) % n]);
  if (!plain) out.steps.back().first = after.place;
  out.marks.resize(out.rim.points.size(), SlitRim::kNoSlit);
  out.marks[left_at] = 3 * slit, out.marks[tip] = 3 * slit + 1, out.marks[right_at] = 3 * slit + 2;

  for (const std::uint32_t corner : rim.corners) {
    const std::size_t k = (corner + n - first) % n;  // counted from the first kept point
    const std::size_t lost_after = (corner + n - mouth) % n;
    if (k < kept)
      out.rim.corners.push_back(static_cast<std::uint32_t>(k));
    else
      out.rim.corners.push_back(lost_after > 0 && lost_after <= after.passed ? right_at : left_at);
  }
  at = std::move(out);
}

std::vector<SlitPlace> slit_places(const std::vector<SlitRim>& rims) {
  std::map<std::size_t, SlitPlace> places;
  for (std::uint32_t r = 0; r < rims.size(); ++r)
    for (std::uint32_t i = 0; i < rims[r].marks.size(); ++i) {
      if (rims[r].marks[i] == SlitRim::kNoSlit) continue;
      SlitPlace& place = places[rims[r].marks[i] / 3];
      place.slit = rims[r].marks[i] / 3, place.rim = r;
      (rims[r].marks[i] % 3 == 0 ? place.left : rims[r].marks[i] % 3 == 1 ? place.tip : place.right) = i;
    }
  std::vector<SlitPlace> out;
  for (const auto& [slit, place] : places) out.push_back(place);
  return out;
}

}  // namespace

SlitRim plain_rim(DenseRim rim) {
  SlitRim out{std::move(rim), {}, {}};
  const auto& points = out.rim.points;
  for (std::size_t i = 0; i < points.size(); ++i) out.steps.emplace_back(points[i], points[(i + 1) % points.size()]);
  out.marks.assign(points.size(), SlitRim::kNoSlit);
  return out;
}

std::vector<SlitPlace> put_slits(std::vector<SlitRim>& rims, std::span<const Slit> slits, const ChartedWall& wall,
                                 double spacing_m) {
  for (std::size_t s = 0; s < slits.size(); ++s)
    for (SlitRim& rim : rims) {
      const auto& points = rim.rim.points;
      const auto mouth = std::find(points.begin(), points.end(), slits[s].mouth);
      if (mouth == points.end() || points.size() < 8) continue;
      put(rim, s, static_cast<std::size_t>(mouth - points.begin()), divided(slits[s], *wall.metric, spacing_m), wall);
      break;
    }
  return slit_places(rims);
}

}  // namespace pontata
