#include <algorithm>

#include "engine/calendar/calendar.h"
#include "engine/calendar/rates.h"
#include "engine/giornate/ring_overlap.h"

namespace pontata {

namespace {

constexpr double kNothing = 1e-6;  // m^2 that need no rate

using Rate = std::optional<double>;

Rate positive(const Rate& rate) { return rate && *rate > 0 ? rate : std::nullopt; }

// The rate at which a subject is painted: its own, else the painter's.
Rate rate_of(Subject subject, const CalendarSettings& settings) {
  const Rate own = positive(settings.subject_rates[static_cast<std::size_t>(subject)]);
  return own ? own : positive(settings.rate_m2_per_h);
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

// Adds an area of one subject. Less than that needs no rate.
void add_part(GiornataHours& sum, Subject subject, double area_m2, const Rate& rate) {
  const auto i = static_cast<std::size_t>(subject);
  sum.areas_m2[i] += area_m2;
  if (!rate && area_m2 > kNothing) sum.hours_of[i].reset();
  if (rate && sum.hours_of[i]) *sum.hours_of[i] += area_m2 / *rate;
}

// Each zone takes its part of what the zones before it left. Returns the area in zones, m^2.
double add_zones(const ChartedWall& wall, std::vector<Ring> left, std::span<const Zone> zones,
                 const CalendarSettings& settings, GiornataHours& sum) {
  double in_zones = 0;
  for (const Zone& zone : zones) {
    if (left.empty()) break;
    if (!tells_rate(zone)) continue;
    const std::vector<Ring> rings = zone.rings();
    const auto meets = [&](const Ring& r) {
      return std::any_of(rings.begin(), rings.end(), [&](const Ring& z) { return Box(r).meets(Box(z)); });
    };
    if (std::none_of(left.begin(), left.end(), meets)) continue;
    const double area = area_by_clipping(wall, overlap(left, rings));
    if (!(area > 0)) continue;
    in_zones += area;
    add_part(sum, zone.subject, area, zone_rate(zone, settings));
    left = without(left, rings);
  }
  return in_zones;
}

}  // namespace

std::optional<double> plain_rate(const CalendarSettings& settings) { return rate_of(Subject::none, settings); }

std::optional<double> zone_rate(const Zone& zone, const CalendarSettings& settings) {
  const Rate own = positive(zone.rate_m2_per_h);
  return own ? own : rate_of(zone.subject, settings);
}

bool tells_rate(const Zone& zone) {
  return zone.kind == ZoneKind::detail && zone.ring.size() >= 3 &&
         (positive(zone.rate_m2_per_h) || zone.subject != Subject::none);
}

bool fits_day(const GiornataHours& hours, const CalendarSettings& settings) {
  return *hours.hours <= hours.window_h &&
         hours.lay_h + settings.wait_h + *hours.hours + kEveningHours <= settings.whole_day_h;
}

GiornataHours painting_hours(const ChartedWall& wall, const Network& network, const GiornataMeasure& giornata,
                             std::span<const Zone> zones, const CalendarSettings& settings) {
  GiornataHours result;
  result.id = giornata.id;
  result.window_h = painting_window_h(settings);
  result.hours_of.fill(0);
  if (const Rate lay = positive(settings.lay_rate_m2_per_h)) result.lay_h = giornata.area_m2 / *lay;
  double in_zones = 0;
  if (std::any_of(zones.begin(), zones.end(), tells_rate))
    for (const FaceId f : network.faces_of(giornata.id))
      in_zones += add_zones(wall, network.rings(f), zones, settings, result);
  add_part(result, Subject::none, std::max(0.0, giornata.area_m2 - in_zones), plain_rate(settings));
  double hours = 0;
  for (const Rate& part : result.hours_of) {
    if (!part) return result;
    hours += *part;
  }
  result.hours = hours;
  result.fits = fits_day(result, settings);
  return result;
}

}  // namespace pontata
