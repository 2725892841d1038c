#include "engine/document/edits.h"

#include <fmt/format.h>

#include <algorithm>

#include "engine/base/predicates.h"
#include "engine/base/units.h"
#include "engine/document/edit_parts.h"
#include "engine/document/giornata_records.h"
#include "engine/document/plain_text.h"
#include "engine/document/setting_values.h"
#include "engine/document/settings_table.h"
#include "engine/document/sha256.h"

namespace pontata {

namespace {

Result<std::shared_ptr<WallItem>> new_wall(const Document& doc, const std::string& name, const WallRef& wall) {
  auto network = Network::from_border(wall->chart->border_rings(), wall->metric->meter());
  if (!network) return network.problem();
  auto item = std::make_shared<WallItem>();
  item->id = WallId{doc.next_wall};
  item->name = name;
  item->wall = wall;
  item->network = std::move(*network);
  return item;
}

Edited with_new_wall(const Document& doc, std::shared_ptr<const WallItem> item) {
  auto next = std::make_shared<Document>(doc);
  std::string did = "New wall " + item->name;
  next->walls.push_back(std::move(item));
  ++next->next_wall;
  return {std::move(next), std::move(did)};
}

}  // namespace

Result<Edited> add_shape_wall(const Document& doc, const std::string& name, const ShapeSpec& shape,
                              const Placement3& at, std::span<const Opening> openings) {
  if (const auto good = check_wall_name(doc, name); !good) return good.problem();
  const auto wall = build_wall(shape, at, name, 0, openings);
  if (!wall) return wall.problem();
  auto item = new_wall(doc, name, *wall);
  if (!item) return item.problem();
  (*item)->shape = shape;
  (*item)->placement = at;
  (*item)->openings.assign(openings.begin(), openings.end());
  return with_new_wall(doc, std::move(*item));
}

Result<Edited> add_scan_wall(const Document& doc, const std::string& name, const std::string& path,
                             const std::string& unit, ScanOptions options, Progress* progress,
                             std::span<const Opening> openings) {
  if (const auto good = check_wall_name(doc, name); !good) return good.problem();
  const auto unit_m = scan_unit(unit);
  if (!unit_m) return unit_m.problem();
  options.unit_m = *unit_m;
  const auto hash = sha256_of_file(path);
  if (!hash) return hash.problem();
  const auto wall = build_wall(path, options, name, progress, openings);
  if (!wall) return wall.problem();
  auto item = new_wall(doc, name, *wall);
  if (!item) return item.problem();
  (*item)->scan = ScanSource{absolute_path(path), *hash, options, unit, std::nullopt};
  (*item)->placement = options.placement;
  (*item)->openings.assign(openings.begin(), openings.end());
  return with_new_wall(doc, std::move(*item));
}

Result<Edited> set_old_plaster(const Document& doc, WallId wall, std::optional<bool> lies_here) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  if (!(*item)->scan)
    return Problem{"is no scan, so nothing old is asked of it", (*item)->name, "Name a wall that came from a scan."};
  auto changed = std::make_shared<WallItem>(**item);
  changed->scan->old_plaster = lies_here;
  return Edited{with_wall(doc, std::move(changed)), "Old plaster or paint on " + (*item)->name};
}

Result<Edited> remove_giornata(const Document& doc, GiornataId id) {
  const auto found = giornata_of(doc, id);
  if (!found) return found.problem();
  if (const auto free = check_free(doc, id); !free) return free.problem();
  const WallItem& item = *doc.wall((*found)->wall);
  auto network = remove_giornata(item.network, id, item.wall->metric->meter());
  if (!network) return network.problem();
  auto next = with_network(doc, item, std::move(*network));
  retire_giornata(*next, id);
  return Edited{std::move(next), fmt::format("Giornata {} taken away", label_of(**found))};
}

Result<Edited> rename_giornata(const Document& doc, GiornataId id, const std::string& name) {
  const auto found = giornata_of(doc, id);
  if (!found) return found.problem();
  if (const auto good = check_giornata_name(name); !good) return good.problem();
  auto next = std::make_shared<Document>(doc);
  next->giornate[id.value - 1].name = name;
  return Edited{std::move(next), "Name of giornata " + label_of(**found)};
}

}  // namespace pontata
