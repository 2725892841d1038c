// Barrels of every section: rows along the straight lines, the crown always one of them.

#include <array>
#include <cmath>

#include "engine/wall/shape_sizes.h"
#include "engine/wall/tessellate_families.h"

namespace pontata {

void add_vault(TriangleRows& mesh, const ShapeSpec& spec, double tolerance) {
  const HalfProfile profile = profile_over_span(spec);
  const auto chis = profile_steps(std::array{profile}, tolerance, kAspect * spec.length, 2);
  const int half = static_cast<int>(chis.size()) - 1;
  const int along = straight_steps(spec.length, kAspect * profile_length(profile) / half, 2 * half);
  const auto row_at = [&](double side, double chi) {
    SurfacePoint p = vault_point(profile, 0, side, chi);
    return mesh.add_row(along, [&](double u) {
      p.place.x = p.address.x = u * spec.length;
      return p;
    });
  };
  TriangleRows::Row below = row_at(1, profile.foot);
  const auto go_on = [&](TriangleRows::Row row) {
    mesh.join(below, row);
    below = std::move(row);
  };
  for (int i = half; i-- > 0;) go_on(row_at(1, chis[static_cast<std::size_t>(i)]));
  const Vec3 beyond = vault_point(profile, 0, -1, profile.crown).normal;  // a ridge has two normals
  for (auto& corner : below.corners) corner = mesh.facing(corner, beyond);
  for (int i = 1; i <= half; ++i) go_on(row_at(-1, chis[static_cast<std::size_t>(i)]));
}

}  // namespace pontata
