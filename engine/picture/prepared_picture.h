// One picture of a wall with what drawing it asks for again and again, each made when first needed and then kept.
#pragma once

#include <memory>
#include <mutex>
#include <optional>

#include "engine/picture/drape_extent.h"
#include "engine/picture/picture_reader.h"
#include "engine/picture/sight.h"
#include "engine/picture/sight_edges.h"

namespace pontata {

// Safe to ask from several threads. Precondition: the picture has pixels.
class PreparedPicture {
 public:
  PreparedPicture(WallRef wall, std::vector<WallRef> others, PlacedRef picture);

  // Shows the same pixels in the same places of the same wall, the same of them hidden from its eye.
  bool shows_same(const PreparedPicture& o) const { return this == &o || shows(o.wall_, o.others_, *o.picture_); }
  bool shows(const WallRef& wall, const std::vector<WallRef>& others, const PlacedPicture& picture) const;

  const PlacedPicture& picture() const { return *picture_; }
  const ShownArea& area() const { return area_; }
  bool needs_place() const { return needs_place_; }
  bool has_sight() const { return needs_place_; }  // what its lay does not see stays bare
  bool has_eye() const { return eye_.has_value(); }
  double pixel_on_wall() const { return pixel_; }  // chart m, see drape_extent.h

  // Tiles of `side` chart metres that it may show on; made for one side only.
  const TileExtent& extent(double side, int across, int up) const;
  const Sight& sight() const;       // precondition: has_sight()
  const SightEdges& edges() const;  // precondition: has_eye()

 private:
  WallRef wall_;
  std::vector<WallRef> others_;
  PlacedRef picture_;
  ShownArea area_;
  bool needs_place_ = false;
  std::optional<Vec3> eye_;
  double pixel_ = 0;
  mutable std::once_flag touched_, looked_, edged_;
  mutable TileExtent extent_;
  mutable std::optional<Sight> sight_;
  mutable std::optional<SightEdges> edges_;
};
using PreparedRef = std::shared_ptr<const PreparedPicture>;

}  // namespace pontata
