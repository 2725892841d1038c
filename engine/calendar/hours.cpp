#include <algorithm>

#include "engine/calendar/calendar.h"
#include "engine/giornate/ring_overlap.h"

namespace pontata {

namespace {

constexpr double kNothing = 1e-6;  // m^2 that need no rate

bool sets_rate(const Zone& zone) {
  return zone.kind == ZoneKind::detail && zone.rate_m2_per_h && *zone.rate_m2_per_h > 0 && zone.ring.size() >= 3;
}

struct Box {
  LatticePoint low, high;
  explicit Box(const Ring& ring) : low(ring.front()), high(ring.front()) {
    for (const LatticePoint& p : ring) {
      low = {std::min(low.x, p.x), std::min(low.y, p.y)};
      high = {std::max(high.x, p.x), std::max(high.y, p.y)};
    }
  }
  bool meets(const Box& o) const {
    return low.x < o.high.x && o.low.x < high.x && low.y < o.high.y && o.low.y < high.y;
  }
};

struct Detail {
  double area = 0;   // m^2 in detail zones
  double hours = 0;  // to paint it
};

// Each zone takes its part of what the zones before it left.
void add_details(const ChartedWall& wall, std::vector<Ring> left, std::span<const Zone> zones, Detail& sum) {
  for (const Zone& zone : zones) {
    if (left.empty()) return;
    if (!sets_rate(zone)) continue;
    const std::vector<Ring> rings = zone.rings();
    const auto meets = [&](const Ring& r) {
      return std::any_of(rings.begin(), rings.end(), [&](const Ring& z) { return Box(r).meets(Box(z)); });
    };
    if (std::none_of(left.begin(), left.end(), meets)) continue;
    const double area = area_by_clipping(wall, overlap(left, rings));
    if (!(area > 0)) continue;
    sum.area += area;
    sum.hours += area / *zone.rate_m2_per_h;
    left = without(left, rings);
  }
}

}  // namespace

GiornataHours painting_hours(const ChartedWall& wall, const Network& network, const GiornataMeasure& giornata,
                             std::span<const Zone> zones, const CalendarSettings& settings) {
  GiornataHours result;
  result.id = giornata.id;
  result.window_h = painting_window_h(settings);
  Detail detail;
  if (std::any_of(zones.begin(), zones.end(), sets_rate))
    for (const FaceId f : network.faces_of(giornata.id)) add_details(wall, network.rings(f), zones, detail);
  const double plain = std::max(0.0, giornata.area_m2 - detail.area);
  const bool has_rate = settings.rate_m2_per_h && *settings.rate_m2_per_h > 0;
  if (!has_rate && plain > kNothing) return result;
  result.hours = detail.hours + (has_rate ? plain / *settings.rate_m2_per_h : 0);
  result.fits = *result.hours <= result.window_h;
  return result;
}

}  // namespace pontata
