#include "engine/picture/drape_extent.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "engine/picture/metric_grid.h"

namespace pontata {

namespace {

constexpr double kPlateReach = 0.25;  // of the picture's longer side
using Quad = std::array<Vec2, 4>;     // convex, in order

// What shows, and from how far a plate may carry places in, px.
PixelBox reach(const PlacedPicture& picture, PixelBox box) {
  const double far =
      picture.plate.centres.empty() ? 1 : kPlateReach * std::max(picture.size.width, picture.size.height) + 1;
  return {box.left - far, box.top - far, box.right + far, box.bottom + far};
}

Quad corners(const PixelBox& b) {
  return {Vec2(b.left, b.bottom), Vec2(b.right, b.bottom), Vec2(b.right, b.top), Vec2(b.left, b.top)};
}

// The chart place of a pixel of a homography lay; nothing where the picture's horizon lies between.
std::optional<Vec2> chart_place(const HomographyLay& lay, const Mat3& inverse, Vec2 pixel) {
  const Vec3 h = inverse * Vec3(pixel.x, pixel.y, 1);
  if (!(std::abs(h.z) > 1e-300)) return std::nullopt;
  const Vec2 p(h.x / h.z, h.y / h.z);
  const double w = (lay.pixel_from_chart * Vec3(p.x, p.y, 1)).z;
  return w > 0 ? std::optional<Vec2>(p) : std::nullopt;
}

// The chart's quadrangle under the box of pixels; nothing where there is none.
std::optional<Quad> chart_quad(const PlacedPicture& picture, const PixelBox& box) {
  Quad quad = corners(box);
  if (const auto* frame = std::get_if<PictureFrame>(&picture.lay)) {
    for (Vec2& c : quad) c = to_vec(from_pixel(*frame, picture.size, c));
    return quad;
  }
  const auto& lay = std::get<HomographyLay>(picture.lay);
  if (!(std::abs(glm::determinant(lay.pixel_from_chart)) > 0)) return std::nullopt;
  const Mat3 inverse = glm::inverse(lay.pixel_from_chart);
  for (Vec2& c : quad) {
    const auto p = chart_place(lay, inverse, c);
    if (!p) return std::nullopt;
    c = *p;
  }
  return quad;
}

// Two convex figures part where a side of one has all of the other beyond it.
bool parts(const Quad& a, const Quad& b) {
  const double turn = cross2(a[1] - a[0], a[2] - a[1]) < 0 ? -1 : 1;
  for (std::size_t k = 0; k < 4; ++k) {
    const Vec2 side = a[(k + 1) % 4] - a[k];
    if (std::all_of(b.begin(), b.end(), [&](const Vec2& p) { return turn * cross2(side, p - a[k]) < 0; })) return true;
  }
  return false;
}

struct Range {
  int a0, a1, b0, b1;
};
Range tiles_in(const TileExtent& e, Vec2 low, Vec2 high) {
  const auto tile = [&](double x, int count) {
    return static_cast<int>(std::clamp(std::floor(x / e.side), -1.0, 1.0 * count));
  };
  return {std::max(0, tile(low.x, e.across)), std::min(e.across - 1, tile(high.x, e.across)),
          std::max(0, tile(low.y, e.up)), std::min(e.up - 1, tile(high.y, e.up))};
}

void touch_quad(const Quad& quad, double margin, TileExtent& e) {
  Vec2 low = quad[0], high = quad[0];
  for (const Vec2& c : quad) low = glm::min(low, c), high = glm::max(high, c);
  const Range r = tiles_in(e, low - margin, high + margin);
  for (int b = r.b0; b <= r.b1; ++b)
    for (int a = r.a0; a <= r.a1; ++a) {
      const Vec2 from = Vec2(a, b) * e.side - margin, to = Vec2(a + 1, b + 1) * e.side + margin;
      const Quad tile{from, Vec2(to.x, from.y), to, Vec2(from.x, to.y)};
      if (parts(quad, tile) || parts(tile, quad)) continue;
      e.touched[static_cast<std::size_t>(b) * static_cast<std::size_t>(e.across) + static_cast<std::size_t>(a)] = 1;
    }
}

// Undistorted lens coordinates (x / z, y / z) that hold all of a box of pixels.
PixelBox lens_box(const Camera& camera, const PixelBox& box) {
  constexpr int kSteps = 64;
  const double inf = std::numeric_limits<double>::infinity();
  PixelBox out{inf, inf, -inf, -inf};
  const Quad quad = corners(box);
  for (std::size_t k = 0; k < 4; ++k)
    for (int s = 0; s < kSteps; ++s) {
      const auto d = sight_line(camera, quad[k] + (quad[(k + 1) % 4] - quad[k]) * (1.0 * s / kSteps));
      if (!d) return {-inf, -inf, inf, inf};
      const double z = glm::dot(*d, camera.ahead);
      const Vec2 q(glm::dot(*d, camera.right) / z, glm::dot(*d, camera.down) / z);
      out = {std::min(out.left, q.x), std::min(out.top, q.y), std::max(out.right, q.x), std::max(out.bottom, q.y)};
    }
  const double more = 1e-3 * std::max(out.right - out.left, out.bottom - out.top);
  return {out.left - more, out.top - more, out.right + more, out.bottom + more};
}

// Whether a triangle of the wall may show something; `flat` gives a place of it in the coordinates of `box`.
template <class Flat>
void touch_triangles(const ChartedWall& wall, const PixelBox& box, double margin, TileExtent& e, const Flat& flat) {
  const SurfaceMesh& mesh = wall.mesh();
  const auto& places = wall.chart->places();
  for (const Triangle& t : mesh.triangles) {
    const double inf = std::numeric_limits<double>::infinity();
    PixelBox image{inf, inf, -inf, -inf};
    int behind = 0;
    Vec2 low(inf, inf), high(-inf, -inf);
    for (const auto corner : t) {
      const Vec2 c = to_vec(to_chart(places[corner]));
      low = glm::min(low, c), high = glm::max(high, c);
      const std::optional<Vec2> q = flat(mesh.points[corner]);
      if (!q) {
        ++behind;
        continue;
      }
      image = {std::min(image.left, q->x), std::min(image.top, q->y), std::max(image.right, q->x),
               std::max(image.bottom, q->y)};
    }
    if (behind == 3) continue;
    if (behind == 0 &&
        (image.right < box.left || image.left > box.right || image.bottom < box.top || image.top > box.bottom))
      continue;
    const Range r = tiles_in(e, low - margin, high + margin);
    for (int b = r.b0; b <= r.b1; ++b)
      for (int a = r.a0; a <= r.a1; ++a)
        e.touched[static_cast<std::size_t>(b) * static_cast<std::size_t>(e.across) + static_cast<std::size_t>(a)] = 1;
  }
}

// Surface metres of the pixel at a wall place found under it, across the line of sight; nothing off the wall.
std::optional<double> pixel_at_place(const ChartedWall& wall, const Camera& camera, Vec2 pixel) {
  const auto d = sight_line(camera, pixel);
  const auto hit = d ? wall.pick.cast(camera.eye, *d) : std::nullopt;
  if (!hit) return std::nullopt;
  const auto form = wall.metric->first_form(hit->point.triangle);
  const double half = 0.5 * (form.E + form.G), apart = std::hypot(0.5 * (form.E - form.G), form.F);
  return hit->distance / camera.focal_px / std::sqrt(std::max(1e-12, half + apart));
}

std::optional<double> pixel_at_place(const ChartedWall& wall, const HomographyLay& lay, Vec2 pixel) {
  const double det = glm::determinant(lay.pixel_from_chart);
  if (!(std::abs(det) > 0)) return std::nullopt;
  const auto p = chart_place(lay, glm::inverse(lay.pixel_from_chart), pixel);
  if (!p || !wall.chart->locate(to_chart(*p))) return std::nullopt;
  const auto image = [&](Vec2 q) {
    const Vec3 h = lay.pixel_from_chart * Vec3(q.x, q.y, 1);
    return Vec2(h.x / h.z, h.y / h.z);
  };
  constexpr double h = 1e-4;  // m
  const Vec2 du = (image(*p + Vec2(h, 0)) - image(*p - Vec2(h, 0))) / (2 * h),
             dv = (image(*p + Vec2(0, h)) - image(*p - Vec2(0, h))) / (2 * h);
  const double sum = glm::dot(du, du) + glm::dot(dv, dv), area = cross2(du, dv);
  return 1 / std::sqrt(0.5 * (sum + std::sqrt(std::max(0.0, sum * sum - 4 * area * area))));
}

double step_below(double size) {
  constexpr std::array<double, 5> kSteps{1, 1.6, 2.5, 4, 6.3};
  const double ten = std::pow(10.0, std::floor(std::log10(size) + 1e-9));
  double best = ten;
  for (const double s : kSteps)
    if (s * ten <= size * (1 + 1e-9)) best = s * ten;
  return best;
}

}  // namespace

bool TileExtent::any(Vec2 low, Vec2 high) const {
  const Range r = tiles_in(*this, low, high);
  for (int b = r.b0; b <= r.b1; ++b)
    for (int a = r.a0; a <= r.a1; ++a)
      if (at(a, b)) return true;
  return false;
}

std::optional<Vec2> shown_pixel(const PlacedPicture& picture, ChartPoint p, const Vec3& place) {
  static const ThinPlate none;
  auto pixel = pixel_at(picture.lay, none, picture.size, p, place);
  if (!pixel || picture.plate.centres.empty()) return pixel;
  const PixelBox from = reach(picture, {0, 0, 1.0 * picture.size.width, 1.0 * picture.size.height});
  if (pixel->x < from.left || pixel->y < from.top || pixel->x > from.right || pixel->y > from.bottom)
    return std::nullopt;
  return *pixel + picture.plate.at(*pixel);
}

bool needs_place(const Lay& lay) {
  return std::holds_alternative<PlaneLay>(lay) || std::holds_alternative<CameraLay>(lay);
}

void touch(const ChartedWall& wall, const PlacedPicture& picture, const ShownArea& area, double margin,
           TileExtent& extent) {
  extent.touched.assign(static_cast<std::size_t>(extent.across) * static_cast<std::size_t>(extent.up), 0);
  if (area.box().right < area.box().left || area.box().bottom < area.box().top) return;
  const PixelBox box = reach(picture, area.box());
  if (const auto* seen = std::get_if<CameraLay>(&picture.lay)) {
    const Camera& c = seen->camera;
    touch_triangles(wall, lens_box(c, box), margin, extent, [&](const Vec3& p) -> std::optional<Vec2> {
      const Vec3 d = p - c.eye;
      const double z = glm::dot(d, c.ahead);
      if (!(z > 1e-9)) return std::nullopt;
      return Vec2(glm::dot(d, c.right) / z, glm::dot(d, c.down) / z);
    });
  } else if (std::holds_alternative<PlaneLay>(picture.lay)) {
    static const ThinPlate none;
    touch_triangles(wall, box, margin, extent,
                    [&](const Vec3& p) { return pixel_at(picture.lay, none, picture.size, {}, p); });
  } else if (const auto quad = chart_quad(picture, box)) {
    touch_quad(*quad, margin, extent);
  } else {
    extent.touched.assign(extent.touched.size(), 1);
  }
}

double pixel_on_wall(const ChartedWall& wall, const PlacedPicture& picture, const ShownArea& area) {
  const auto of_size = [&](double width, double height) {
    return std::min(width / picture.size.width, height / picture.size.height);
  };
  if (const auto* lay = std::get_if<PictureFrame>(&picture.lay)) return of_size(lay->width, lay->height);
  if (const auto* lay = std::get_if<PlaneLay>(&picture.lay)) return of_size(lay->width, lay->height);
  constexpr int kSteps = 16;
  std::vector<double> sizes;
  const PixelBox& box = area.box();
  for (int j = 0; j < kSteps; ++j)
    for (int i = 0; i < kSteps; ++i) {
      const Vec2 pixel(box.left + (i + 0.5) / kSteps * (box.right - box.left),
                       box.top + (j + 0.5) / kSteps * (box.bottom - box.top));
      if (!area.holds(pixel)) continue;
      const auto* homography = std::get_if<HomographyLay>(&picture.lay);
      const auto size = homography ? pixel_at_place(wall, *homography, pixel)
                                   : pixel_at_place(wall, std::get<CameraLay>(picture.lay).camera, pixel);
      if (size && *size > 0 && std::isfinite(*size)) sizes.push_back(*size);
    }
  if (sizes.empty()) return 0;
  const auto tenth = sizes.begin() + static_cast<std::ptrdiff_t>(sizes.size() / 10);
  std::nth_element(sizes.begin(), tenth, sizes.end());
  return step_below(*tenth);
}

}  // namespace pontata
