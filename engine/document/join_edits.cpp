// Giornate made one, which keeps the first one's id, number, name and note.
#include <fmt/format.h>

#include <algorithm>

#include "engine/document/edit_parts.h"
#include "engine/document/giornata_records.h"
#include "engine/document/job_parts.h"
#include "engine/document/seam_edits.h"

namespace pontata {

namespace {

// Those named, each once, alive, free and on the first one's wall.
Result<std::vector<const Giornata*>> to_join(const Document& doc, std::span<const GiornataId> ids) {
  std::vector<const Giornata*> found;
  for (const GiornataId id : ids) {
    const auto g = giornata_of(doc, id);
    if (!g) return g.problem();
    if (const auto free = check_free(doc, id); !free) return free.problem();
    if (std::find(found.begin(), found.end(), *g) != found.end())
      return Problem{"a giornata cannot be joined to itself", "", "Name giornate that share seams, each once."};
    if (!found.empty() && found[0]->wall != (*g)->wall)
      return Problem{"the giornate lie on different walls", "", "Name giornate that share seams."};
    found.push_back(*g);
  }
  if (found.size() < 2) return Problem{"joining needs two giornate at least", "", "Name giornate that share seams."};
  return found;
}

// The wall's network with all of them joined to the first, in whatever order they touch.
Result<Network> joined(const WallItem& item, std::vector<const Giornata*> giornate) {
  const GiornataId keep = giornate[0]->id;
  Network network = item.network;
  std::optional<Problem> apart;
  for (std::size_t left = giornate.size() - 1; left > 0;) {
    const std::size_t before = left;
    for (std::size_t i = 1; i < giornate.size(); ++i) {
      if (!giornate[i]) continue;
      auto next = join_giornate(network, keep, giornate[i]->id, item.wall->metric->meter(), item.wall->chart.get());
      if (!next && !apart) {
        apart = next.problem();
        apart->where = "giornata " + label_of(*giornate[i]);
      }
      if (!next) continue;
      network = std::move(*next);
      giornate[i] = nullptr;
      --left;
    }
    if (left == before) return *apart;
    if (left > 0) apart.reset();
  }
  return network;
}

std::string listed(const std::vector<const Giornata*>& giornate) {
  std::string names;
  for (std::size_t i = 1; i < giornate.size(); ++i)
    names += (i == 1 ? "" : i + 1 < giornate.size() ? ", " : " and ") + label_of(*giornate[i]);
  return names;
}

}  // namespace

Result<Edited> join(const Document& doc, std::span<const GiornataId> ids) {
  const auto giornate = to_join(doc, ids);
  if (!giornate) return giornate.problem();
  const Giornata& keep = *giornate->front();
  const WallItem& item = *doc.wall(keep.wall);
  auto network = joined(item, *giornate);
  if (!network) return network.problem();
  auto next = with_network(doc, item, std::move(*network));
  for (const GiornataId id : ids.subspan(1)) {
    join_job(*next, keep.id, id);
    retire_giornata(*next, id);
  }
  return Edited{std::move(next), fmt::format("{} {} joined to {}", ids.size() > 2 ? "Giornate" : "Giornata",
                                             listed(*giornate), label_of(keep))};
}

Result<Edited> join(const Document& doc, GiornataId keep, GiornataId other) {
  return join(doc, std::vector<GiornataId>{keep, other});
}

}  // namespace pontata
