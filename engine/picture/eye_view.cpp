#include "engine/picture/eye_view.h"

#include <algorithm>
#include <atomic>
#include <cmath>

#include "engine/base/parallel.h"
#include "engine/picture/draped_colours.h"

namespace pontata {

namespace {

constexpr double kMostPixels = 100e6;
constexpr std::array<float, 3> kBare{0.87F, 0.84F, 0.78F}, kMasonry{0.55F, 0.51F, 0.46F}, kNothing{0.80F, 0.82F, 0.84F};
constexpr const char* kWhere = "the view from the eye";

// Where a ray ends; wall -1: nowhere.
struct Met {
  int wall = -1;
  bool back = false;  // on its back
  WallPoint point;
  double distance = 0, facing = 0;  // m; cosine of the angle between the ray and the triangle's normal
};

// The scene, shared by all threads.
struct Scene {
  std::span<const SeenWall> walls;
  std::vector<std::unique_ptr<DrapedColours>> colours;  // per wall; null: bare
  const Camera& camera;
  PictureSize size;
  EyeViewOptions options;
  std::atomic<bool> met_some{false};
};

Vec3 facet_normal(const SurfaceMesh& mesh, std::uint32_t t) {
  const auto& c = mesh.triangles[t];
  return glm::normalize(glm::cross(mesh.points[c[1]] - mesh.points[c[0]], mesh.points[c[2]] - mesh.points[c[0]]));
}

Met cast(const Scene& scene, const Vec2& pixel) {
  Met met;
  const auto direction = sight_line(scene.camera, pixel);
  if (!direction) return met;
  met.distance = 1e9;
  for (std::size_t k = 0; k < scene.walls.size(); ++k) {
    const auto hit = scene.walls[k].wall->pick.cast(scene.camera.eye, *direction, met.distance);
    if (hit && hit->distance < met.distance) met = {static_cast<int>(k), false, hit->point, hit->distance, 0};
  }
  if (met.wall < 0) return met;
  const SurfaceMesh& mesh = scene.walls[static_cast<std::size_t>(met.wall)].wall->mesh();
  met.facing = -glm::dot(*direction, facet_normal(mesh, met.point.triangle));
  met.back = met.facing <= 0;
  met.facing = std::abs(met.facing);
  return met;
}

// Casts the rays of bands of rows; one a thread. A pixel takes one ray where all about it lies smoothly on one wall,
// and many of them where an edge may run through it or the wall is seen aslant.
class BandCaster {
 public:
  explicit BandCaster(Scene& scene) : scene_(scene), columns_(scene.size.width + 2) {
    for (const auto& one : scene.colours)
      readers_.push_back(one ? std::make_unique<DrapedColours::Reader>(*one) : nullptr);
  }

  void band(int from, int to, Image& image) {
    first_ = from - 1;
    middles_.clear();
    for (int y = from - 1; y <= to; ++y)
      for (int x = -1; x <= scene_.size.width; ++x) middles_.push_back(cast(scene_, {x + 0.5, y + 0.5}));
    if (std::any_of(middles_.begin(), middles_.end(), [](const Met& m) { return m.wall >= 0; })) scene_.met_some = true;
    std::uint8_t* out = image.rgb.data() + static_cast<std::ptrdiff_t>(3) * from * image.width;
    for (int y = from; y < to; ++y)
      for (int x = 0; x < image.width; ++x)
        for (const float part : pixel(x, y)) *out++ = static_cast<std::uint8_t>(std::lround(255 * part));
  }

 private:
  using Rgb = std::array<float, 3>;

  const Met& middle(int x, int y) const {
    return middles_[static_cast<std::size_t>(y - first_) * static_cast<std::size_t>(columns_) +
                    static_cast<std::size_t>(x + 1)];
  }
  // Metres across the line of sight that a pixel spans at a place.
  double pixel_width(const Met& met) const { return met.distance / scene_.camera.focal_px; }

  bool even(int x, int y) const {
    constexpr double kAslant = 0.35;  // cosine below which one sample would blur or glitter
    const Met& here = middle(x, y);
    if (here.wall >= 0 && here.facing < kAslant) return false;
    for (int dy = -1; dy <= 1; ++dy)
      for (int dx = -1; dx <= 1; ++dx) {
        const Met& there = middle(x + dx, y + dy);
        if (there.wall != here.wall || there.back != here.back) return false;
        if (here.wall >= 0 && std::abs(there.distance - here.distance) > 4 * pixel_width(here) / here.facing)
          return false;
      }
    return true;
  }

  Rgb pixel(int x, int y) {
    if (even(x, y)) return colour(middle(x, y), 1);
    const int n = scene_.options.rays;
    Rgb sum{};
    for (int j = 0; j < n; ++j)
      for (int i = 0; i < n; ++i) {
        const auto c = colour(cast(scene_, {x + (i + 0.5) / n, y + (j + 0.5) / n}), 1.0 / n);
        for (std::size_t k = 0; k < 3; ++k) sum[k] += c[k] / static_cast<float>(n * n);
      }
    return sum;
  }

  // `width`: of the sample, in pixels.
  Rgb colour(const Met& met, double width) {
    if (met.wall < 0) return kNothing;
    if (met.back) return shaded(kMasonry, met.facing);
    const auto wall = static_cast<std::size_t>(met.wall);
    auto out = shaded(kBare, met.facing);
    if (readers_[wall]) lay_over(out, met, width);
    return out;
  }

  void lay_over(Rgb& below, const Met& met, double width) {
    const auto k = static_cast<std::size_t>(met.wall);
    const ChartedWall& wall = *scene_.walls[k].wall;
    // In the chart, the mean of the sample's two principal widths.
    const auto g = wall.metric->first_form(met.point.triangle);
    const double scale = std::sqrt(std::sqrt(std::max(1e-6, g.E * g.G - g.F * g.F)));
    const double footprint = width * pixel_width(met) / std::sqrt(std::max(met.facing, 0.05)) / scale;
    const auto c = readers_[k]->at(wall.chart->address(met.point), footprint);
    for (std::size_t i = 0; i < 3; ++i) below[i] = std::min(1.0F, below[i] * (1 - c[3]) + c[i]);
  }

  Rgb shaded(const Rgb& colour, double facing) const {
    if (!scene_.options.shaded) return colour;
    const auto light = static_cast<float>(0.78 + 0.22 * facing);
    return {colour[0] * light, colour[1] * light, colour[2] * light};
  }

  Scene& scene_;
  int columns_ = 0, first_ = 0;
  std::vector<Met> middles_;  // of the band's pixels and of those about it
  std::vector<std::unique_ptr<DrapedColours::Reader>> readers_;
};

void cast_bands(Scene& scene, Image& image, Progress* progress) {
  constexpr int kRows = 24;
  const int bands = (image.height + kRows - 1) / kRows;
  std::atomic<int> next{0}, done{0};
  for_blocks(worker_count(), 1, [&](std::size_t, std::size_t) {
    BandCaster caster(scene);
    for (int b = next++; b < bands && !is_cancelled(progress); b = next++) {
      caster.band(b * kRows, std::min(image.height, (b + 1) * kRows), image);
      report(progress, static_cast<double>(++done) / bands, "looking from the eye");
    }
  });
}

}  // namespace

Result<Image> eye_view(std::span<const SeenWall> walls, const Camera& camera, PictureSize size,
                       const EyeViewOptions& options, Progress* progress) {
  if (walls.empty()) return Problem{"there are no walls to look at", kWhere, "Add a wall first."};
  if (size.width < 1 || size.height < 1 || 1.0 * size.width * size.height > kMostPixels)
    return Problem{"a view of that many pixels cannot be", kWhere, "Ask for up to 100 megapixels."};
  Scene scene{walls, {}, camera, size, options, {}};
  for (const auto& one : walls)
    scene.colours.push_back(one.draped ? std::make_unique<DrapedColours>(one.draped) : nullptr);
  Image image{size.width, size.height, {}};
  image.rgb.resize(static_cast<std::size_t>(3) * static_cast<std::size_t>(size.width) *
                   static_cast<std::size_t>(size.height));
  cast_bands(scene, image, progress);
  if (is_cancelled(progress)) return Problem{"stopped", "", ""};
  if (!scene.met_some) return Problem{"nothing of the walls is seen from there", kWhere, "Look another way."};
  return image;
}

}  // namespace pontata
