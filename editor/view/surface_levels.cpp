#include "editor/view/surface_levels.h"

#include <meshoptimizer.h>

#include <algorithm>
#include <cmath>
#include <memory>

namespace pontata {
namespace {

constexpr std::size_t kSmallestLevel = 3'000;  // triangles
constexpr double kShare = 1.0 / 3;             // of the triangles, from level to level
constexpr float kMostOfExtent = 0.05f;         // a level may lie this share of the wall's extent off
constexpr std::uint32_t kNoVertex = 0xffffffffu;

Vec3 widen(const std::array<float, 3>& a) { return {a[0], a[1], a[2]}; }
Vec2 widen(const std::array<float, 2>& a) { return {a[0], a[1]}; }

// Boxes and facing of a piece whose first and count are set.
void find_bounds(SurfacePiece& piece, const SurfaceDrawing& drawing) {
  piece.low = Vec3(1e300), piece.high = Vec3(-1e300);
  piece.chart_low = Vec2(1e300), piece.chart_high = Vec2(-1e300);
  const auto vertex = [&](std::uint32_t i) -> const SurfaceVertex& { return drawing.vertices[drawing.indices[i]]; };
  const auto facing_of = [&](std::uint32_t i) {
    const Vec3 a = widen(vertex(i).place);
    return glm::cross(widen(vertex(i + 1).place) - a, widen(vertex(i + 2).place) - a);
  };
  for (std::uint32_t i = piece.first; i < piece.first + piece.count; ++i) {
    const Vec3 place = widen(vertex(i).place);
    const Vec2 chart = widen(vertex(i).chart);
    piece.low = glm::min(piece.low, place), piece.high = glm::max(piece.high, place);
    piece.chart_low = glm::min(piece.chart_low, chart), piece.chart_high = glm::max(piece.chart_high, chart);
  }
  for (std::uint32_t i = piece.first; i < piece.first + piece.count; i += 3) piece.facing += facing_of(i);
  const double length = glm::length(piece.facing);
  if (length < 1e-12) return;
  piece.facing /= length;
  double least = 1;
  for (std::uint32_t i = piece.first; i < piece.first + piece.count; i += 3) {
    const Vec3 n = facing_of(i);
    if (const double l = glm::length(n); l > 0) least = std::min(least, glm::dot(n, piece.facing) / l);
  }
  if (least > 0.01) piece.turn = std::sqrt(1 - least * least);
}

// Appends one level to `out`: triangles near each other become a piece, in an order that suits the device; vertices
// follow in the order of their first use.
class LevelWriter {
 public:
  LevelWriter(const SurfaceDrawing& surface, SurfaceLevels& out)
      : surface_(surface),
        out_(out),
        written_(surface.vertices.size(), kNoVertex),
        local_(surface.vertices.size(), kNoVertex) {}

  void write(const std::vector<std::uint32_t>& indices) {
    std::fill(written_.begin(), written_.end(), kNoVertex);
    SurfaceLevel& level = out_.levels.emplace_back();
    level.triangles = indices.size() / 3;
    most_ = std::clamp<std::size_t>(level.triangles / 200, 600, 10'000);
    std::vector<Corners> triangles(level.triangles);
    for (std::size_t t = 0; t < triangles.size(); ++t) {
      Corners& c = triangles[t];
      for (std::size_t k = 0; k < 3; ++k) {
        c.vertices[k] = indices[3 * t + k];
        for (std::size_t axis = 0; axis < 3; ++axis) c.sum[axis] += surface_.vertices[c.vertices[k]].place[axis];
      }
    }
    split(triangles, level);
  }

 private:
  struct Corners {
    std::array<std::uint32_t, 3> vertices{};
    std::array<float, 3> sum{};  // of their places
  };

  // Halves across the longest side until a piece is small enough, so that every piece is compact.
  void split(std::span<Corners> triangles, SurfaceLevel& level) {
    if (triangles.size() <= most_) {
      level.pieces.push_back(write_piece(triangles));
      return;
    }
    std::array<float, 3> low = triangles.front().sum, high = low;
    for (const Corners& c : triangles)
      for (std::size_t k = 0; k < 3; ++k) low[k] = std::min(low[k], c.sum[k]), high[k] = std::max(high[k], c.sum[k]);
    std::size_t axis = 0;
    for (std::size_t k = 1; k < 3; ++k)
      if (high[k] - low[k] > high[axis] - low[axis]) axis = k;
    const std::size_t half = triangles.size() / 2;
    std::nth_element(triangles.begin(), triangles.begin() + static_cast<std::ptrdiff_t>(half), triangles.end(),
                     [axis](const Corners& a, const Corners& b) { return a.sum[axis] < b.sum[axis]; });
    split(triangles.first(half), level);
    split(triangles.subspan(half), level);
  }

  SurfacePiece write_piece(std::span<const Corners> triangles) {
    names_.clear();
    order_.clear();
    for (const Corners& triangle : triangles)
      for (const std::uint32_t v : triangle.vertices) {
        if (local_[v] == kNoVertex) local_[v] = static_cast<std::uint32_t>(names_.size()), names_.push_back(v);
        order_.push_back(local_[v]);
      }
    for (const std::uint32_t v : names_) local_[v] = kNoVertex;
    meshopt_optimizeVertexCache(order_.data(), order_.data(), order_.size(), names_.size());
    SurfacePiece piece;
    piece.first = static_cast<std::uint32_t>(out_.drawing.indices.size());
    piece.count = static_cast<std::uint32_t>(order_.size());
    for (const std::uint32_t i : order_) {
      std::uint32_t& name = written_[names_[i]];
      if (name == kNoVertex) {
        name = static_cast<std::uint32_t>(out_.drawing.vertices.size());
        out_.drawing.vertices.push_back(surface_.vertices[names_[i]]);
      }
      out_.drawing.indices.push_back(name);
    }
    find_bounds(piece, out_.drawing);
    return piece;
  }

  const SurfaceDrawing& surface_;
  SurfaceLevels& out_;
  std::size_t most_ = 0;  // triangles in a piece
  std::vector<std::uint32_t> written_, local_, names_, order_;
};

// How far places of the true surface are from the last level written: in space, and their chart places from those drawn
// there. Of some thousand vertices, the distance that 99 in 100 keep within, and all within three times.
double distance_to_last(const SurfaceLevels& levels, std::uint32_t first_vertex, const SurfaceDrawing& surface) {
  constexpr std::size_t kPlaces = 6'000;
  const SurfaceDrawing& all = levels.drawing;
  auto mesh = std::make_shared<SurfaceMesh>();
  for (std::size_t i = first_vertex; i < all.vertices.size(); ++i) mesh->points.push_back(widen(all.vertices[i].place));
  for (std::size_t i = levels.levels.back().pieces.front().first; i < all.indices.size(); i += 3)
    mesh->triangles.push_back(
        {all.indices[i] - first_vertex, all.indices[i + 1] - first_vertex, all.indices[i + 2] - first_vertex});
  const PickTree tree(mesh);
  std::vector<double> off;
  const std::size_t stride = std::max<std::size_t>(1, surface.vertices.size() / kPlaces);
  for (std::size_t i = 0; i < surface.vertices.size(); i += stride) {
    const SurfaceVertex& place = surface.vertices[i];
    const NearestHit hit = tree.nearest(widen(place.place));
    Vec2 chart{0, 0};
    for (int k = 0; k < 3; ++k)
      chart +=
          hit.point.weights[k] *
          widen(all.vertices[mesh->triangles[hit.point.triangle][static_cast<std::size_t>(k)] + first_vertex].chart);
    off.push_back(std::max(hit.distance, glm::length(chart - widen(place.chart))));
  }
  const auto at = off.begin() + static_cast<std::ptrdiff_t>(off.size() * 99 / 100);
  std::nth_element(off.begin(), at, off.end());
  return std::max(*at, *std::max_element(at, off.end()) / 3);
}

}  // namespace

SurfaceLevels one_level(SurfaceDrawing surface) {
  SurfaceLevels out;
  out.drawing = std::move(surface);
  SurfaceLevel& level = out.levels.emplace_back();
  level.triangles = out.drawing.indices.size() / 3;
  if (level.triangles == 0) return out;
  SurfacePiece& piece = level.pieces.emplace_back();
  piece.count = static_cast<std::uint32_t>(out.drawing.indices.size());
  find_bounds(piece, out.drawing);
  return out;
}

SurfaceLevels make_levels(const SurfaceDrawing& surface, const std::atomic<bool>& stop) {
  if (surface.indices.size() < 3 * kFewTriangles) return one_level(surface);
  SurfaceLevels out;
  out.drawing.origin = surface.origin;
  out.drawing.vertices.reserve(surface.vertices.size() * 3 / 2);
  out.drawing.indices.reserve(surface.indices.size() * 3 / 2);
  LevelWriter writer(surface, out);
  writer.write(surface.indices);
  const float* places = surface.vertices[0].place.data();
  std::vector<std::uint32_t> indices = surface.indices;
  while (!stop && indices.size() > 3 * kSmallestLevel) {
    const std::size_t wanted = static_cast<std::size_t>(static_cast<double>(indices.size() / 3) * kShare) * 3;
    const std::size_t count =
        meshopt_simplify(indices.data(), indices.data(), indices.size(), places, surface.vertices.size(),
                         sizeof(SurfaceVertex), wanted, kMostOfExtent, 0, nullptr);
    if (count > indices.size() * 3 / 4 || count == 0) break;
    indices.resize(count);
    const auto first_vertex = static_cast<std::uint32_t>(out.drawing.vertices.size());
    writer.write(indices);
    const double finer = out.levels[out.levels.size() - 2].error;
    out.levels.back().error = std::max(finer, distance_to_last(out, first_vertex, surface));
  }
  return out;
}

}  // namespace pontata
