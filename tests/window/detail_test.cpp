// Levels of detail: what they promise of the surface, which one is drawn, and how the picture looks.
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <numbers>
#include <set>

#include "editor/view/gl_objects.h"
#include "editor/view/offscreen.h"
#include "editor/view/wall_scene.h"
#include "tests/fixtures/pictures.h"
#include "tests/fixtures/scans.h"

using namespace pontata;

namespace {

constexpr double kPi = std::numbers::pi;

// A barrel of 4 x 6 m with bumps of some millimetres, 320 x 320 squares.
WallRef bumpy_vault() {
  constexpr int kSquares = 320;
  const fixtures::Sheet sheet = fixtures::grid_sheet(kSquares, kSquares, [](double s, double t) {
    const double r = 2 - 0.004 * std::sin(50 * s) * std::sin(40 * t) - 0.001 * std::sin(300 * s + 100 * t);
    return Vec3{6 * s, r * std::cos(kPi * t), r * std::sin(kPi * t)};
  });
  auto mesh = std::make_shared<SurfaceMesh>();
  mesh->points = sheet.points;
  mesh->triangles = mesh->corner_normals = sheet.triangles;
  mesh->normals.assign(sheet.points.size(), {0, 0, 0});
  const auto& p = mesh->points;
  for (const Triangle& t : mesh->triangles)
    for (const auto corner : t) mesh->normals[corner] += glm::cross(p[t[1]] - p[t[0]], p[t[2]] - p[t[0]]);
  for (Vec3& n : mesh->normals) n = glm::normalize(n);
  std::vector<Vec2> addresses;
  for (int j = 0; j <= kSquares; ++j)
    for (int i = 0; i <= kSquares; ++i) addresses.push_back({6.0 * i / kSquares, 2 * kPi * j / kSquares});
  const auto wall = chart_wall(mesh, addresses, "bumpy", false);
  REQUIRE(wall);
  return *wall;
}
const WallRef& vault() {
  static const WallRef wall = bumpy_vault();
  return wall;
}
const SurfaceLevels& levels() {
  static const SurfaceLevels made = make_levels(draw_surface(*vault()), false);
  return made;
}

Vec3 widen(const std::array<float, 3>& a) { return {a[0], a[1], a[2]}; }
std::span<const std::uint32_t> indices_of(const SurfaceLevel& level) {
  return std::span(levels().drawing.indices).subspan(level.pieces.front().first, 3 * level.triangles);
}
const SurfaceVertex& vertex(std::uint32_t index) { return levels().drawing.vertices[index]; }

ViewFrame inside_view(double yaw, double pitch) {
  ViewFrame frame;
  frame.width = 400;
  frame.height = 300;
  frame.space.eye = {3, 0.1, 0.8};
  frame.space.yaw = yaw;
  frame.space.pitch = pitch;
  frame.space.enclose({3, 0, 1}, 4);
  return frame;
}

}  // namespace

TEST_CASE("levels: a third of the triangles each, at places of the true surface, all of it, without a crack") {
  REQUIRE(levels().levels.size() >= 4);
  CHECK(levels().levels.front().triangles == vault()->mesh().triangles.size());
  CHECK(levels().levels.front().error == 0);
  std::set<std::array<float, 3>> places;
  for (const SurfaceVertex& v : draw_surface(*vault()).vertices) places.insert(v.place);
  const ChartBox box = vault()->chart->box();
  for (std::size_t k = 0; k < levels().levels.size(); ++k) {
    const SurfaceLevel& level = levels().levels[k];
    if (k > 0) CHECK(level.triangles <= 0.4 * static_cast<double>(levels().levels[k - 1].triangles));
    std::map<std::pair<std::array<float, 3>, std::array<float, 3>>, int> edges;
    double chart_area = 0;
    const auto indices = indices_of(level);
    for (std::size_t i = 0; i < indices.size(); i += 3) {
      for (std::size_t c = 0; c < 3; ++c) {
        const auto &a = vertex(indices[i + c]), &b = vertex(indices[i + (c + 1) % 3]);
        ++edges[std::minmax(a.place, b.place)];
      }
      const auto &a = vertex(indices[i]).chart, &b = vertex(indices[i + 1]).chart, &c = vertex(indices[i + 2]).chart;
      chart_area +=
          0.5 * ((double{b[0]} - a[0]) * (double{c[1]} - a[1]) - (double{b[1]} - a[1]) * (double{c[0]} - a[0]));
      CHECK(places.contains(vertex(indices[i]).place));
    }
    // An edge without a partner is the wall's end: at x = 0 or 6, or at a springing (z = 0).
    std::size_t open = 0;
    for (const auto& [edge, count] : edges) {
      if (count % 2 == 0) continue;
      const Vec3 a = widen(edge.first) + levels().drawing.origin, b = widen(edge.second) + levels().drawing.origin;
      const auto both = [&](auto holds) { return holds(a) && holds(b); };
      open += !(both([](const Vec3& p) { return p.x < 1e-4; }) || both([](const Vec3& p) { return p.x > 6 - 1e-4; }) ||
                both([](const Vec3& p) { return p.z < 1e-4; }));
    }
    CHECK(open == 0);
    CHECK(chart_area == Approx(box.width * box.height).epsilon(1e-4));
  }
}

TEST_CASE("levels: the stated error is what it says, in space and in the chart") {
  for (std::size_t k = 1; k < levels().levels.size(); ++k) {
    const SurfaceLevel& level = levels().levels[k];
    auto mesh = std::make_shared<SurfaceMesh>();
    const auto indices = indices_of(level);
    for (std::size_t i = 0; i < indices.size(); i += 3) {
      const auto first = static_cast<std::uint32_t>(mesh->points.size());
      for (std::size_t c = 0; c < 3; ++c) mesh->points.push_back(widen(vertex(indices[i + c]).place));
      mesh->triangles.push_back({first, first + 1, first + 2});
    }
    const PickTree tree(mesh);
    std::vector<double> off;
    const auto& points = vault()->mesh().points;
    for (std::size_t i = 0; i < points.size(); i += 37)
      off.push_back(tree.nearest(points[i] - levels().drawing.origin).distance);
    std::sort(off.begin(), off.end());
    INFO(level.triangles << " triangles, stated " << level.error << ", greatest " << off.back());
    CHECK(off[off.size() * 98 / 100] <= level.error);
    CHECK(off.back() <= 4 * level.error);
    CHECK(level.error < 0.06);
  }
}

TEST_CASE("pieces: nothing that is in view is left out, nor what shows its painted side") {
  fixtures::Dice dice(7);
  for (int n = 0; n < 40; ++n) {
    ViewFrame frame = inside_view(dice.between(-3, 3), dice.between(-1.4, 1.4));
    frame.space.eye = {dice.between(-2, 8), dice.between(-3, 3), dice.between(-1, 4)};
    frame.space.enclose({3, 0, 1}, 4);
    const ViewSight sight(frame, levels().drawing.origin);
    for (const SurfaceLevel& level : levels().levels)
      for (const SurfacePiece& piece : level.pieces) {
        bool seen = false, painted = false, back = false;
        for (std::uint32_t i = piece.first; i < piece.first + piece.count; i += 3) {
          const auto place = [&](std::uint32_t j) { return widen(vertex(levels().drawing.indices[j]).place); };
          const auto px = frame.space.to_px(place(i) + levels().drawing.origin, frame.size());
          seen |= px && px->x >= 0 && px->y >= 0 && px->x <= frame.width && px->y <= frame.height;
          const double toward = glm::dot(glm::cross(place(i + 1) - place(i), place(i + 2) - place(i)),
                                         frame.space.eye - levels().drawing.origin - place(i));
          painted |= toward > 0;
          back |= toward < 0;
        }
        if (seen && !sight.in_view(piece)) FAIL("a piece in view is left out");
        if (painted && sight.side(piece) == ViewSight::Side::back) FAIL("a painted side is left out");
        if (back && sight.side(piece) == ViewSight::Side::painted) FAIL("a back is left out");
      }
  }
}

TEST_CASE("the level drawn is true to the wanted part of a pixel, coarser only for the budget's sake") {
  const ViewSight sight(inside_view(0.3, 0.5), levels().drawing.origin);
  const SeenSurface seen{levels().levels, sight};
  const auto level = [&](Detail detail) { return choose_levels(std::span(&seen, 1), detail).level[0]; };
  CHECK(level({}) == 0);
  const double metre_px = nearest_metre_px(levels().levels[0], sight);
  for (const double px : {0.1, 0.7, 2.0, 4.0}) {
    const std::size_t k = level({.error_px = px});
    CHECK(levels().levels[k].error * metre_px <= px);
    if (k + 1 < levels().levels.size()) CHECK(levels().levels[k + 1].error * metre_px > px);
  }
  CHECK(level({.error_px = 0.7, .most_triangles = 500}) > level({.error_px = 0.7}));
  CHECK(choose_levels(std::span(&seen, 1), {.error_px = 0.7, .most_triangles = 1}).error_px <= kCoarsestPx);
}

TEST_CASE("the triangle budget settles where a frame takes its time, on slow and fast devices") {
  for (const double per_triangle : {1e-9, 1e-7, 4e-7}) {
    DetailBudget budget;
    double frame = 0;
    for (int i = 0; i < 60; ++i) {
      const auto drawn = std::min<std::size_t>(budget.most_triangles(), 5'000'000);
      frame = 0.005 + per_triangle * static_cast<double>(drawn);
      budget.took(frame, drawn);
    }
    INFO(per_triangle << " s a triangle: " << frame << " s a frame");
    CHECK(frame < 0.041);
    if (per_triangle == 1e-9) CHECK(budget.most_triangles() >= 5'000'000);
  }
}

TEST_CASE("fewer line pieces: true to the tolerance, joined end to end, separate lines kept apart") {
  LinePieces pieces;
  const auto add = [&](Vec3 a, Vec3 b) {
    LinePiece piece{};
    for (int k = 0; k < 3; ++k) {
      piece.from_place[static_cast<std::size_t>(k)] = static_cast<float>(a[k]);
      piece.to_place[static_cast<std::size_t>(k)] = static_cast<float>(b[k]);
    }
    pieces.push_back(piece);
  };
  const auto on_circle = [](int i) { return Vec3{std::cos(0.01 * i), std::sin(0.01 * i), 0}; };
  for (int i = 0; i < 100; ++i) add(on_circle(i), on_circle(i + 1));
  add({5, 0, 0}, {6, 0, 0});
  const LinePieces fewer = merged(pieces, 0.002);
  REQUIRE(fewer.size() < 20);
  REQUIRE(fewer.size() > 5);  // a chord of an arc of radius 1 that sags 2 mm is 126 mm long: at least 8 of them
  CHECK(fewer.front().from_place == pieces.front().from_place);
  CHECK(fewer.back().from_place == pieces.back().from_place);
  for (std::size_t i = 0; i + 2 < fewer.size(); ++i) {
    CHECK(fewer[i].to_place == fewer[i + 1].from_place);
    const Vec3 middle = 0.5 * (widen(fewer[i].from_place) + widen(fewer[i].to_place));
    CHECK(glm::length(middle) > 1 - 0.0021);
  }
  CHECK(merged(pieces, 0).size() >= 100);
}

namespace {

class Studio {
 public:
  Studio() : context_(*OffscreenContext::make()), scene_(make_gl_renderer(), [] {}) {
    auto item = std::make_shared<WallItem>();
    item->id = WallId{1};
    item->wall = vault();
    item->network = Network::from_border(vault()->chart->border_rings(), vault()->metric->meter()).value();
    auto image = std::make_shared<Image>(Image{600, 600, {}});
    for (int y = 0; y < 600; ++y)
      for (int x = 0; x < 600; ++x)
        for (const int c : {40 + x / 4, 60 + y / 4, (x / 30 + y / 30) % 2 ? 180 : 90})
          image->rgb.push_back(static_cast<std::uint8_t>(c));
    item->pictures = {fixtures::placed(*image, PictureFrame{.at = {0, 0}, .width = 6.3, .height = 6.3})};
    auto document = std::make_shared<Document>();
    document->walls = {item};
    scene_.show(document->walls, document, WallId{1}, {});
    scene_.finish_made();
  }
  // RGB, lower row first.
  std::vector<std::uint8_t> picture(ViewFrame frame, double error_px) {
    frame.detail.error_px = error_px;
    target_.resize(frame.width, frame.height);
    target_.bind();
    scene_.clear();
    drawn = scene_.draw(frame);
    std::vector<std::uint8_t> rgb(static_cast<std::size_t>(frame.width * frame.height) * 3);
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glReadPixels(0, 0, frame.width, frame.height, GL_RGB, GL_UNSIGNED_BYTE, rgb.data());
    return rgb;
  }
  DrawnFrame drawn;

 private:
  std::unique_ptr<OffscreenContext> context_;
  WallScene scene_;
  DrawTarget target_;
};

double mean_difference(const std::vector<std::uint8_t>& a, const std::vector<std::uint8_t>& b) {
  double sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += std::abs(int{a[i]} - int{b[i]});
  return sum / static_cast<double>(a.size());
}

}  // namespace

TEST_CASE("with less detail the picture hardly differs, and no hole shows the ground") {
  Studio studio;
  for (const auto& [yaw, pitch] : {std::pair{0.2, 1.3}, {2.0, 0.9}, {-1.0, 1.2}}) {
    const ViewFrame frame = inside_view(yaw, pitch);
    const auto full = studio.picture(frame, 0);
    CHECK(studio.drawn.true_surface);
    for (const double error_px : {kUnseenPx, kCoarsestPx}) {
      const auto reduced = studio.picture(frame, error_px);
      CHECK_FALSE(studio.drawn.true_surface);
      CHECK(mean_difference(full, reduced) < (error_px < 1 ? 1.5 : 3.5));  // of 255
      std::size_t ground = 0;
      for (std::size_t i = 0; i < reduced.size(); i += 3)
        ground += reduced[i] == 224 && reduced[i + 1] == 220 && reduced[i + 2] == 211;
      CHECK(ground == 0);  // from here the vault fills the view
    }
  }
  // From outside some of the ground is seen, and the silhouette stays where it is.
  ViewFrame outside = inside_view(0, 0);
  outside.space = first_view(*vault(), outside.size());
  const auto full = studio.picture(outside, 0), reduced = studio.picture(outside, kUnseenPx);
  CHECK(mean_difference(full, reduced) < 1.5);
}
