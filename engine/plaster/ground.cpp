#include "engine/plaster/ground.h"

#include <algorithm>

namespace pontata {

PatchTerms& PatchTerms::operator+=(const PatchTerms& o) {
  area_m2 += o.area_m2, bend_m += o.bend_m, gauss += o.gauss;
  return *this;
}

PatchTerms& PatchTerms::operator-=(const PatchTerms& o) {
  area_m2 -= o.area_m2, bend_m -= o.bend_m, gauss -= o.gauss;
  return *this;
}

PatchTerms terms_of(const GiornataMeasure& giornata) { return {giornata.area_m2, giornata.bend_m, giornata.gauss}; }

PatchTerms terms_of(const ChartedWall& wall) {
  long double area = 0, bend = 0, gauss = 0;
  for (std::uint32_t t = 0; t < wall.mesh().triangles.size(); ++t) {
    const Vec3 terms = wall.metric->triangle_terms(t);
    area += terms.x, bend += terms.y, gauss += terms.z;
  }
  return {static_cast<double>(area), static_cast<double>(bend), static_cast<double>(gauss)};
}

namespace {

// m3 from the measured surface to a distance; behind it the surface is looked at from its other side.
double volume_to(const PatchTerms& patch, double at_m) {
  return at_m >= 0 ? coat_volume(patch.area_m2, patch.bend_m, patch.gauss, at_m)
                   : -coat_volume(patch.area_m2, -patch.bend_m, patch.gauss, -at_m);
}

}  // namespace

double layer_volume(const PatchTerms& patch, double from_m, double to_m) {
  return volume_to(patch, to_m) - volume_to(patch, from_m);
}

double area_at(const PatchTerms& patch, double at_m) {
  return std::max(0.0, patch.area_m2 + at_m * (patch.bend_m + at_m * patch.gauss));
}

double ground_before_m(const PlasterSettings& settings) {
  if (settings.ground.surface == SurfaceIs::arriccio) return 0;
  return (settings.ground.rinzaffo.thickness_mm + settings.ground.arriccio.thickness_mm) / 1000;
}

namespace {

std::vector<CoatNeed> laid(const PatchTerms& patch, const PlasterSettings& settings,
                           const std::optional<LevelledGround>& levelled) {
  const GroundSettings& ground = settings.ground;
  const double rinzaffo_m = ground.rinzaffo.thickness_mm / 1000, arriccio_m = ground.arriccio.thickness_mm / 1000;
  const double bare = ground.surface == SurfaceIs::bare_wall ? 0 : -(rinzaffo_m + arriccio_m);
  std::vector<CoatNeed> coats;
  if (rinzaffo_m > 0)
    coats.push_back(coat_in_place(ground.rinzaffo, rinzaffo_m, layer_volume(patch, bare, bare + rinzaffo_m)));
  if (levelled)
    coats.push_back(coat_in_place(ground.arriccio, levelled->mean_m,
                                  levelled->volume_m3 + patch.bend_m * rinzaffo_m * levelled->mean_m));
  else if (arriccio_m > 0)
    coats.push_back(coat_in_place(ground.arriccio, arriccio_m,
                                  layer_volume(patch, bare + rinzaffo_m, bare + rinzaffo_m + arriccio_m)));
  return coats;
}

}  // namespace

Result<GroundNeed> ground_need(const PatchTerms& patch, const PlasterSettings& settings,
                               std::optional<LevelledGround> levelled) {
  if (const auto sound = validate(settings); !sound) return sound.problem();
  GroundNeed need;
  need.coats = laid(patch, settings, levelled);
  const double behind_m = settings.ground.surface == SurfaceIs::bare_wall
                              ? 0
                              : (settings.ground.rinzaffo.thickness_mm + settings.ground.arriccio.thickness_mm) / 1000;
  if (!need.coats.empty()) need.keys_L = settings.ground.keys_L_per_m2 * area_at(patch, -behind_m);
  for (std::size_t i = 0; i < need.coats.size(); ++i) {
    CoatNeed& coat = need.coats[i];
    coat.mortar_L = (coat.net_L + (i == 0 ? need.keys_L : 0)) * (1 + settings.waste_pct / 100);
    fill_materials(coat, settings);
    need.mortar_L += coat.mortar_L;
    need += coat;
  }
  return need;
}

}  // namespace pontata
