#include "engine/document/seam_files/laid_outline.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/predicates.h"
#include "engine/document/drawn_line.h"
#include "engine/seams/hug_across.h"
#include "engine/seams/network_editor.h"
#include "engine/seams/outline_edit.h"
#include "engine/seams/seam_snap.h"

namespace pontata {

namespace {

std::vector<ChartPoint> places_of(const DrawnLine& line) {
  std::vector<ChartPoint> places;
  places.reserve(line.points.size());
  for (const Vec2& p : line.points) places.push_back(to_chart(p));
  return places;
}

Ring without_repeats(Ring ring) {
  ring.erase(std::unique(ring.begin(), ring.end()), ring.end());
  while (ring.size() > 1 && ring.front() == ring.back()) ring.pop_back();
  return ring;
}

// All places of the wall, or beside it by rounding alone.
bool lies_exactly(const ChartedWall& wall, const Ring& ring) {
  constexpr double kRounding = 4 * kPitch;
  return std::all_of(ring.begin(), ring.end(), [&](LatticePoint p) {
    if (wall.chart->triangle_at(p)) return true;
    const ChartPoint here = to_chart(p), near = wall.chart->clamp(here);
    return std::hypot(near.u - here.u, near.v - here.v) <= kRounding;
  });
}

Result<std::vector<Ring>> hugged(const LayingGround& g, const std::vector<ChartPoint>& places,
                                 const HugOptions& options, Progress* progress) {
  const auto pieces = led(*g.item, places, true);
  if (!pieces) return pieces.problem();
  auto ground = std::make_shared<HugGround>(*g.contours);
  ground->network = *g.network;
  const auto line = hug_pieces(ground, *pieces, true, options, progress);
  if (!line) return line.problem();
  return enclosed(*g.item, line->line);
}

Result<std::vector<Ring>> laid(const LayingGround& g, const DrawnLine& line, const HugOptions& hug,
                               Progress* progress) {
  const auto places = places_of(line);
  if (g.contours) return hugged(g, places, hug, progress);
  if (g.exact && std::all_of(places.begin(), places.end(), fits_lattice)) {
    Ring ring;
    for (const ChartPoint& p : places) ring.push_back(to_lattice(p));
    if (lies_exactly(*g.item->wall, ring)) return std::vector<Ring>{std::move(ring)};
  }
  auto ring = bring_to_border(*g.item->wall, places);
  if (ring) return std::vector<Ring>{std::move(*ring)};
  if (g.item->wall->chart->has_cuts())
    if (auto across = enclosed(*g.item, places)) return across;
  return ring.problem();
}

struct Loop {
  Ring ring;
  LatticePoint low, high;
  int turns = 0;  // +1 counter-clockwise

  explicit Loop(Ring r) : ring(std::move(r)), low(ring[0]), high(ring[0]), turns(sign(twice_area(ring))) {
    for (const auto& p : ring) {
      low = {std::min(low.x, p.x), std::min(low.y, p.y)};
      high = {std::max(high.x, p.x), std::max(high.y, p.y)};
    }
  }
  double mean_width() const {  // pitches: area over half the rim
    double rim = 0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const LatticePoint a = ring[i], b = ring[(i + 1) % ring.size()];
      rim += std::hypot(static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y));
    }
    return std::abs(static_cast<double>(twice_area(ring))) / rim;
  }
  bool holds(const Loop& other) const {
    if (other.low.x < low.x || other.low.y < low.y || other.high.x > high.x || other.high.y > high.y) return false;
    for (const auto& p : other.ring)
      if (const int where = point_in_ring(ring, p); where != 0) return where > 0;
    return false;
  }
};

Ring counter_clockwise(const Loop& loop) {
  Ring ring = loop.ring;
  if (loop.turns < 0) std::reverse(ring.begin(), ring.end());
  return ring;
}

// Which loops bound what is inside, by the path's rule.
LaidOutline sorted(const std::vector<Loop>& loops, bool even_odd) {
  LaidOutline outline;
  for (std::size_t i = 0; i < loops.size(); ++i) {
    int turns = 0, around = 0;
    for (std::size_t j = 0; j < loops.size(); ++j)
      if (i != j && loops[j].holds(loops[i])) turns += loops[j].turns, ++around;
    const bool outside = even_odd ? around % 2 == 1 : turns != 0;
    const bool inside = even_odd ? around % 2 == 0 : turns + loops[i].turns != 0;
    if (inside && !outside) outline.parts.push_back(counter_clockwise(loops[i]));
    if (outside && !inside) outline.holes.push_back(counter_clockwise(loops[i]));
  }
  return outline;
}

}  // namespace

Result<LaidOutline> lay_outline(const LayingGround& g, const DrawnPath& path, const HugOptions& hug,
                                Progress* progress) {
  std::vector<Loop> loops;
  for (const auto& line : path.lines) {
    if (!line.closed) continue;
    auto rings = laid(g, line, hug, progress);
    if (!rings) return rings.problem();
    for (Ring& ring : *rings) {
      const bool snapped = !g.exact && g.reach > 0;
      ring = without_repeats(std::move(ring));
      if (snapped && !ring.empty()) ring = snap_to_seams(*g.network, ring, true, g.reach);
      for (Ring& loop : loops_of(ring)) {
        Loop one(std::move(loop));
        if (one.turns == 0)  // nothing inside, or an eight whose halves weigh each other up
          if (const auto hit = find_self_crossing(one.ring); hit.first >= 0)
            return Problem{"it crosses itself", place_name(one.ring[static_cast<std::size_t>(hit.first)]),
                           "Draw it so that it goes once around the giornata."};
        if (one.turns != 0 && (!snapped || one.mean_width() > g.reach / 2)) loops.push_back(std::move(one));
      }
    }
  }
  LaidOutline outline = sorted(loops, path.even_odd);
  if (outline.parts.empty()) return Problem{"it encloses nothing", "", "Draw it round an area of at least 1 cm²."};
  return outline;
}

std::optional<std::vector<Ring>> rings_as_drawn(const DrawnPath& path) {
  std::vector<Ring> rings;
  for (const auto& line : path.lines) {
    if (!line.closed) continue;
    Ring ring;
    for (const ChartPoint& p : places_of(line)) {
      if (!fits_lattice(p)) return std::nullopt;
      ring.push_back(to_lattice(p));
    }
    rings.push_back(std::move(ring));
  }
  return rings;
}

Result<std::vector<LatticePoint>> place_line(const LayingGround& g, const DrawnLine& line) {
  std::vector<LatticePoint> places;
  for (const ChartPoint& p : places_of(line)) {
    if (!fits_lattice(p)) return Problem{"a place of it lies kilometres outside the wall", "", "Check the unit."};
    places.push_back(to_lattice(p));
  }
  if (g.reach > 0) places = snap_to_seams(*g.network, places, false, g.reach);
  places.erase(std::unique(places.begin(), places.end()), places.end());
  return places;
}

}  // namespace pontata
