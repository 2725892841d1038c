#include "engine/document/opening_edits.h"

#include <fmt/format.h>

#include <cmath>

#include "engine/base/predicates.h"
#include "engine/base/units.h"
#include "engine/chart/openings_cut.h"
#include "engine/document/edit_parts.h"
#include "engine/document/giornata_records.h"
#include "engine/seams/cut_contacts.h"
#include "engine/seams/network_again.h"

namespace pontata {

namespace {

constexpr double kSameChartArea = 1e-8;  // m^2: a rim led through new points of the border differs by less

struct Extent {
  std::size_t parts = 0;            // that do not touch, not across a cut of the chart either
  double area = 0, chart_area = 0;  // m^2
};

Extent extent_of(const Network& network, GiornataId id, std::span<const CutContact> contacts) {
  const auto faces = network.faces_of(id);
  Extent extent;
  extent.parts = joined_across(network, faces, contacts).size();
  for (const FaceId f : faces) {
    extent.area += static_cast<double>(network.sums(f).area) * kAreaUnit;
    for (const auto& ring : network.rings(f))
      extent.chart_area += 0.5 * static_cast<double>(twice_area(ring)) * kPitch * kPitch;
  }
  return extent;
}

bool is_painted(GiornataState state) { return state == GiornataState::today || state == GiornataState::done; }

Result<std::vector<OpeningEdited::Changed>> changes(const Document& doc, const WallItem& item, const ChartedWall& wall,
                                                    const Network& now) {
  const auto contacts_before = cut_contacts(item.network, *item.wall->chart);
  const auto contacts_now = cut_contacts(now, *wall.chart);
  std::vector<OpeningEdited::Changed> changed;
  for (const auto& g : doc.giornate) {
    if (!g.alive || g.wall != item.id) continue;
    const Extent before = extent_of(item.network, g.id, contacts_before);
    const Extent after = extent_of(now, g.id, contacts_now);
    const bool same = std::abs(before.chart_area - after.chart_area) < kSameChartArea;
    if (same && after.parts <= before.parts) continue;
    const std::string name = "giornata " + label_of(g);
    if (!same && is_painted(g.state))
      return Problem{name + " is painted already and would lose a part", item.name,
                     "Mark it as to be done again first, or move the opening."};
    if (after.area < kLeastPiece)
      return Problem{"nothing would be left of " + name, item.name, "Take that giornata away first."};
    if (after.parts > before.parts)
      return Problem{name + " would be parted in two", item.name, "Divide it first, or move the opening."};
    changed.push_back({g.id, g.number, g.part, before.area, after.area});
  }
  return changed;
}

// The outline lies within the opening or meets its edge.
bool cuts(const Ring& opening, const Ring& outline) {
  if (point_in_ring(opening, outline[0]) >= 0) return true;
  for (std::size_t i = 0; i < opening.size(); ++i)
    for (std::size_t k = 0; k < outline.size(); ++k)
      if (segments_meet(opening[i], opening[(i + 1) % opening.size()], outline[k], outline[(k + 1) % outline.size()]))
        return true;
  return false;
}

Outcome check_zones(const WallItem& item, const Ring& opening) {
  for (const auto& zone : item.zones)
    for (const auto& ring : zone.rings())
      if (cuts(opening, ring)) {
        const std::string name = zone.name.empty() ? fmt::format("with the id {}", zone.id.value) : zone.name;
        return Problem{"the opening would cut zone " + name, item.name,
                       "Take the zone away first, and draw it anew afterwards."};
      }
  return Done{};
}

Result<OpeningEdited> with_new_border(const Document& doc, const WallItem& item, const WallRef& wall,
                                      std::vector<Opening> openings, std::string did) {
  auto network = lay_again(item.network, wall->chart->border_rings(), wall->metric->meter());
  if (!network) return network.problem();
  auto changed = changes(doc, item, *wall, *network);
  if (!changed) return changed.problem();
  auto next = std::make_shared<WallItem>(item);
  next->wall = wall;
  next->openings = std::move(openings);
  next->network = std::move(*network);
  OpeningEdited edited;
  edited.wall_m2 = wall->metric->area();
  edited.changed = std::move(*changed);
  auto made = with_wall(doc, next);
  flag_changed(*made, item.network, next->network);
  edited.document = std::move(made);
  edited.did = std::move(did);
  return edited;
}

}  // namespace

Result<OpeningEdited> add_opening(const Document& doc, WallId wall, const Opening& opening) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  const auto cut = with_opening(*(*item)->wall, opening, (*item)->name);
  if (!cut) return cut.problem();
  if (const auto good = check_zones(**item, *opening_ring(opening)); !good) return good.problem();
  auto openings = (*item)->openings;
  openings.push_back(opening);
  return with_new_border(doc, **item, *cut, std::move(openings), "Opening in " + (*item)->name);
}

Result<OpeningEdited> remove_opening(const Document& doc, WallId wall, std::size_t index, Progress* progress) {
  const auto found = item_of(doc, wall);
  if (!found) return found.problem();
  const WallItem& item = **found;
  if (index >= item.openings.size())
    return Problem{fmt::format("there is no opening {}", index + 1), item.name,
                   item.openings.empty() ? "It has none." : fmt::format("It has {}.", item.openings.size())};
  auto openings = item.openings;
  openings.erase(openings.begin() + static_cast<std::ptrdiff_t>(index));
  const auto built = item.shape ? build_wall(*item.shape, item.placement, item.name, 0, openings)
                                : rebuild_wall(item.scan->path, item.scan->options, item.name,
                                               *item.wall->places_before_openings, progress, openings);
  if (!built) return built.problem();
  return with_new_border(doc, item, *built, std::move(openings), "Opening closed in " + item.name);
}

std::string opening_words(const Opening& o) {
  const auto number = [](double x) { return format_number(std::round(x * 1e4) / 1e4); };
  if (o.kind == OpeningKind::free) return fmt::format("free opening with {} corners", o.outline.size());
  const std::string begin = fmt::format("{} opening at {},{}, {} m wide", opening_name(o.kind), number(o.at.u),
                                        number(o.at.v), number(o.width));
  return o.kind == OpeningKind::round ? begin : begin + fmt::format(", {} m high", number(o.height));
}

}  // namespace pontata
