#include "engine/picture/stretch.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/base/parallel.h"
#include "engine/chart/forms.h"
#include "engine/picture/sight.h"

namespace pontata {

namespace {

constexpr double kStep = 1e-3;  // m, of the differences

// Two steps on the surface and the changes of pixel that they bring.
struct Steps {
  Vec3 e1, e2;
  Vec2 d1, d2;
};

// Half the change of pixel between two places a step to either side of one.
template <class At>
std::optional<Vec2> half_change(const At& at, const Vec3& step) {
  const auto before = at(-step), after = at(step);
  if (!before || !after) return std::nullopt;
  return 0.5 * (*after - *before);
}

// Along two tangents of the smooth surface, for lays that ask the place in the building.
std::optional<Steps> steps_in_space(const PlacedPicture& picture, ChartPoint p, const Vec3& place, const Vec3& normal) {
  const Vec3 other = std::abs(normal.z) < 0.8 ? Vec3{0, 0, 1} : Vec3{1, 0, 0};
  Steps out;
  out.e1 = kStep * glm::normalize(glm::cross(other, normal));
  out.e2 = glm::cross(normal, out.e1);
  const auto at = [&](const Vec3& d) { return pixel_at(picture.lay, picture.plate, picture.size, p, place + d); };
  const auto first = half_change(at, out.e1), second = half_change(at, out.e2);
  if (!first || !second) return std::nullopt;
  out.d1 = *first, out.d2 = *second;
  return out;
}

// Along u and v, for lays that ask the chart place; the two steps drawn in a plane with the lengths and the angle that
// the metric says.
std::optional<Steps> steps_in_chart(const PlacedPicture& picture, ChartPoint p, const Vec3& place,
                                    const Metric::FirstForm& g) {
  Steps out;
  const double along = std::sqrt(g.E);
  out.e1 = kStep * Vec3{along, 0, 0};
  out.e2 = kStep * Vec3{g.F / along, std::sqrt(std::max(0.0, g.G - g.F * g.F / g.E)), 0};
  const auto at = [&](const Vec3& d) {
    return pixel_at(picture.lay, picture.plate, picture.size, {p.u + d.x, p.v + d.y}, place);
  };
  const auto first = half_change(at, {kStep, 0, 0}), second = half_change(at, {0, kStep, 0});
  if (!first || !second) return std::nullopt;
  out.d1 = *first, out.d2 = *second;
  return out;
}

bool asks_chart(const Lay& lay) {
  return std::holds_alternative<PictureFrame>(lay) || std::holds_alternative<HomographyLay>(lay);
}

std::optional<PixelSpread> pixel_spread(const ChartedWall& wall, const PlacedPicture& picture, ChartPoint p,
                                        const WallPoint& on) {
  const Vec3 place = position(wall.mesh(), on);
  const auto steps = asks_chart(picture.lay) ? steps_in_chart(picture, p, place, wall.metric->first_form(on.triangle))
                                             : steps_in_space(picture, p, place, normal(wall.mesh(), on));
  if (!steps) return std::nullopt;
  const double turned = cross2(steps->d1, steps->d2);
  if (!(std::abs(turned) > 1e-9 * (glm::dot(steps->d1, steps->d1) + glm::dot(steps->d2, steps->d2))))
    return std::nullopt;
  const auto [least, greatest] = principal_scales(linear_form(steps->e1, steps->e2, steps->d1, steps->d2));
  return PixelSpread{1000 * least, 1000 * greatest};
}

// One sample of the field: what a pixel covers there, and the wall that the sample stands for; 0 where nothing shows.
struct Sample {
  PixelSpread pixel;
  double area_m2 = 0;
};

Sample sample_at(const ChartedWall& wall, const PlacedPicture& picture, const std::optional<Sight>& sight, ChartPoint p,
                 double spacing) {
  const auto on = wall.chart->locate(p);
  if (!on) return {};
  const Vec3 place = position(wall.mesh(), *on);
  const auto pixel = pixel_at(picture.lay, picture.plate, picture.size, p, place);
  if (!pixel || shown_at(picture, *pixel) <= 0) return {};
  if (sight && !sight->sees(place, normal(wall.mesh(), *on))) return {};
  const auto covered = pixel_spread(wall, picture, p, *on);
  if (!covered) return {};
  const auto g = wall.metric->first_form(on->triangle);
  return {*covered, spacing * spacing * std::sqrt(std::max(0.0, g.E * g.G - g.F * g.F))};
}

// The least length of a pixel that half of the area stays below.
double own_length(const std::vector<Sample>& samples) {
  std::vector<std::pair<double, double>> by_length;
  for (const auto& s : samples)
    if (s.area_m2 > 0) by_length.emplace_back(s.pixel.least_mm, s.area_m2);
  std::sort(by_length.begin(), by_length.end());
  double half = 0;
  for (const auto& [length, area] : by_length) half += 0.5 * area;
  for (const auto& [length, area] : by_length)
    if ((half -= area) <= 0) return length;
  return 0;
}

void summarise(StretchField& field, const std::vector<Sample>& samples) {
  StretchReport& report = field.report;
  report.own_mm_per_px = own_length(samples);
  field.times.assign(samples.size(), std::numeric_limits<float>::quiet_NaN());
  report.least.times = std::numeric_limits<double>::infinity(), report.greatest.times = 0;
  double within = 0;
  for (std::size_t k = 0; k < samples.size(); ++k) {
    if (samples[k].area_m2 <= 0) continue;
    const double times = samples[k].pixel.greatest_mm / report.own_mm_per_px;
    field.times[k] = static_cast<float>(times);
    const auto x = k % static_cast<std::size_t>(field.width), y = k / static_cast<std::size_t>(field.width);
    const ChartPoint p{(static_cast<double>(x) + 0.5) * field.spacing,
                       (field.height - static_cast<double>(y) - 0.5) * field.spacing};
    if (times < report.least.times) report.least = {p, times};
    if (times > report.greatest.times) report.greatest = {p, times};
    report.area_m2 += samples[k].area_m2;
    if (times < 1.1) within += samples[k].area_m2;
  }
  report.within_tenth = within / report.area_m2;
}

}  // namespace

std::optional<PixelSpread> pixel_spread(const ChartedWall& wall, const PlacedPicture& picture, ChartPoint p) {
  const auto on = wall.chart->locate(p);
  return on ? pixel_spread(wall, picture, p, *on) : std::nullopt;
}

Result<StretchField> stretch_field(const WallRef& wall, const PlacedPicture& picture, std::span<const WallRef> others,
                                   int side, Progress* progress) {
  const ChartBox box = wall->chart->box();
  StretchField field;
  field.spacing = std::max(box.width, box.height) / side;
  field.width = std::max(1, static_cast<int>(std::ceil(box.width / field.spacing - 1e-9)));
  field.height = std::max(1, static_cast<int>(std::ceil(box.height / field.spacing - 1e-9)));
  const auto sight = sight_of(picture.lay, wall, others);
  const auto columns = static_cast<std::size_t>(field.width), rows = static_cast<std::size_t>(field.height);
  std::vector<Sample> samples(columns * rows);
  for_each_item(rows, 16, [&](std::size_t y) {
    if (is_cancelled(progress)) return;
    for (std::size_t x = 0; x < columns; ++x) {
      const ChartPoint p{(static_cast<double>(x) + 0.5) * field.spacing,
                         (static_cast<double>(rows - y) - 0.5) * field.spacing};
      samples[y * columns + x] = sample_at(*wall, picture, sight, p, field.spacing);
    }
  });
  if (is_cancelled(progress)) return Problem{"stopped", "", ""};
  if (std::none_of(samples.begin(), samples.end(), [](const Sample& s) { return s.area_m2 > 0; }))
    return Problem{"the picture shows nowhere on the wall", picture.name,
                   "Lay it so that some of it falls on the wall."};
  summarise(field, samples);
  return field;
}

}  // namespace pontata
