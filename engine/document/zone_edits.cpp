// Zones of a wall: drawn, changed, taken away.
#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "engine/base/predicates.h"
#include "engine/base/units.h"
#include "engine/document/drawn_line.h"
#include "engine/document/edit_parts.h"
#include "engine/document/edits.h"
#include "engine/document/seam_edits.h"

namespace pontata {

namespace {

std::string place_text(ChartPoint p) { return fmt::format("{},{}", format_fixed(p.u, 3), format_fixed(p.v, 3)); }

Result<Ring> zone_ring(const WallItem& item, Ring r) {
  r.erase(std::unique(r.begin(), r.end()), r.end());
  while (r.size() > 1 && r.front() == r.back()) r.pop_back();
  if (r.size() < 3 || twice_area(r) == 0)
    return Problem{"the zone encloses nothing", item.name, "Give points that go round an area."};
  const auto crossing = find_self_crossing(r);
  if (crossing.first >= 0)
    return Problem{
        "the zone's outline crosses itself near " + place_text(to_chart(r[static_cast<std::size_t>(crossing.first)])),
        item.name, "Draw it so that it does not cross itself."};
  if (twice_area(r) < 0) std::reverse(r.begin(), r.end());
  return r;
}

Result<std::vector<Ring>> clean_rings(const WallItem& item, std::vector<Ring> rings) {
  if (rings.empty()) return Problem{"the zone encloses nothing", item.name, "Give points that go round an area."};
  for (Ring& ring : rings) {
    auto clean = zone_ring(item, std::move(ring));
    if (!clean) return clean.problem();
    ring = std::move(*clean);
  }
  return rings;
}

// One ring, and more where it crosses cuts.
Result<std::vector<Ring>> zone_rings(const WallItem& item, const std::vector<ChartPoint>& points) {
  if (points.size() < 3) return Problem{"a zone needs at least 3 points", item.name, "Give more points."};
  auto rings = enclosed(item, points);
  if (!rings) return rings.problem();
  return clean_rings(item, std::move(*rings));
}

// The same round, wherever it begins.
bool same_ring(const Ring& a, const Ring& b) {
  if (a.size() != b.size()) return false;
  for (std::size_t shift = 0; shift < b.size(); ++shift) {
    const auto begin = b.begin() + static_cast<std::ptrdiff_t>(shift);
    if (std::equal(begin, b.end(), a.begin()) && std::equal(b.begin(), begin, a.end() - (begin - b.begin())))
      return true;
  }
  return a.empty();
}

// Of zones other than `self`, which may be none.
Outcome check_new_rings(const WallItem& item, ZoneId self, ZoneKind kind, const std::vector<Ring>& rings) {
  for (const auto& zone : item.zones)
    if (const auto there = zone.rings(); zone.id != self && zone.kind == kind &&
                                         std::equal(there.begin(), there.end(), rings.begin(), rings.end(), same_ring))
      return Problem{fmt::format("this zone is there already, with the id {}", zone.id.value), item.name,
                     "Draw another outline, or take that one away first."};
  return Done{};
}

std::string zone_words(ZoneKind kind, const std::string& name) {
  const std::string words = kind == ZoneKind::detail ? "Detail zone" : "Keep-whole zone";
  return name.empty() ? words : words + " " + name;
}

bool detail_name_used(const Document& doc, ZoneId self, const std::string& name) {
  for (const auto& wall : doc.walls)
    for (const auto& zone : wall->zones)
      if (zone.id != self && zone.kind == ZoneKind::detail && zone.name == name) return true;
  return false;
}

Outcome check_zone(const Document& doc, ZoneId self, ZoneKind kind, const std::string& name, std::optional<double> rate,
                   Subject subject) {
  if (const auto good = check_giornata_name(name); !good) return good.problem();
  if (rate && kind != ZoneKind::detail)
    return Problem{"a keep-whole zone has no painting rate", "", "Leave the rate out, or make it a detail zone."};
  if (subject != Subject::none && kind != ZoneKind::detail)
    return Problem{"a keep-whole zone has no subject", "", "Leave the subject out, or make it a detail zone."};
  if (rate && !(*rate >= 0.001 && *rate <= 100))
    return Problem{"that is not a painting rate", "", "Give square metres an hour from 0.001 to 100."};
  if (kind == ZoneKind::detail && !name.empty() && detail_name_used(doc, self, name))
    return Problem{"there is a detail zone named " + name + " already", "", "Choose another name."};
  return Done{};
}

// The wall it lies on, null for none, and its place among that wall's zones.
std::pair<const WallItem*, std::size_t> zone_of(const Document& doc, ZoneId id) {
  for (const auto& item : doc.walls)
    for (std::size_t i = 0; i < item->zones.size(); ++i)
      if (item->zones[i].id == id) return {item.get(), i};
  return {nullptr, 0};
}

Problem no_such_zone(ZoneId id) {
  return {fmt::format("there is no zone with the id {}", id.value), "", "measure lists the zones with their ids."};
}

}  // namespace

// The lists name every member, so that a new one cannot be forgotten.
bool same_zone(const Zone& a, const Zone& b) {
  const auto& [id, kind, name, ring, rate, more, subject] = a;
  return std::tie(id, kind, name, ring, rate, more, subject) ==
         std::tie(b.id, b.kind, b.name, b.ring, b.rate_m2_per_h, b.more, b.subject);
}

Result<Edited> add_zone(const Document& doc, WallId wall, ZoneKind kind, std::vector<Ring> given,
                        const std::string& name, std::optional<double> rate, Subject subject) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  if (const auto good = check_zone(doc, {}, kind, name, rate, subject); !good) return good.problem();
  const auto rings = clean_rings(**item, std::move(given));
  if (!rings) return rings.problem();
  if (const auto fresh = check_new_rings(**item, {}, kind, *rings); !fresh) return fresh.problem();
  auto changed = std::make_shared<WallItem>(**item);
  changed->zones.push_back(
      {ZoneId{doc.next_zone}, kind, name, rings->front(), rate, {rings->begin() + 1, rings->end()}, subject});
  auto next = with_wall(doc, std::move(changed));
  ++next->next_zone;
  return Edited{std::move(next), zone_words(kind, name)};
}

Result<Edited> add_zone(const Document& doc, WallId wall, ZoneKind kind, const std::vector<ChartPoint>& points,
                        const std::string& name, std::optional<double> rate, Subject subject) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  auto rings = zone_rings(**item, points);
  if (!rings) return rings.problem();
  return add_zone(doc, wall, kind, std::move(*rings), name, rate, subject);
}

Result<Edited> remove_zone(const Document& doc, ZoneId id) {
  const auto [item, at] = zone_of(doc, id);
  if (!item) return no_such_zone(id);
  auto changed = std::make_shared<WallItem>(*item);
  changed->zones.erase(changed->zones.begin() + static_cast<std::ptrdiff_t>(at));
  return Edited{with_wall(doc, std::move(changed)),
                zone_words(item->zones[at].kind, item->zones[at].name) + " taken away"};
}

std::vector<ChartPoint> zone_corners(const WallItem& item, const Zone& zone) {
  const std::vector<Ring> rings = zone.rings();
  const auto opened = opened_along_cuts(*item.wall->chart, rings);
  if (!opened) return {};
  std::vector<ChartPoint> corners;
  for (const LatticePoint p : *opened) corners.push_back(to_chart(p));
  if (rings.size() == 1) return corners;
  const auto again = zone_rings(item, corners);
  const bool same = again && std::is_permutation(again->begin(), again->end(), rings.begin(), rings.end(), same_ring);
  return same ? corners : std::vector<ChartPoint>{};
}

Result<Edited> change_zone(const Document& doc, ZoneId id, const ZoneChange& change) {
  const auto [item, at] = zone_of(doc, id);
  if (!item) return no_such_zone(id);
  if (!change.kind && !change.name && !change.rate_m2_per_h && !change.points && !change.subject)
    return Problem{"nothing is to be changed of the zone", item->name,
                   "Give a kind, a name, a rate, a subject or an outline."};
  Zone zone = item->zones[at];
  if (change.kind) zone.kind = *change.kind;
  if (change.name) zone.name = *change.name;
  if (zone.kind != ZoneKind::detail) zone.rate_m2_per_h.reset(), zone.subject = Subject::none;  // unless asked for
  if (change.rate_m2_per_h) zone.rate_m2_per_h = *change.rate_m2_per_h;
  if (change.subject) zone.subject = *change.subject;
  if (const auto good = check_zone(doc, id, zone.kind, zone.name, zone.rate_m2_per_h, zone.subject); !good)
    return good.problem();
  if (change.points) {
    auto rings = zone_rings(*item, *change.points);
    if (!rings) return rings.problem();
    zone.ring = std::move(rings->front());
    zone.more.assign(rings->begin() + 1, rings->end());
  }
  if (const auto own = check_new_rings(*item, id, zone.kind, zone.rings()); !own) return own.problem();
  auto changed = std::make_shared<WallItem>(*item);
  std::string did = zone_words(zone.kind, zone.name) + " changed";
  changed->zones[at] = std::move(zone);
  return Edited{with_wall(doc, std::move(changed)), std::move(did)};
}

}  // namespace pontata
