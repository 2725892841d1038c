#include "engine/document/document.h"

#include <algorithm>

namespace pontata {

const PlacedPicture* WallItem::picture(PictureId picture_id) const {
  for (const auto& one : pictures)
    if (one->id == picture_id) return one.get();
  return nullptr;
}

const PlacedPicture* WallItem::picture_named(std::string_view picture_name) const {
  for (const auto& one : pictures)
    if (one->name == picture_name) return one.get();
  return nullptr;
}

const WallItem* Document::wall_named(std::string_view name) const {
  for (const auto& item : walls)
    if (item->name == name) return item.get();
  return nullptr;
}

const WallItem* Document::wall(WallId id) const {
  for (const auto& item : walls)
    if (item->id == id) return item.get();
  return nullptr;
}

const Giornata* Document::giornata(GiornataId id) const {
  if (!id || id.value > giornate.size()) return nullptr;
  const Giornata& found = giornate[id.value - 1];
  return found.alive ? &found : nullptr;
}

const Job& Document::job() const {
  static const Job none;
  return written ? *written : none;
}

const GiornataJob* of_giornata(const Job& job, GiornataId id) {
  const auto there = std::ranges::lower_bound(job.giornate, id, {}, &GiornataJob::id);
  return there != job.giornate.end() && there->id == id ? &*there : nullptr;
}

}  // namespace pontata
