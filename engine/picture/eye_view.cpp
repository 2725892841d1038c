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

struct Met {
  std::size_t wall = 0;
  RayHit hit;
};

// The scene, shared by all threads.
struct Scene {
  std::span<const SeenWall> walls;
  std::vector<std::unique_ptr<DrapedColours>> colours;  // per wall; null: bare
  const Camera& camera;
  EyeViewOptions options;
  std::atomic<bool> met_some{false};
};

std::optional<Met> nearest(const Scene& scene, const Vec3& direction) {
  std::optional<Met> met;
  for (std::size_t k = 0; k < scene.walls.size(); ++k) {
    const auto hit = scene.walls[k].wall->pick.cast(scene.camera.eye, direction, met ? met->hit.distance : 1e9);
    if (hit && (!met || hit->distance < met->hit.distance)) met = Met{k, *hit};
  }
  return met;
}

// Casts the rays of rows of pixels; one a thread.
class RowCaster {
 public:
  explicit RowCaster(Scene& scene) : scene_(scene) {
    for (const auto& one : scene.colours)
      readers_.push_back(one ? std::make_unique<DrapedColours::Reader>(*one) : nullptr);
  }

  std::array<float, 3> pixel(int x, int y) {
    const int n = scene_.options.rays;
    std::array<float, 3> sum{};
    for (int j = 0; j < n; ++j)
      for (int i = 0; i < n; ++i) {
        const auto c = ray({x + (i + 0.5) / n, y + (j + 0.5) / n});
        for (std::size_t k = 0; k < 3; ++k) sum[k] += c[k] / static_cast<float>(n * n);
      }
    return sum;
  }

 private:
  std::array<float, 3> ray(Vec2 pixel) {
    const auto direction = sight_line(scene_.camera, pixel);
    const auto met = direction ? nearest(scene_, *direction) : std::nullopt;
    if (!met) return kNothing;
    if (!scene_.met_some.load(std::memory_order_relaxed)) scene_.met_some = true;
    const SurfaceMesh& mesh = scene_.walls[met->wall].wall->mesh();
    const double facing = -glm::dot(*direction, facet_normal(mesh, met->hit.point.triangle));
    if (facing <= 0) return shaded(kMasonry, -facing);
    auto out = shaded(kBare, -glm::dot(*direction, normal(mesh, met->hit.point)));
    if (readers_[met->wall]) lay_over(out, *met, facing);
    return out;
  }

  void lay_over(std::array<float, 3>& below, const Met& met, double facing) {
    const ChartedWall& wall = *scene_.walls[met.wall].wall;
    // Width of a ray in the chart: the mean of its two principal widths.
    const double across = met.hit.distance / (scene_.camera.focal_px * scene_.options.rays);
    const auto g = wall.metric->first_form(met.hit.point.triangle);
    const double footprint =
        across / std::sqrt(std::max(facing, 0.05) * std::sqrt(std::max(1e-6, g.E * g.G - g.F * g.F)));
    const auto c = readers_[met.wall]->at(wall.chart->address(met.hit.point), footprint);
    for (std::size_t k = 0; k < 3; ++k) below[k] = below[k] * (1 - c[3]) + c[k];
  }

  std::array<float, 3> shaded(const std::array<float, 3>& colour, double facing) const {
    if (!scene_.options.shaded) return colour;
    const auto light = static_cast<float>(0.78 + 0.22 * std::clamp(facing, 0.0, 1.0));
    return {colour[0] * light, colour[1] * light, colour[2] * light};
  }

  static Vec3 facet_normal(const SurfaceMesh& mesh, std::uint32_t t) {
    const auto& c = mesh.triangles[t];
    return glm::normalize(glm::cross(mesh.points[c[1]] - mesh.points[c[0]], mesh.points[c[2]] - mesh.points[c[0]]));
  }

  Scene& scene_;
  std::vector<std::unique_ptr<DrapedColours::Reader>> readers_;
};

void cast_rows(Scene& scene, Image& image, Progress* progress) {
  std::atomic<int> next{0}, done{0};
  for_blocks(worker_count(), 1, [&](std::size_t, std::size_t) {
    RowCaster caster(scene);
    for (int y = next++; y < image.height && !is_cancelled(progress); y = next++) {
      std::uint8_t* out = image.rgb.data() + static_cast<std::ptrdiff_t>(3) * y * image.width;
      for (int x = 0; x < image.width; ++x)
        for (const float part : caster.pixel(x, y)) *out++ = static_cast<std::uint8_t>(std::lround(255 * part));
      report(progress, static_cast<double>(++done) / image.height, "looking from the eye");
    }
  });
}

}  // namespace

Result<Image> eye_view(std::span<const SeenWall> walls, const Camera& camera, PictureSize size,
                       const EyeViewOptions& options, Progress* progress) {
  if (walls.empty()) return Problem{"there are no walls to look at", kWhere, "Add a wall first."};
  if (size.width < 1 || size.height < 1 || 1.0 * size.width * size.height > kMostPixels)
    return Problem{"a view of that many pixels cannot be", kWhere, "Ask for up to 100 megapixels."};
  Scene scene{walls, {}, camera, options, {}};
  for (const auto& one : walls)
    scene.colours.push_back(one.draped ? std::make_unique<DrapedColours>(one.draped) : nullptr);
  Image image{size.width, size.height, {}};
  image.rgb.resize(static_cast<std::size_t>(3) * static_cast<std::size_t>(size.width) *
                   static_cast<std::size_t>(size.height));
  cast_rows(scene, image, progress);
  if (is_cancelled(progress)) return Problem{"stopped", "", ""};
  if (!scene.met_some) return Problem{"nothing of the walls is seen from there", kWhere, "Look another way."};
  return image;
}

}  // namespace pontata
