#include "engine/document/seam_files/take_out.h"

#include <algorithm>
#include <tuple>

#include "engine/document/record_names.h"

namespace pontata {

SeamsTaken take_out_seams(const Document& doc, const WallItem& item) {
  SeamsTaken seams;
  const Chart& chart = *item.wall->chart;
  seams.wall = item.name;
  seams.width = chart.box().width;
  seams.height = chart.box().height;
  const auto border = chart.border_rings();
  for (std::size_t i = 0; i < border.size(); ++i)
    seams.paths.push_back({i == 0 ? "border" : "opening", "", "", static_cast<std::uint32_t>(i), {border[i]}});
  std::vector<const Giornata*> giornate;
  for (const auto& g : doc.giornate)
    if (g.alive && g.wall == item.id) giornate.push_back(&g);
  std::sort(giornate.begin(), giornate.end(), [](const Giornata* a, const Giornata* b) {
    return std::tie(a->number, a->part, a->id) < std::tie(b->number, b->part, b->id);
  });
  for (const Giornata* g : giornate) {
    TakenPath path{"giornata", label_of(*g), g->name, g->id.value, {}};
    for (const FaceId f : item.network.faces_of(g->id))
      for (Ring& ring : item.network.rings(f)) path.rings.push_back(std::move(ring));
    seams.paths.push_back(std::move(path));
  }
  for (const auto& zone : item.zones)
    seams.paths.push_back({"zone", std::string(zone_kind_name(zone.kind)), zone.name, zone.id.value, zone.rings(),
                           zone.rate_m2_per_h,
                           zone.subject == Subject::none ? "" : std::string(subject_name(zone.subject))});
  return seams;
}

}  // namespace pontata
