#include "engine/picture/sight.h"

#include <utility>

namespace pontata {

namespace {

constexpr double kNear = 1e-4;  // m: what stands nearer than this to the place is the place itself

}  // namespace

Sight::Sight(WallRef wall, std::vector<WallRef> others, const Vec3& eye)
    : wall_(std::move(wall)), others_(std::move(others)), eye_(eye) {}

bool Sight::sees(const Vec3& place, const Vec3& normal) const {
  const Vec3 d = place - eye_;
  if (!(glm::dot(d, normal) < 0)) return false;
  const double reach = glm::length(d) - kNear;
  if (reach <= 0) return true;
  if (wall_->pick.cast(eye_, d, reach)) return false;
  for (const auto& other : others_)
    if (other->pick.cast(eye_, d, reach)) return false;
  return true;
}

}  // namespace pontata
