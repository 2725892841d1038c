// Sizes against the day, the deck and the painter's reach; and who comes before whom.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>

#include "engine/base/units.h"
#include "engine/review/seam_walk.h"

namespace pontata {

namespace {

constexpr double kReachDown = 0.3;  // m below a deck (common practice, no source), as deck_checks
constexpr double kBand = 0.10;      // m of height that counts as one level
constexpr double kLower = 0.5;      // m that one giornata's middle lies below another's to be the lower one

std::string height(double m) { return format_fixed(m, 2) + " m"; }

bool painted(const Case& c, GiornataId id) { return c.records.at(id)->state == GiornataState::done; }

// Greatest distance straight across between places of the rim at one height.
double width_along_level(const Case& c, GiornataId id) {
  std::map<long, std::vector<Vec2>> bands;
  for (const FaceId face : c.network().faces_of(id))
    for (const auto& cycle : c.network().cycles(face))
      for (const HalfEdgeId h : cycle) {
        const Vec2 a = to_vec(to_chart(c.network().origin(h))), step = to_vec(to_chart(c.network().target(h))) - a;
        const double length = c.network().seam(Network::seam_of(h)).length_m;
        const int parts = 1 + static_cast<int>(length / (0.5 * kBand));
        for (int k = 0; k < parts; ++k)
          if (const auto at = c.wall().position(to_chart(a + step * (static_cast<double>(k) / parts))))
            bands[std::lround(std::floor(at->z / kBand))].push_back({at->x, at->y});
      }
  double widest = 0;
  for (const auto& [band, places] : bands)
    for (int d = 0; d < 16; ++d) {
      const double turn = d * 3.14159265358979 / 16;
      const Vec2 way(std::cos(turn), std::sin(turn));
      double low = 1e300, high = -1e300;
      for (const Vec2& p : places) low = std::min(low, glm::dot(p, way)), high = std::max(high, glm::dot(p, way));
      widest = std::max(widest, high - low);
    }
  return widest;
}

double reach_of(const CalendarSettings& calendar, std::size_t deck) {
  return calendar.reach_m.empty() ? 2.3 : calendar.reach_m[std::min(deck, calendar.reach_m.size() - 1)];
}

void check_reach(const Case& c, const GiornataMeasure& m, Findings& out) {
  const CalendarSettings& calendar = *c.input.calendar;
  const std::size_t deck = deck_of(calendar.levels_m, m.inside_m);
  const double level = calendar.levels_m[deck], slack = c.settings.reach_slack_m;
  const double above = m.highest_m - (level + reach_of(calendar, deck) + slack),
               below = level - kReachDown - slack - m.lowest_m;
  if (above > 0 || below > 0) {
    Finding f = c.at("out-of-reach", Severity::warn, {m.id}, m.inside);
    f.value = std::max(above, below);
    f.says = fmt::format("{} goes from {} to {}, but from its deck at {} a painter reaches {} to {}.", c.name(m.id),
                         height(m.lowest_m), height(m.highest_m), height(level), height(level - kReachDown),
                         height(level + reach_of(calendar, deck)));
    f.remedy = "Divide it between the decks, or set another deck level.";
    out.push_back(std::move(f));
    return;
  }
  if (deck + 1 >= calendar.levels_m.size()) return;
  const double next = calendar.levels_m[deck + 1];
  if (m.highest_m - next <= slack) return;
  Finding f = c.at("crosses-deck", Severity::warn, {m.id}, m.inside);
  f.value = m.highest_m - next;
  f.limit = slack;
  f.says = fmt::format("{} goes on {} above the deck at {}: with that deck in place it cannot be painted in one go.",
                       c.name(m.id), height(f.value), height(next));
  f.remedy = "End it at the scaffold level, or set the deck elsewhere.";
  out.push_back(std::move(f));
}

std::vector<GiornataId> plan_order(const Plan& plan) {
  std::vector<GiornataId> order;
  for (const PlannedDay& day : plan.days) order.push_back(day.id);
  return order;
}

}  // namespace

void find_too_small(const Case& c, Findings& out) {
  for (const GiornataHours& h : c.input.hours) {
    const auto measure = c.measures.find(h.id);
    if (!h.hours || measure == c.measures.end() || !c.records.contains(h.id) || painted(c, h.id)) continue;
    const double limit = c.settings.small_share * h.window_h;
    if (*h.hours >= limit) continue;
    Finding f = c.at("too-small", Severity::note, {h.id}, measure->second->inside);
    f.value = *h.hours;
    f.limit = limit;
    f.says = fmt::format("{} ({} m²) takes {} h of the {} h that its plaster leaves: a day's set-up for little.",
                         c.name(h.id), format_fixed(measure->second->area_m2, 2), format_fixed(*h.hours, 1),
                         format_fixed(h.window_h, 1));
    f.remedy = "Join it to the giornata beside it, or make it larger.";
    out.push_back(std::move(f));
  }
}

void find_too_wide(const Case& c, Findings& out) {
  for (const auto& [id, record] : c.records) {
    const auto measure = c.measures.find(id);
    if (measure == c.measures.end()) continue;
    const double wide = width_along_level(c, id);
    if (wide <= c.settings.wide_m) continue;
    Finding f = c.at("too-wide", Severity::warn, {id}, measure->second->inside);
    f.value = wide;
    f.limit = c.settings.wide_m;
    f.says = fmt::format("{} is {} wide along the deck; one painter serves about {}.", c.name(id), height(wide),
                         height(c.settings.wide_m));
    f.remedy = "Divide it by an upright seam, or put more painters on it.";
    out.push_back(std::move(f));
  }
}

void find_out_of_reach(const Case& c, Findings& out) {
  if (!c.input.calendar || c.input.calendar->levels_m.empty()) return;
  for (const auto& [id, measure] : c.measures)
    if (c.records.contains(id)) check_reach(c, *measure, out);
}

void find_lower_first(const Case& c, Findings& out) {
  if (!c.input.plan) return;
  std::map<GiornataId, std::size_t> place;
  for (const GiornataId id : plan_order(*c.input.plan)) place.emplace(id, place.size());
  for (const auto& [id, m] : c.measures)
    for (const GiornataId other : m->neighbours) {
      const auto upper = c.measures.find(other);
      if (upper == c.measures.end() || !place.contains(id) || !place.contains(other)) continue;
      const GiornataMeasure& u = *upper->second;
      const double rise = u.inside_m - m->inside_m;
      if (place.at(id) > place.at(other) || rise <= kLower || u.lowest_m < m->inside_m || m->highest_m > u.inside_m)
        continue;
      if (c.records.contains(id) && c.records.contains(other) && painted(c, id) && painted(c, other)) continue;
      Finding f = c.at("lower-before-upper", Severity::warn, {id, other}, m->inside);
      f.value = rise;
      f.limit = kLower;
      f.says = fmt::format("{} is painted before giornata {}, which lies {} above it: splashes fall on finished work.",
                           c.name(id), c.name(other).substr(c.name(other).find(' ') + 1), height(rise));
      f.remedy = "Paint the upper one first, or shield the lower one.";
      out.push_back(std::move(f));
    }
}

void find_impossible_overlaps(const Case& c, Findings& out) {
  if (!c.input.plan) return;
  for (const PlanIssue& issue : c.input.plan->issues) {
    if (issue.rule != "wet-seam" || issue.giornate.size() != 2) continue;
    const GiornataId a = std::min(issue.giornate[0], issue.giornate[1]),
                     b = std::max(issue.giornate[0], issue.giornate[1]);
    for (const SeamChain& chain : seam_chains(c)) {
      if (chain.first != a || chain.second != b) continue;
      const MeasuredLine line = measured_line(c.network(), chain);
      Finding f = c.at("overlap-impossible", Severity::decide, {a, b}, to_chart(line.place(0.5 * line.total())));
      f.value = line.total();
      f.stretches = {line.stretch(0, line.total())};
      f.says = fmt::format(
          "{} are wet on one day and share {} of seam: neither edge is set when the other is pressed against it.",
          c.names(a, b), height(line.total()));
      f.remedy = "Move one to another day, or allow the pair to be wet together and lay it as one.";
      out.push_back(std::move(f));
    }
  }
}

}  // namespace pontata
