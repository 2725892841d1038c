#include "engine/picture/sight.h"

#include <utility>

#include "engine/picture/plane_lay.h"

namespace pontata {

Sight::Sight(WallRef wall, std::vector<WallRef> others, const Vec3& eye)
    : wall_(std::move(wall)), others_(std::move(others)), eye_(eye), lift_(wall_->scan ? kScanLift : kLift) {}

Sight::Sight(const Vec3& along) : along_(along) {}

bool Sight::sees(const Vec3& place, const Vec3& normal) const {
  if (along_) return glm::dot(*along_, normal) < 0;
  if (!(glm::dot(place - eye_, normal) < 0)) return false;
  const Vec3 d = place + lift_ * normal - eye_;
  const double reach = glm::length(d) - kNear;
  if (reach <= 0) return true;
  if (wall_->pick.cast(eye_, d, reach)) return false;
  for (const auto& other : others_)
    if (other->pick.cast(eye_, d, reach)) return false;
  return true;
}

std::optional<Sight> sight_of(const Lay& lay, const WallRef& wall, std::span<const WallRef> others) {
  if (const auto* plane = std::get_if<PlaneLay>(&lay)) return Sight(looks_along(*plane));
  if (const auto eye = eye_of(lay)) return Sight(wall, {others.begin(), others.end()}, *eye);
  return std::nullopt;
}

}  // namespace pontata
