// Edits that draw on the wall: outlines, divisions, zones.
#include <fmt/format.h>

#include <algorithm>

#include "engine/base/predicates.h"
#include "engine/base/units.h"
#include "engine/document/edit_parts.h"
#include "engine/document/edits.h"
#include "engine/document/plain_text.h"
#include "engine/seams/hug_across.h"

namespace pontata {

namespace {

std::string place_text(ChartPoint p) { return fmt::format("{},{}", format_fixed(p.u, 3), format_fixed(p.v, 3)); }

// The line through places on the wall, or at most a few millimetres outside it, cut up where it crosses cuts.
Result<std::vector<CutPiece>> led(const WallItem& item, const std::vector<ChartPoint>& points, bool closed) {
  const WrappedPlaces wrapped = wrap_places(*item.wall->chart, points);
  const auto places = bring_to_border(*item.wall, wrapped.places);
  if (!places) return places.problem();
  return lead_across(*item.wall, *places, wrapped.turned, closed);
}

// Joined straight, measured on the surface.
HuggedLine straight_line(const WallItem& item, const std::vector<ChartPoint>& points, bool closed) {
  HuggedLine line;
  line.line = points;
  if (const auto pieces = led(item, points, closed)) line.length_m = length_of(*item.wall, *pieces, closed);
  return line;
}

std::shared_ptr<Document> with_giornata(const Document& doc, const WallItem& item, Network network, GiornataId id,
                                        int number, const std::string& name) {
  auto next = with_network(doc, item, std::move(network));
  Giornata made;
  made.id = id;
  made.wall = item.id;
  made.number = number;
  made.name = name;
  next->giornate.push_back(std::move(made));
  return next;
}

Result<OutlineEdited> insert_line(const Document& doc, const WallItem& item, const HuggedLine& line,
                                  const std::string& name) {
  if (const auto good = check_giornata_name(name); !good) return good.problem();
  if (line.line.size() < 3) return Problem{"an outline needs at least 3 points", item.name, "Give more points."};
  const auto pieces = led(item, line.line, true);
  if (!pieces) return pieces.problem();
  const auto rings = close_along_cuts(*item.wall->chart, *pieces);
  if (!rings) return rings.problem();
  const GiornataId id = next_giornata(doc);
  auto inserted = insert_outlines(item.network, *rings, id, item.wall->metric->meter(), item.wall->chart.get());
  if (!inserted) return inserted.problem();
  OutlineEdited edited;
  edited.id = id;
  edited.number = next_number(doc);
  edited.area_m2 = inserted->area_m2;
  edited.dropped = std::move(inserted->dropped);
  edited.overlap_given_up = inserted->overlap_given_up;
  edited.line = line;
  edited.document = with_giornata(doc, item, std::move(inserted->network), id, edited.number, name);
  edited.did = fmt::format("Outline of giornata {}", edited.number);
  return edited;
}

HugOptions hug_options(const Document& doc) { return doc.settings.hug; }

Result<HuggedLine> hug_on(const Document& doc, const WallItem& item, const std::vector<CutPiece>& pieces, bool closed,
                          Progress* progress) {
  if (const auto there = check_pictures(item); !there) return there.problem();
  auto ground = std::make_shared<HugGround>();
  ground->wall = item.wall;
  ground->contours = contours_of(doc, item, progress);
  ground->network = item.network;
  return hug_pieces(ground, pieces, closed, hug_options(doc), progress);
}

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

// One ring, and more where it crosses cuts.
Result<std::vector<Ring>> zone_rings(const WallItem& item, const std::vector<ChartPoint>& points) {
  if (points.size() < 3) return Problem{"a zone needs at least 3 points", item.name, "Give more points."};
  const auto pieces = led(item, points, true);
  if (!pieces) return pieces.problem();
  auto rings = close_along_cuts(*item.wall->chart, *pieces);
  if (!rings) return rings.problem();
  if (rings->empty()) return Problem{"the zone encloses nothing", item.name, "Give points that go round an area."};
  for (Ring& ring : *rings) {
    auto clean = zone_ring(item, std::move(ring));
    if (!clean) return clean.problem();
    ring = std::move(*clean);
  }
  return rings;
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

Outcome check_new_rings(const WallItem& item, ZoneKind kind, const std::vector<Ring>& rings) {
  for (const auto& zone : item.zones)
    if (const auto there = zone.rings();
        zone.kind == kind && std::equal(there.begin(), there.end(), rings.begin(), rings.end(), same_ring))
      return Problem{fmt::format("this zone is there already, with the id {}", zone.id.value), item.name,
                     "Draw another outline, or take that one away first."};
  return Done{};
}

std::string zone_words(ZoneKind kind, const std::string& name) {
  const std::string words = kind == ZoneKind::detail ? "Detail zone" : "Keep-whole zone";
  return name.empty() ? words : words + " " + name;
}

bool detail_name_used(const Document& doc, const std::string& name) {
  for (const auto& wall : doc.walls)
    for (const auto& zone : wall->zones)
      if (zone.kind == ZoneKind::detail && zone.name == name) return true;
  return false;
}

Outcome check_zone(const Document& doc, ZoneKind kind, const std::string& name, std::optional<double> rate) {
  if (const auto good = check_giornata_name(name); !good) return good.problem();
  if (rate && kind != ZoneKind::detail)
    return Problem{"a keep-whole zone has no painting rate", "", "Leave the rate out, or make it a detail zone."};
  if (rate && !(*rate >= 0.001 && *rate <= 100))
    return Problem{"that is not a painting rate", "", "Give square metres an hour from 0.001 to 100."};
  if (kind == ZoneKind::detail && !name.empty() && detail_name_used(doc, name))
    return Problem{"there is a detail zone named " + name + " already", "", "Choose another name."};
  return Done{};
}

}  // namespace

std::shared_ptr<const ContourField> contours_of(const Document& doc, const WallItem& item, Progress* progress) {
  auto input = drape_input(doc, item);
  if (input.pictures.empty()) return nullptr;
  const auto draped = Draped::make(std::move(input));
  return std::make_shared<const ContourField>(contour_field(*draped, doc.settings.contours, nullptr, progress));
}

Result<HuggedLine> hug_line(const Document& doc, WallId wall, const std::vector<ChartPoint>& points, bool closed,
                            Progress* progress) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  const std::size_t least = closed ? 3 : 2;
  if (points.size() < least)
    return Problem{fmt::format("a line to hug needs at least {} points", least), (*item)->name, "Give more points."};
  const auto pieces = led(**item, points, closed);
  if (!pieces) return pieces.problem();
  return hug_on(doc, **item, *pieces, closed, progress);
}

Result<OutlineEdited> draw_outline(const Document& doc, WallId wall, const std::vector<ChartPoint>& points, bool hugged,
                                   const std::string& name, Progress* progress) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  if (!hugged) return insert_line(doc, **item, straight_line(**item, points, true), name);
  if (points.size() < 3) return Problem{"an outline needs at least 3 points", (*item)->name, "Give more points."};
  const auto line = hug_line(doc, wall, points, true, progress);
  if (!line) return line.problem();
  return insert_line(doc, **item, *line, name);
}

Result<OutlineEdited> commit_outline(const Document& doc, WallId wall, const HuggedLine& line,
                                     const std::string& name) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  return insert_line(doc, **item, line, name);
}

Result<DivideEdited> divide(const Document& doc, GiornataId id, const std::vector<ChartPoint>& points, bool hugged,
                            Progress* progress) {
  const auto found = giornata_of(doc, id);
  if (!found) return found.problem();
  const WallItem& item = *doc.wall((*found)->wall);
  if (points.size() < 2) return Problem{"a seam needs at least 2 points", item.name, "Give more points."};
  auto line = led(item, points, false);
  if (!line) return line.problem();
  if (hugged) {
    const auto along = hug_on(doc, item, *line, false, progress);
    if (!along) return along.problem();
    line = led(item, along->line, false);
    if (!line) return line.problem();
  }
  const GiornataId made = next_giornata(doc);
  auto network = divide_giornata(item.network, id, *line, made, item.wall->metric->meter(), item.wall->chart.get());
  if (!network) return network.problem();
  DivideEdited edited;
  edited.new_id = made;
  edited.new_number = next_number(doc);
  auto next = with_giornata(doc, item, std::move(*network), made, edited.new_number, "");
  next->giornate.back().intonaco_mm = (*found)->intonaco_mm;
  edited.document = std::move(next);
  edited.did = fmt::format("Giornata {} divided", (*found)->number);
  return edited;
}

Result<Edited> add_zone(const Document& doc, WallId wall, ZoneKind kind, const std::vector<ChartPoint>& points,
                        const std::string& name, std::optional<double> rate) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  if (const auto good = check_zone(doc, kind, name, rate); !good) return good.problem();
  auto rings = zone_rings(**item, points);
  if (!rings) return rings.problem();
  if (const auto fresh = check_new_rings(**item, kind, *rings); !fresh) return fresh.problem();
  auto changed = std::make_shared<WallItem>(**item);
  changed->zones.push_back(
      {ZoneId{doc.next_zone}, kind, name, rings->front(), rate, {rings->begin() + 1, rings->end()}});
  auto next = with_wall(doc, std::move(changed));
  ++next->next_zone;
  return Edited{std::move(next), zone_words(kind, name)};
}

Result<Edited> remove_zone(const Document& doc, ZoneId id) {
  for (const auto& item : doc.walls)
    for (std::size_t i = 0; i < item->zones.size(); ++i) {
      if (item->zones[i].id != id) continue;
      auto changed = std::make_shared<WallItem>(*item);
      changed->zones.erase(changed->zones.begin() + static_cast<std::ptrdiff_t>(i));
      return Edited{with_wall(doc, std::move(changed)),
                    zone_words(item->zones[i].kind, item->zones[i].name) + " taken away"};
    }
  return Problem{fmt::format("there is no zone with the id {}", id.value), "",
                 "measure lists the zones with their ids."};
}

}  // namespace pontata
