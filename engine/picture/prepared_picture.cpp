#include "engine/picture/prepared_picture.h"

#include "engine/picture/draped.h"

namespace pontata {

PreparedPicture::PreparedPicture(WallRef wall, std::vector<WallRef> others, PlacedRef picture)
    : wall_(std::move(wall)),
      others_(std::move(others)),
      picture_(std::move(picture)),
      area_(*picture_),
      needs_place_(pontata::needs_place(picture_->lay)),
      eye_(eye_of(picture_->lay)),
      pixel_(pontata::pixel_on_wall(*wall_, *picture_, area_)) {
  if (!eye_) others_.clear();
}

bool PreparedPicture::shows(const WallRef& wall, const std::vector<WallRef>& others,
                            const PlacedPicture& picture) const {
  return wall_ == wall && (!eye_ || others_ == others) && same_look(*picture_, picture);
}

const TileExtent& PreparedPicture::extent(double side, int across, int up) const {
  std::call_once(touched_, [&] {
    extent_ = {side, across, up, {}};
    touch(*wall_, *picture_, area_, side / DrapedTile::kSide, extent_);
  });
  return extent_;
}

const Sight& PreparedPicture::sight() const {
  std::call_once(looked_, [&] { sight_ = sight_of(picture_->lay, wall_, others_); });
  return *sight_;
}

const SightEdges& PreparedPicture::edges() const {
  std::call_once(edged_, [&] {
    std::vector<WallRef> walls{wall_};
    walls.insert(walls.end(), others_.begin(), others_.end());
    edges_.emplace(std::get<CameraLay>(picture_->lay).camera, walls, area_.box());
  });
  return *edges_;
}

}  // namespace pontata
