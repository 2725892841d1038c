#include "engine/document/drawn_line.h"

#include "engine/document/edit_parts.h"
#include "engine/document/edits.h"
#include "engine/seams/hug_across.h"

namespace pontata {

Result<std::vector<CutPiece>> led(const WallItem& item, const std::vector<ChartPoint>& points, bool closed) {
  const WrappedPlaces wrapped = wrap_places(*item.wall->chart, points);
  const auto places = bring_to_border(*item.wall, wrapped.places);
  if (!places) return places.problem();
  return lead_across(*item.wall, *places, wrapped.turned, closed);
}

Result<std::vector<Ring>> enclosed(const WallItem& item, const std::vector<ChartPoint>& points) {
  const auto pieces = led(item, points, true);
  if (!pieces) return pieces.problem();
  return close_along_cuts(*item.wall->chart, *pieces);
}

HuggedLine straight_line(const WallItem& item, const std::vector<ChartPoint>& points, bool closed) {
  HuggedLine line;
  line.line = points;
  if (const auto pieces = led(item, points, closed)) line.length_m = length_of(*item.wall, *pieces, closed);
  if (!points.empty())
    line.stretches = {{HugTarget::nothing, 0, points.size() - (closed ? 0 : 1), line.length_m, {}, {}}};
  return line;
}

std::shared_ptr<const ContourField> contours_of(const Document& doc, const WallItem& item, Progress* progress) {
  auto input = drape_input(doc, item);
  if (input.pictures.empty()) return nullptr;
  const auto draped = Draped::make(std::move(input));
  return std::make_shared<const ContourField>(contour_field(*draped, doc.settings.contours, nullptr, progress));
}

Result<HuggedLine> hug_on(const Document& doc, const WallItem& item, const std::vector<CutPiece>& pieces, bool closed,
                          Progress* progress) {
  if (const auto there = check_pictures(item); !there) return there.problem();
  auto ground = std::make_shared<HugGround>();
  ground->wall = item.wall;
  ground->contours = contours_of(doc, item, progress);
  ground->network = item.network;
  ground->ribs = find_ribs(*item.wall);
  return hug_pieces(ground, pieces, closed, doc.settings.hug, progress);
}

}  // namespace pontata
