#include "engine/document/wall_edits.h"

#include <algorithm>

#include "engine/document/edit_parts.h"
#include "engine/document/sha256.h"

namespace pontata {

namespace {

Outcome check_bare(const Document& doc, const WallItem& item) {
  const bool drawn = std::any_of(doc.giornate.begin(), doc.giornate.end(),
                                 [&](const Giornata& g) { return g.alive && g.wall == item.id; });
  if (drawn || !item.zones.empty())
    return Problem{"giornate or zones are drawn on this wall, and they lie on its surface as it is", item.name,
                   "Take them away first, or bring the scan in as another wall."};
  if (item.openings.empty()) return Done{};
  return Problem{"openings are cut into this wall, and they would come to lie elsewhere on it", item.name,
                 "Close them first and cut them again afterwards, or bring the scan in as another wall."};
}

}  // namespace

Result<Edited> change_scan(const Document& doc, WallId wall, const ScanOptions& options, Progress* progress) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  const WallItem& old = **item;
  if (!old.scan) return Problem{"this wall was not made from a scan", old.name, "Choose a wall that was scanned."};
  if (const auto bare = check_bare(doc, old); !bare) return bare.problem();
  const auto hash = sha256_of_file(old.scan->path);
  if (!hash) return hash.problem();
  if (*hash != old.scan->sha256)
    return Problem{"the scan's file is no longer the one that was brought in", old.scan->path,
                   "Bring back the file as it was, or bring the new one in as another wall."};
  const auto built = build_wall(old.scan->path, options, old.name, progress);
  if (!built) return built.problem();
  auto network = Network::from_border((*built)->chart->border_rings(), (*built)->metric->meter());
  if (!network) return network.problem();
  auto changed = std::make_shared<WallItem>(old);
  changed->scan->options = options;
  changed->wall = *built;
  changed->network = std::move(*network);
  return Edited{with_wall(doc, std::move(changed)), "Scan of " + old.name + " taken in again"};
}

}  // namespace pontata
